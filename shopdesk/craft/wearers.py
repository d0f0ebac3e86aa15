"""Who an item is for: as staff said, or what size, age, measurements and words tell.

What staff said always wins. What is taken from something says from what; where nothing tells,
the wearer stays unknown. Ranges: reference/wearer_ranges.csv.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import NamedTuple

from shopdesk.craft.items import Measurements, members, only_member
from shopdesk.craft.messages import Message, MessageValue, message, term_code
from shopdesk.craft.wearer_names import Named, is_baby_weight, read_person, read_size
from shopdesk.reference.tables import table

UNKNOWN = "unknown"
ADULT = "adult"
CHILD = "child"
GIFT = "gift"
BABY = only_member("baby", "wearer")
_OPEN = frozenset({UNKNOWN, GIFT})
"""Said of who gets it, if at all, and not how old that is."""


@dataclass(frozen=True, slots=True)
class WearerClues:
    """What an ask says that a wearer may follow from; `size` is the chosen one's name."""

    item: str
    measurements: Measurements
    nightwear: bool = False
    size: str | None = None
    sizes: tuple[str, ...] = ()
    title: str = ""
    weight_names: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class FollowedWearer:
    """Who it is for, in the words of the ask, and what that was taken from; None: as staff said.

    `under_three` means a baby or toddler. `may_be_a_baby` means that it must be asked, and that
    what holds for a baby is told as 'if it is for a baby'.
    """

    wearer: str
    taken_from: Message | None = None
    under_three: bool = False
    may_be_a_baby: bool = False


class _Told(NamedTuple):
    """What one clue tells; `code` and `values` say which it was."""

    wearer: str
    under_three: bool
    may_be_a_baby: bool
    code: str
    values: dict[str, MessageValue]


@lru_cache(maxsize=1024)
def follow_wearer(said: str, clues: WearerClues) -> FollowedWearer:
    """Returns who it is for. `said` is the word of the ask, 'unknown' where staff said nothing.

    A gift's wearer follows too, but only to somebody younger. The first clue that tells counts:
    the name of the chosen size, what is measured, words, then what such an item mostly is.
    Common practice, with EN 14682, EN 13402 and the WHO Child Growth Standards.
    """
    told = _first(list(_told(clues)))
    if said not in _OPEN:
        young = said == CHILD and told is not None and told.under_three
        return FollowedWearer(said, under_three=young or said == BABY)
    if told is None or (said == GIFT and told.wearer == ADULT):
        return FollowedWearer(said)
    wearer = said if told.wearer == UNKNOWN else told.wearer
    if wearer in _OPEN and not told.may_be_a_baby:
        return FollowedWearer(wearer)
    term = term_code("wearer", wearer)
    taken_from = message(told.code, wearer_term=term, **told.values)
    return FollowedWearer(wearer, taken_from, told.under_three, told.may_be_a_baby)


def _first(told: Sequence[_Told]) -> _Told | None:
    """The first clue that tells who it is, else the first that says that it may be a baby."""
    sure = (one for one in told if one.wearer != UNKNOWN)
    return next(sure, next((one for one in told if one.may_be_a_baby), None))


def _told(clues: WearerClues) -> Iterator[_Told]:
    measured = list(_by_measurements(clues))
    grown = any(one.wearer == ADULT for one in measured)
    by_size = None if clues.size is None else _by_size(clues.size, clues)
    if by_size is not None and not (grown and by_size.code == "wearers.by_height"):
        yield by_size
    yield from measured
    by_title = read_person(clues.title)
    if by_title is not None:
        yield _person(by_title, "wearers.by_word", {"word": by_title.word})
    if not measured and clues.item in members("baby", "item"):
        yield _Told(BABY, True, False, "wearers.by_item", {})
    for name in clues.weight_names:
        if is_baby_weight(name):
            yield _Told(UNKNOWN, False, True, "wearers.maybe_by_weight", {"name": name})


def _by_size(size: str, clues: WearerClues) -> _Told | None:
    """What the chosen size tells by its name; the name of a lone number may be a height."""
    of_the_head = clues.item in members("worn on the head", "item")
    named = read_size(size, clues.sizes, of_the_head=of_the_head)
    if named is None:
        return None
    values: dict[str, MessageValue] = {"size": size}
    if named.measure is None:
        return _person(named, "wearers.by_size", values)
    code = "wearers.by_height" if named.measure == "height" else "wearers.by_size"
    return _in_range(named.measure, named.value, code, values)


def _person(named: Named, code: str, values: dict[str, MessageValue]) -> _Told:
    young = named.person in ("baby", "toddler")
    wearer = {"baby": BABY, "adult": ADULT}.get(named.person or "", CHILD)
    return _Told(wearer, young, False, code, values)


def _by_measurements(clues: WearerClues) -> Iterator[_Told]:
    for measure, value in _measured(clues):
        found = _in_range(measure, value, f"wearers.by_{measure}", {f"{measure}_cm": value})
        if measure == "chest" and found.wearer == ADULT:
            if clues.nightwear:
                found = _in_range("nightwear chest", value, found.code, found.values)
            if clues.item not in members("worn on the body", "item"):
                continue
        if found.may_be_a_baby:
            yield found._replace(code=f"wearers.maybe_by_{measure}")
        elif found.wearer == BABY:
            yield found._replace(code=f"wearers.young_by_{measure}")
        else:
            yield found


def _measured(clues: WearerClues) -> Iterator[tuple[str, float]]:
    """What was measured of the wearer, in cm; a blanket's width is none."""
    item, sizes = clues.item, clues.measurements
    on_the_body = item in members("worn on the body", "item") or item == "other"
    for measure, holds, value in (
        ("chest", on_the_body, sizes.chest_cm),
        ("head", item in members("worn on the head", "item"), sizes.around_cm),
        ("hand", item == "mitts", sizes.around_cm),
        ("foot", item in ("socks", "bootees"), sizes.foot_cm),
    ):
        if holds and value is not None:
            yield measure, value


def _in_range(measure: str, value: float, code: str, values: dict[str, MessageValue]) -> _Told:
    row = next(
        r
        for r in table("wearer_ranges")
        if r["measure"] == measure and (not r["below"] or value < float(r["below"]))
    )
    return _Told(
        row["wearer"], row["under_three"] == "yes", row["may_be_a_baby"] == "yes", code, values
    )
