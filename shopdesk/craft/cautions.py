"""What must be said where a child wears it or sleeps with it: law and advice, told apart.

No caution is a judgement that an item is fit for a child. Texts, where each holds and by whom
stand in reference/cautions.csv; the shop's country picks among them, and a country we know
nothing of gets the strictest.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import lru_cache

from shopdesk.craft.behaviour import Level, Traits
from shopdesk.craft.items import is_in, members
from shopdesk.craft.messages import Message, message
from shopdesk.craft.yarn import CareLabel
from shopdesk.reference.tables import table

EVERYWHERE = "*"
STRICTEST = ""


@dataclass(frozen=True, slots=True)
class CautionText:
    """One caution. `law` tells law from advice; `flag` means that the customer must be told.

    `where` it holds and `by_whom` it is given are in English, for records; the message says both
    in the reader's language. Its values `text_term` and `basis_term` are the codes of its two
    halves, so that cautions of the same basis can be listed under it.
    """

    code: str
    message: Message
    law: bool
    where: str
    by_whom: str
    flag: bool


@dataclass(frozen=True, slots=True)
class _Item:
    """What an ask says that a caution may depend on."""

    item: str
    wearer: str
    features: frozenset[str]
    openwork: bool

    def of(self, group: str) -> bool:
        """True if the item or its wearer is of the group; an adult's item is not a child's."""
        if self.wearer in members("no child", "wearer"):
            return False
        return is_in(group, self.item, self.wearer)

    @property
    def often(self) -> bool:
        return is_in("washed often", self.item, self.wearer)

    @property
    def small_child(self) -> bool:
        return self.of("small child")

    @property
    def may_be_a_child(self) -> bool:
        return self.of("small child") or self.of("may be a child")

    @property
    def covers_fingers_or_toes(self) -> bool:
        return self.is_a("covers fingers or toes") or "covers fingers or toes" in self.features

    def is_a(self, group: str) -> bool:
        """True if the item is of the group, whoever wears it."""
        return self.item in members(group, "item")

    def has(self, *features: str) -> bool:
        return any(feature in self.features for feature in features)

    @property
    def near_a_babys_mouth(self) -> bool:
        return self.of("baby") or self.is_a("played with")


@dataclass(frozen=True, slots=True)
class YarnFacts:
    """What a yarn brings that a caution may depend on; None means that nothing is known."""

    care: CareLabel
    by_default: bool
    traits: Traits | None

    def trait(self, name: str, *levels: Level) -> bool:
        """True if the yarn's behaviour is known to be at one of these levels."""
        return self.traits is not None and getattr(self.traits, name) in levels


def _for_sleep(item: _Item) -> bool:
    """The advice on blankets differs from country to country, so they have their own row."""
    return not item.is_a("laid over a sleeper") and _in_a_cot(item)


def _under_a_blanket(item: _Item) -> bool:
    return item.is_a("laid over a sleeper") and _in_a_cot(item)


def _in_a_cot(item: _Item) -> bool:
    loose = item.of("baby") and item.is_a("loose in a cot")
    return (item.has("for sleep") and item.may_be_a_child) or loose


def _loose_ends(item: _Item) -> bool:
    return item.small_child and item.covers_fingers_or_toes


def _open_over_fingers(item: _Item) -> bool:
    return _loose_ends(item) and (item.openwork or item.has("floats inside"))


def _toy_parts(item: _Item) -> bool:
    return item.is_a("played with") and item.has("toy eyes", "buttons")


def _buttons(item: _Item) -> bool:
    sewn_on = item.has("buttons", "toy eyes")
    return sewn_on and item.small_child and not item.is_a("played with")


def _often(item: _Item) -> bool:
    return item.often


def _near_a_babys_mouth(item: _Item) -> bool:
    return item.near_a_babys_mouth


def _whatever(_yarn: YarnFacts) -> bool:
    return True


def _dry_clean_only(yarn: YarnFacts) -> bool:
    return yarn.care.wash_action == "do not wash" and yarn.care.dry_clean not in (None, "none")


def _do_not_wash(yarn: YarnFacts) -> bool:
    return yarn.care.wash_action == "do not wash" and not _dry_clean_only(yarn)


def _flat_dry_only(yarn: YarnFacts) -> bool:
    flat = (yarn.care.natural_drying or "").startswith("flat")
    return flat and yarn.care.tumble not in ("low", "normal")


def _care_unknown(yarn: YarnFacts) -> bool:
    return yarn.by_default or yarn.care.wash_action is None


_WHEN: Mapping[str, tuple[Callable[[_Item], bool], Callable[[YarnFacts], bool]]] = {
    "sleep": (_for_sleep, _whatever),
    "sleep under a blanket": (_under_a_blanket, _whatever),
    "hat off": (lambda item: item.of("baby") and item.is_a("worn on the head"), _whatever),
    "cords": (lambda item: item.may_be_a_child and item.has("cords"), _whatever),
    "loose ends": (_loose_ends, _whatever),
    "open over fingers or toes": (_open_over_fingers, _whatever),
    "toy parts": (_toy_parts, _whatever),
    "buttons": (_buttons, _whatever),
    "nightwear": (lambda item: item.may_be_a_child and item.has("nightwear"), _whatever),
    "shedding": (_near_a_babys_mouth, lambda yarn: yarn.trait("sheds", Level.YES)),
    "may shed": (_near_a_babys_mouth, lambda yarn: yarn.trait("sheds", Level.SOME)),
    "prickle": (
        lambda item: item.small_child,
        lambda yarn: yarn.trait("prickles", Level.YES, Level.SOME),
    ),
    "do not wash": (_often, _do_not_wash),
    "dry clean only": (_often, _dry_clean_only),
    "felting": (_often, lambda yarn: yarn.trait("felts", Level.YES)),
    "may felt": (_often, lambda yarn: yarn.trait("felts", Level.SOME)),
    "hand wash only": (_often, lambda yarn: yarn.care.wash_action == "hand"),
    "flat dry only": (_often, _flat_dry_only),
    "care unknown": (_often, _care_unknown),
    "selling": (lambda item: item.may_be_a_child and item.has("to be sold"), _whatever),
}
"""When a caution is said: what the item must be, and what the yarn must be."""


@dataclass(frozen=True, slots=True)
class Possible:
    """A caution that the item can have; it has it with the yarns it applies to."""

    text: CautionText
    applies: Callable[[YarnFacts], bool]


def cautions_for(
    item: str,
    wearer: str,
    features: frozenset[str],
    openwork: bool,
    care: CareLabel | None,
    traits: Traits | None,
    country: str,
    care_by_default: bool = False,
) -> tuple[CautionText, ...]:
    """Returns the cautions for this item in this yarn, what is most pressing first.

    `item`, `wearer` and `features` are the words of the ask; `care` None means that nothing is
    known, `care_by_default` that it was not on the band; `country` is the shop's ISO 3166 code,
    '' for the strictest texts. Sources: reference/cautions.csv, one row for each country's rule.
    """
    yarn = YarnFacts(care or CareLabel(), care_by_default, traits)
    possible = possible_cautions(item, wearer, features, openwork, country)
    return tuple(one.text for one in possible if one.applies(yarn))


@lru_cache(maxsize=1024)
def possible_cautions(
    item: str, wearer: str, features: frozenset[str], openwork: bool, country: str
) -> tuple[Possible, ...]:
    """Returns the cautions that this item has with one yarn or another, in their order."""
    asked, rules = _Item(item, wearer, features, openwork), rules_of(country)
    return tuple(
        Possible(_caution(name, rules), applies)
        for name, (may_have, applies) in _WHEN.items()
        if may_have(asked)
    )


def rules_of(country: str) -> str:
    """Returns whose rules a shop's country follows: 'US', 'GB', 'EU', or '' for the strictest."""
    rows = table("rule_countries")
    return next((r["rules"] for r in rows if r["country"] == country.upper()), STRICTEST)


def _caution(name: str, rules: str) -> CautionText:
    by_country = {r["country"]: r for r in table("cautions") if r["caution"] == name}
    place = next(p for p in (rules, EVERYWHERE, STRICTEST) if p in by_country)
    row = by_country[place]
    return CautionText(
        code=name,
        message=message(
            "cautions.with_basis", text_term=row["text_code"], basis_term=row["basis_code"]
        ),
        law=row["law_or_advice"] == "law",
        where=row["where"],
        by_whom=row["by_whom"],
        flag=row["flag"] == "yes",
    )
