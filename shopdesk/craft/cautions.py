"""What must be said where a child wears it or sleeps with it: law and advice, told apart.

No caution is a judgement that an item is fit for a child. Texts, where each holds and by whom
stand in reference/cautions.csv; the shop's country picks among them, and a country we know
nothing of gets the strictest.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from shopdesk.craft.behaviour import Level, Traits
from shopdesk.craft.item_groups import is_in, members
from shopdesk.craft.sayings import Saying, saying
from shopdesk.craft.yarn import CareLabel
from shopdesk.reference.tables import table

EVERYWHERE = "*"
STRICTEST = ""
BLANKET = "blanket"


@dataclass(frozen=True, slots=True)
class CautionText:
    """One caution. `law` tells law from advice; `flag` means that the customer must be told.

    `where` it holds and `by_whom` it is given are in English, for records; the saying says both
    in the reader's language. Its values `text_term` and `basis_term` are the codes of its two
    halves, so that cautions of the same basis can be listed under it.
    """

    code: str
    saying: Saying
    law: bool
    where: str
    by_whom: str
    flag: bool


@dataclass(frozen=True, slots=True)
class _Case:
    """All that a caution may depend on."""

    item: str
    wearer: str
    features: frozenset[str]
    openwork: bool
    care: CareLabel
    care_by_default: bool
    traits: Traits | None

    def of(self, group: str) -> bool:
        """True if the item or its wearer is of the group; an adult's item is not a child's."""
        if self.wearer in ("adult", "household"):
            return False
        return is_in(group, self.item, self.wearer)

    @property
    def often(self) -> bool:
        return is_in("washed often", self.item, self.wearer)

    @property
    def may_be_a_child(self) -> bool:
        return self.of("small child") or self.of("may be a child")

    @property
    def covers_fingers_or_toes(self) -> bool:
        covers = self.item in members("covers fingers or toes", "item")
        return covers or "covers fingers or toes" in self.features

    def has(self, *features: str) -> bool:
        return any(feature in self.features for feature in features)

    def trait(self, name: str, *levels: Level) -> bool:
        return self.traits is not None and getattr(self.traits, name) in levels

    @property
    def near_a_babys_mouth(self) -> bool:
        return self.of("baby") or self.item == "toy"


def _for_sleep(case: _Case) -> bool:
    """The advice on blankets differs from country to country, so they have their own row."""
    return case.item != BLANKET and _in_a_cot(case)


def _under_a_blanket(case: _Case) -> bool:
    return case.item == BLANKET and _in_a_cot(case)


def _in_a_cot(case: _Case) -> bool:
    loose = case.item in members("loose in a cot", "item")
    return (case.has("for sleep") and case.may_be_a_child) or (case.of("baby") and loose)


def _loose_ends(case: _Case) -> bool:
    return case.of("small child") and case.covers_fingers_or_toes


def _open_over_fingers(case: _Case) -> bool:
    return _loose_ends(case) and (case.openwork or case.has("floats inside"))


def _toy_parts(case: _Case) -> bool:
    return case.item == "toy" and case.has("toy eyes", "buttons")


def _buttons(case: _Case) -> bool:
    return case.item != "toy" and case.of("small child") and case.has("buttons", "toy eyes")


def _prickle(case: _Case) -> bool:
    return case.of("small child") and case.trait("prickles", Level.YES, Level.SOME)


def _dry_clean_only(case: _Case) -> bool:
    no_water = case.care.wash_action == "do not wash"
    return case.often and no_water and case.care.dry_clean not in (None, "none")


def _do_not_wash(case: _Case) -> bool:
    return case.often and case.care.wash_action == "do not wash" and not _dry_clean_only(case)


def _flat_dry_only(case: _Case) -> bool:
    flat = (case.care.natural_drying or "").startswith("flat")
    return case.often and flat and case.care.tumble not in ("low", "normal")


def _care_unknown(case: _Case) -> bool:
    return case.often and (case.care_by_default or case.care.wash_action is None)


_WHEN: Mapping[str, Callable[[_Case], bool]] = {
    "sleep": _for_sleep,
    "sleep under a blanket": _under_a_blanket,
    "hat off": lambda case: case.of("baby") and case.item == "hat",
    "cords": lambda case: case.may_be_a_child and case.has("cords"),
    "loose ends": _loose_ends,
    "open over fingers or toes": _open_over_fingers,
    "toy parts": _toy_parts,
    "buttons": _buttons,
    "nightwear": lambda case: case.may_be_a_child and case.has("nightwear"),
    "shedding": lambda case: case.near_a_babys_mouth and case.trait("sheds", Level.YES),
    "may shed": lambda case: case.near_a_babys_mouth and case.trait("sheds", Level.SOME),
    "prickle": lambda case: (
        case.of("small child") and case.trait("prickles", Level.YES, Level.SOME)
    ),
    "do not wash": _do_not_wash,
    "dry clean only": _dry_clean_only,
    "felting": lambda case: case.often and case.trait("felts", Level.YES),
    "may felt": lambda case: case.often and case.trait("felts", Level.SOME),
    "hand wash only": lambda case: case.often and case.care.wash_action == "hand",
    "flat dry only": _flat_dry_only,
    "care unknown": _care_unknown,
    "selling": lambda case: case.may_be_a_child and case.has("to be sold"),
}


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
    known = care or CareLabel()
    case = _Case(item, wearer, features, openwork, known, care_by_default, traits)
    rules = rules_of(country)
    return tuple(_caution(name, rules) for name, applies in _WHEN.items() if applies(case))


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
        saying=saying(
            "cautions.with_basis", text_term=row["text_code"], basis_term=row["basis_code"]
        ),
        law=row["law_or_advice"] == "law",
        where=row["where"],
        by_whom=row["by_whom"],
        flag=row["flag"] == "yes",
    )
