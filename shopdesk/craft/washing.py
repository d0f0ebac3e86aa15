"""What an item needs of washing against what its yarn stands, and what will happen otherwise."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

from shopdesk.craft.behaviour import Level, Traits
from shopdesk.craft.care import is_gentler_or_same, text_code
from shopdesk.craft.items import is_in
from shopdesk.craft.messages import Message, message
from shopdesk.craft.yarn import CareLabel
from shopdesk.reference.tables import table

_MACHINE = frozenset({"very mild", "mild", "normal"})


@dataclass(frozen=True, slots=True)
class _Need:
    """The treatment the household will give; all None where nothing is known of it."""

    wash_c: int | None = None
    wash_action: str | None = None
    dry_clean: str | None = None


@lru_cache(maxsize=8192)
def wash_differences(
    care: CareLabel | None,
    washing: str,
    drying: str,
    wearer: str,
    item: str,
    traits: Traits | None,
) -> tuple[Message, ...]:
    """Returns every way in which the yarn does not stand what the item will get, and what happens.

    `washing`, `drying`, `wearer` and `item` are the words of the ask. Where the washing is not
    known, the things of babies and children, bibs, toys and blankets are taken to be washed
    often, in the machine at 40 degrees (common practice); otherwise nothing is compared.
    """
    known = care or CareLabel()
    often = washing == "unknown" and is_in("washed often", item, wearer)
    need = _need("often" if often else washing)
    felts = traits.felts if traits else None
    differences = [
        *_water_differences(known, need, felts),
        *_dry_clean_differences(known, need),
        *_drying_differences(known, drying, felts),
        *_wet_strength(need, drying, traits),
    ]
    if often and differences and need.wash_c is not None:
        differences.insert(0, message("washing.often", need_c=need.wash_c))
    return tuple(differences)


_SHOWS_IN_ANY_STRAND = ("sheds", "prickles", "felts", "weak_wet")


@lru_cache(maxsize=4096)
def any_of(strands: tuple[Traits, ...]) -> Traits:
    """Returns what washing and wearer get of strands held together: the strongest of each trait.

    Only shedding, prickle, felting and weakness when wet are told; what is unknown of one strand
    is unknown of all, unless another strand surely shows it (common practice).
    """
    return Traits(**{t: _strongest([getattr(s, t) for s in strands]) for t in _SHOWS_IN_ANY_STRAND})


def _strongest(levels: Sequence[Level | None]) -> Level | None:
    if Level.YES in levels:
        return Level.YES
    if not levels or None in levels:
        return None
    return Level.SOME if Level.SOME in levels else Level.NO


def _need(washing: str) -> _Need:
    row = next((r for r in table("wash_programmes") if r["programme"] == washing), None)
    if row is None:
        return _Need()
    wash_c = int(row["wash_c"]) if row["wash_c"] else None
    return _Need(wash_c, row["wash_action"] or None, row["dry_clean"] or None)


def _water_differences(care: CareLabel, need: _Need, felts: Level | None) -> list[Message]:
    if need.wash_c is None:
        return []
    if care.wash_action == "do not wash":
        return [message("washing.must_not_be_washed")]
    if care.wash_action is None and care.wash_c is None:
        return [message("washing.not_known")]
    if need.wash_action == "hand":
        return []
    if care.wash_action == "hand":
        return [_machine_harm(felts)]
    return [*_action_differences(care, need, felts), *_heat_differences(care, need.wash_c)]


def _action_differences(care: CareLabel, need: _Need, felts: Level | None) -> list[Message]:
    if care.wash_action is None or need.wash_action is None:
        return [message("washing.machine_not_known")]
    if is_gentler_or_same("wash_action", need.wash_action, care.wash_action):
        return []
    term = text_code("wash_action", care.wash_action)
    if felts is Level.YES:
        return [message("washing.felts_when_rougher", action_term=term)]
    if felts is Level.SOME:
        return [message("washing.may_felt_when_rougher", action_term=term)]
    return [message("washing.gentler_programme", action_term=term)]


def _machine_harm(felts: Level | None) -> Message:
    if felts is Level.YES:
        return message("washing.felts_in_machine")
    return message("washing.may_felt_in_machine" if felts is Level.SOME else "washing.hand_only")


def _heat_differences(care: CareLabel, need_c: int) -> list[Message]:
    if care.wash_c is None:
        return [message("washing.heat_not_known", need_c=need_c)]
    if care.wash_c >= need_c:
        return []
    return [message("washing.too_hot", need_c=need_c, stands_c=care.wash_c)]


def _dry_clean_differences(care: CareLabel, need: _Need) -> list[Message]:
    if need.dry_clean is None:
        return []
    if care.dry_clean is None:
        return [message("washing.dry_clean_not_known")]
    return [message("washing.no_dry_clean")] if care.dry_clean == "none" else []


def _drying_differences(care: CareLabel, drying: str, felts: Level | None) -> list[Message]:
    if drying == "tumble":
        return _tumble_differences(care, felts)
    if drying != "line":
        return []
    if care.natural_drying is None:
        return [message("washing.line_not_known")]
    said = [message("washing.dry_flat")] if care.natural_drying.startswith("flat") else []
    if care.natural_drying.endswith("in shade"):
        said.append(message("washing.out_of_the_sun"))
    return said


def _tumble_differences(care: CareLabel, felts: Level | None) -> list[Message]:
    if care.tumble is None:
        return [message("washing.tumble_not_known")]
    if care.tumble == "none":
        return [message("washing.felts_in_dryer" if felts is Level.YES else "washing.no_tumble")]
    return [message("washing.tumble_low")] if care.tumble == "low" else []


def _wet_strength(need: _Need, drying: str, traits: Traits | None) -> list[Message]:
    rough = need.wash_action in _MACHINE or drying == "line"
    weak = traits is not None and traits.weak_wet is Level.YES
    return [message("washing.weak_when_wet")] if rough and weak else []


def care_changes(original: CareLabel | None, substitute: CareLabel | None) -> tuple[Message, ...]:
    """Returns what changes in washing when this yarn takes the place of the designer's.

    Only axes that are known of the designer's yarn are compared.
    """
    if original is None or original == CareLabel():
        return ()
    now = substitute or CareLabel()
    changes = [
        *_wash_changes(original, now),
        *_drying_changes(original, now),
        *_plain_changes(original, now),
    ]
    axes = ("wash_c", "wash_action", "tumble", "natural_drying", "iron_c", "dry_clean")
    lost = [a for a in axes if getattr(original, a) is not None and getattr(now, a) is None]
    if now.wash_action in ("do not wash", "hand"):
        lost = [axis for axis in lost if axis != "wash_c"]
    if lost:
        terms = tuple(f"care.axis_{axis}" for axis in lost)
        changes.append(message("washing.no_longer_known", axis_terms=terms))
    return tuple(changes)


def _wash_changes(was: CareLabel, now: CareLabel) -> list[Message]:
    if was.wash_action is None or now.wash_action is None:
        return _heat_changes(was, now)
    if was.wash_action == now.wash_action:
        return [] if now.wash_action in ("do not wash", "hand") else _heat_changes(was, now)
    if now.wash_action == "do not wash":
        return [message("washing.now_no_washing")]
    if now.wash_action == "hand":
        by_machine = was.wash_action in _MACHINE
        return [message("washing.now_by_hand" if by_machine else "washing.now_washable_by_hand")]
    term = text_code("wash_action", now.wash_action)
    if was.wash_action not in _MACHINE:
        return [message("washing.now_in_machine", action_term=term)]
    gentler = is_gentler_or_same("wash_action", now.wash_action, was.wash_action)
    programme = message(
        "washing.now_gentler" if gentler else "washing.now_rougher", action_term=term
    )
    return [programme, *_heat_changes(was, now)]


def _heat_changes(was: CareLabel, now: CareLabel) -> list[Message]:
    if was.wash_c is None or now.wash_c is None or was.wash_c == now.wash_c:
        return []
    cooler = now.wash_c < was.wash_c
    return [
        message(
            "washing.now_cooler" if cooler else "washing.now_warmer",
            was_c=was.wash_c,
            now_c=now.wash_c,
        )
    ]


def _drying_changes(was: CareLabel, now: CareLabel) -> list[Message]:
    said = []
    if was.tumble is not None and now.tumble is not None and was.tumble != now.tumble:
        if now.tumble == "none":
            said.append(message("washing.now_no_tumble"))
        elif was.tumble == "none":
            said.append(message("washing.now_tumble"))
        else:
            low = now.tumble == "low"
            said.append(message("washing.now_tumble_low" if low else "washing.now_tumble_normal"))
    was_flat, now_flat = _is_flat(was), _is_flat(now)
    if was_flat is not None and now_flat is not None and was_flat != now_flat:
        said.append(message("washing.now_flat" if now_flat else "washing.now_hung"))
    return said


def _is_flat(care: CareLabel) -> bool | None:
    return None if care.natural_drying is None else care.natural_drying.startswith("flat")


def _plain_changes(was: CareLabel, now: CareLabel) -> list[Message]:
    said = []
    if was.iron_c is not None and now.iron_c is not None and was.iron_c != now.iron_c:
        said.append(_iron_change(was.iron_c, now.iron_c))
    if was.dry_clean is not None and now.dry_clean is not None and was.dry_clean != now.dry_clean:
        if now.dry_clean == "none":
            said.append(message("washing.now_no_dry_clean"))
        elif was.dry_clean == "none":
            said.append(message("washing.now_dry_clean"))
    return said


def _iron_change(was_c: int, now_c: int) -> Message:
    if now_c == 0:
        return message("washing.now_no_iron")
    if was_c == 0:
        return message("washing.now_iron", now_c=now_c)
    return message(
        "washing.now_iron_cooler" if now_c < was_c else "washing.now_iron_hotter",
        was_c=was_c,
        now_c=now_c,
    )
