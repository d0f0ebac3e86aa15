"""What must be said where a child wears it or sleeps with it: law and advice, told apart.

No caution is a judgement that an item is fit for a child. Texts, where each holds and by whom
stand in reference/cautions.csv; the shop's country picks among them, and a country we know
nothing of gets the strictest. Their topics and order stand in reference/caution_topics.csv.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cache, lru_cache

from shopdesk.craft.behaviour import Level, Traits
from shopdesk.craft.items import is_in, members
from shopdesk.craft.messages import Message, message
from shopdesk.craft.wearers import BABY
from shopdesk.craft.yarn import CareLabel
from shopdesk.reference.tables import table

EVERYWHERE = "*"
STRICTEST = ""
MOST_OF_COMFORT = 3
"""So many cautions of care and comfort are told of one yarn; law and safety know no such end."""


@dataclass(frozen=True, slots=True)
class CautionText:
    """One caution. `law` tells law from advice; `flag` means that the customer must be told.

    `topic` is what it is about, by caution_topics.csv; `safety` tells law and safety from care
    and comfort. Cautions of one `fact` say the same to the customer.
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
    topic: str
    safety: bool
    fact: str


@dataclass(frozen=True, slots=True)
class WornItem:
    """What an ask says that a caution may depend on, in its words.

    `under_three` says that a child is known to be so young, `may_be_a_baby` that the wearer is
    not known and a baby's cautions are told as 'if it is for a baby'.
    """

    item: str
    wearer: str
    features: frozenset[str] = frozenset()
    openwork: bool = False
    under_three: bool = False
    may_be_a_baby: bool = False

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

    @property
    def near_a_toddlers_mouth(self) -> bool:
        return self.near_a_babys_mouth or (self.small_child and self.under_three)


@dataclass(frozen=True, slots=True)
class YarnFacts:
    """What a yarn brings that a caution may depend on; None means that nothing is known."""

    care: CareLabel
    by_default: bool = False
    traits: Traits | None = None

    @property
    def fibre_unknown(self) -> bool:
        """True if so much of the blend is unknown that nobody can say whether it prickles."""
        return self.traits is None or self.traits.prickles is None

    def trait(self, name: str, *levels: Level) -> bool:
        """True if the yarn's behaviour is known to be at one of these levels."""
        return self.traits is not None and getattr(self.traits, name) in levels


def _for_sleep(item: WornItem) -> bool:
    """The advice on blankets differs from country to country, so they have their own row."""
    return not item.is_a("laid over a sleeper") and _in_a_cot(item)


def _under_a_blanket(item: WornItem) -> bool:
    return item.is_a("laid over a sleeper") and _in_a_cot(item)


def _in_a_cot(item: WornItem) -> bool:
    loose = item.of("baby") and item.is_a("loose in a cot")
    return (item.has("for sleep") and item.may_be_a_child) or loose


def _loose_ends(item: WornItem) -> bool:
    return item.small_child and item.covers_fingers_or_toes


def _open_over_fingers(item: WornItem) -> bool:
    return _loose_ends(item) and (item.openwork or item.has("floats inside"))


def _toy_parts(item: WornItem) -> bool:
    return item.is_a("played with") and item.has("toy eyes", "buttons")


def _buttons(item: WornItem) -> bool:
    sewn_on = item.has("buttons", "toy eyes")
    return sewn_on and item.small_child and not item.is_a("played with")


def _round_the_neck(item: WornItem) -> bool:
    tied = item.is_a("worn on the head") and item.has("cords")
    return item.small_child and (tied or item.is_a("round the neck"))


def _open_blanket(item: WornItem) -> bool:
    return item.openwork and item.of("baby") and item.is_a("laid over a sleeper")


def _often(item: WornItem) -> bool:
    return item.often


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


_WHEN: Mapping[str, tuple[Callable[[WornItem], bool], Callable[[YarnFacts], bool]]] = {
    "sleep": (_for_sleep, _whatever),
    "sleep under a blanket": (_under_a_blanket, _whatever),
    "open blanket": (_open_blanket, _whatever),
    "hat off": (lambda item: item.of("baby") and item.is_a("worn on the head"), _whatever),
    "cords": (lambda item: item.may_be_a_child and item.has("cords"), _whatever),
    "round the neck": (_round_the_neck, _whatever),
    "loose ends": (_loose_ends, _whatever),
    "open over fingers or toes": (_open_over_fingers, _whatever),
    "toy parts": (_toy_parts, _whatever),
    "buttons": (_buttons, _whatever),
    "nightwear": (lambda item: item.may_be_a_child and item.has("nightwear"), _whatever),
    "shedding": (
        lambda item: item.near_a_toddlers_mouth,
        lambda yarn: yarn.trait("sheds", Level.YES),
    ),
    "may shed": (
        lambda item: item.near_a_babys_mouth,
        lambda yarn: yarn.trait("sheds", Level.SOME),
    ),
    "fibre unknown": (lambda item: item.of("baby"), lambda yarn: yarn.fibre_unknown),
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


def cautions_for(worn: WornItem, yarn: YarnFacts, country: str) -> tuple[CautionText, ...]:
    """Returns the cautions for this item in this yarn by topic, what is most pressing first.

    `country` is the shop's ISO 3166 code, '' for the strictest texts. Of cautions that say the
    same fact the gravest is kept; of care and comfort three at most are flagged. Sources:
    reference/cautions.csv, one row for each country's rule.
    """
    return heard(one.text for one in possible_cautions(worn, country) if one.applies(yarn))


def heard(found: Iterable[CautionText]) -> tuple[CautionText, ...]:
    """Returns cautions, given in their order, as they are told of one yarn.

    Each fact is told once. Law and safety are flagged without an end, care and comfort up to
    three; the rest stays, to be read on the slip.
    """
    facts: dict[str, CautionText] = {}
    comfort = 0
    for text in found:
        if text.fact in facts:
            continue
        comfort += text.flag and not text.safety
        over = text.flag and not text.safety and comfort > MOST_OF_COMFORT
        facts[text.fact] = replace(text, flag=False) if over else text
    return tuple(facts.values())


@lru_cache(maxsize=1024)
def possible_cautions(worn: WornItem, country: str) -> tuple[Possible, ...]:
    """Returns the cautions that this item has with one yarn or another, in their order."""
    return tuple(
        Possible(_caution(name, country, only_if), _WHEN[name][1])
        for name, only_if in _names_for(worn)
    )


def _names_for(worn: WornItem) -> Iterator[tuple[str, bool]]:
    """The cautions of an item, and whether each holds only if it is for a baby."""
    for row in table("caution_topics"):
        name = row["caution"]
        may_have, _ = _WHEN[name]
        if may_have(worn):
            yield name, False
        elif worn.may_be_a_baby and may_have(replace(worn, wearer=BABY, under_three=True)):
            yield name, True


def rules_of(country: str) -> str:
    """Returns whose rules a shop's country follows: 'US', 'GB', 'EU', or '' for the strictest."""
    rows = table("rule_countries")
    return next((r["rules"] for r in rows if r["country"] == country.upper()), STRICTEST)


@cache
def _topics() -> Mapping[str, Mapping[str, str]]:
    return {row["caution"]: row for row in table("caution_topics")}


def _caution(name: str, country: str, only_if_a_baby: bool) -> CautionText:
    by_country = {r["country"]: r for r in table("cautions") if r["caution"] == name}
    places = (country.upper(), rules_of(country), EVERYWHERE, STRICTEST)
    place = next(p for p in places if p in by_country)
    row, told = by_country[place], _topics()[name]
    code = "cautions.with_basis_if_baby" if only_if_a_baby else "cautions.with_basis"
    safety = told["concern"] == "safety"
    return CautionText(
        code=name,
        message=message(code, text_term=row["text_code"], basis_term=row["basis_code"]),
        law=row["law_or_advice"] == "law",
        where=row["where"],
        by_whom=row["by_whom"],
        flag=row["flag"] == "yes" and (safety or not only_if_a_baby),
        topic=told["topic"],
        safety=safety,
        fact=told["fact"],
    )


def topic_code(topic: str) -> str:
    """Returns the code of a topic's name."""
    return f"cautions.topic_{topic.replace(' ', '_')}"


def said_again(caution: str) -> frozenset[str]:
    """Returns the codes of the texts on washing that say the same as a caution of this code."""
    return frozenset(_topics()[caution]["told_by"].split())
