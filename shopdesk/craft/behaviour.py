"""How a yarn behaves by its fibres, treatment and construction, and what follows for an item.

Common practice unless reference/fibre_behaviour.csv says otherwise: words, never percentages. A
blend is judged by mass for what the whole thread does, by its strongest fibre for what shows on
the surface (shedding, prickle). What is unknown stays None.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, fields
from decimal import Decimal
from enum import StrEnum
from functools import cache, lru_cache

from shopdesk.craft.fibres import fibre
from shopdesk.craft.messages import Message, message
from shopdesk.craft.yarn import Construction, FibreShare
from shopdesk.reference.tables import constant, table


class Level(StrEnum):
    """How much a yarn does something."""

    NO = "no"
    SOME = "some"
    YES = "yes"


@dataclass(frozen=True, slots=True)
class Traits:
    """What a yarn does, None where it is unknown. `warmth` NO is cool, YES warm."""

    springs_back: Level | None = None
    drapes: Level | None = None
    warmth: Level | None = None
    breathes: Level | None = None
    sheds: Level | None = None
    prickles: Level | None = None
    felts: Level | None = None
    weak_wet: Level | None = None
    grows: Level | None = None


class Severity(StrEnum):
    """What a consequence means for the choice, worst first."""

    BLOCKS = "blocks"
    WARNS = "warns"
    NOTES = "notes"


@dataclass(frozen=True, slots=True)
class ItemNeeds:
    """What the item asks of its yarn; `original` is how the designer's yarn behaves, if known."""

    ribs: bool = False
    cables: bool = False
    long: bool = False
    felted: bool = False
    openwork: bool = False
    original: Traits | None = None


@dataclass(frozen=True, slots=True)
class Consequence:
    """One thing that follows for the item."""

    message: Message
    severity: Severity


TRAITS = tuple(field.name for field in fields(Traits))
_ON_THE_SURFACE = frozenset({"sheds", "prickles"})
_WEIGHT = {Level.NO: 0, Level.SOME: 1, Level.YES: 2}


def _limit(name: str) -> Decimal:
    return Decimal(str(constant("blend_models", name).value))


@cache
def _plain_levels() -> Mapping[tuple[str, str], Level]:
    return {
        (row["fibre"], trait): Level(row[trait])
        for row in table("fibre_behaviour")
        for trait in TRAITS
        if row[trait]
    }


def traits(
    shares: Sequence[FibreShare],
    attributes: frozenset[str],
    construction: Construction | None,
) -> Traits:
    """Returns how a yarn of this blend, treatment and construction behaves.

    Shares are in percent of mass and add up to 100. Source: reference/fibre_behaviour.csv and
    behaviour_changes.csv, common practice unless marked there.
    """
    return _traits(tuple(shares), attributes, construction)


@lru_cache(maxsize=4096)
def _traits(
    shares: tuple[FibreShare, ...],
    attributes: frozenset[str],
    construction: Construction | None,
) -> Traits:
    levels = {trait: _level(trait, shares, attributes) for trait in TRAITS}
    for row in table("behaviour_changes"):
        if row["kind"] == "construction" and row["made"] == construction:
            levels[row["trait"]] = _stronger(levels[row["trait"]], Level(row["level"]))
    return Traits(**levels)


def _level(trait: str, shares: Sequence[FibreShare], attributes: frozenset[str]) -> Level | None:
    known = [(share.percent, _fibre_level(share.fibre, trait, attributes)) for share in shares]
    unknown = sum((percent for percent, level in known if level is None), Decimal(0))
    total = sum((share.percent for share in shares), Decimal(0))
    if total <= 0 or unknown * 100 > _limit("unknown_up_to") * total:
        return None
    said = [(percent * 100 / total, level) for percent, level in known if level is not None]
    if trait in _ON_THE_SURFACE:
        return _strongest(said)
    if trait == "springs_back" and _elastic(shares, total):
        return Level.YES
    return _mean(said)


def _fibre_level(fibre: str, trait: str, attributes: frozenset[str]) -> Level | None:
    for row in table("behaviour_changes"):
        if (row["fibre"], row["trait"]) == (fibre, trait) and row["made"] in attributes:
            return Level(row["level"])
    return _plain_levels().get((fibre, trait))


def _elastic(shares: Sequence[FibreShare], total: Decimal) -> bool:
    elastic = sum((share.percent for share in shares if fibre(share.fibre).elastic), Decimal(0))
    return elastic * 100 >= _limit("elastic_from") * total


def _mean(said: Sequence[tuple[Decimal, Level]]) -> Level:
    percents = sum((percent for percent, _ in said), Decimal(0))
    mean = sum((percent * _WEIGHT[level] for percent, level in said), Decimal(0)) / percents
    if mean >= _limit("much_from"):
        return Level.YES
    return Level.SOME if mean > _limit("little_up_to") else Level.NO


def _strongest(said: Sequence[tuple[Decimal, Level]]) -> Level:
    strongest = Level.NO
    for level in (Level.SOME, Level.YES):
        percents = sum((p for p, each in said if _WEIGHT[each] >= _WEIGHT[level]), Decimal(0))
        if percents >= _limit("shows_in_full"):
            strongest = level
        elif percents >= _limit("shows_at_all"):
            strongest = _stronger(strongest, Level.SOME)
    return strongest


def _stronger(one: Level | None, other: Level) -> Level:
    return max((one or other, other), key=_WEIGHT.__getitem__)


_UNREMARKABLE = frozenset(
    {(trait, Level.NO) for trait in ("sheds", "prickles", "felts", "weak_wet", "grows")}
    | {(trait, Level.SOME) for trait in ("springs_back", "drapes", "breathes")}
)


def trait_sayings(yarn: Traits) -> tuple[Message, ...]:
    """Returns what is worth saying of a yarn's behaviour, and last what it rests on."""
    levels = {trait: getattr(yarn, trait) for trait in TRAITS}
    said = [
        Message(f"behaviour.{trait}_{level}")
        for trait, level in levels.items()
        if level is not None and (trait, level) not in _UNREMARKABLE
    ]
    if all(level is None for level in levels.values()):
        return (message("behaviour.nothing_known"),)
    return (*said, message("behaviour.basis"))


@lru_cache(maxsize=8192)
def consequences(yarn: Traits, needs: ItemNeeds) -> tuple[Consequence, ...]:
    """Returns what follows for this item, worst first. Common practice, no source.

    'blocks' only where the item cannot be made (felting); 'warns' where a swatch must show it
    first; 'notes' what will be different.
    """
    found = [*_felting(yarn, needs), *_shape(yarn, needs), *_unlike_original(yarn, needs)]
    order = list(Severity)
    return tuple(sorted(found, key=lambda consequence: order.index(consequence.severity)))


def _felting(yarn: Traits, needs: ItemNeeds) -> list[Consequence]:
    if not needs.felted:
        return []
    match yarn.felts:
        case Level.NO:
            return [Consequence(message("behaviour.will_not_felt"), Severity.BLOCKS)]
        case Level.SOME:
            return [Consequence(message("behaviour.may_felt_little"), Severity.WARNS)]
        case None:
            return [Consequence(message("behaviour.felting_unknown"), Severity.WARNS)]
        case Level.YES:
            return []


def _shape(yarn: Traits, needs: ItemNeeds) -> list[Consequence]:
    found = []
    if needs.ribs and yarn.springs_back is Level.NO:
        found.append(Consequence(message("behaviour.ribs_sag"), Severity.WARNS))
    if needs.ribs and yarn.springs_back is Level.SOME:
        found.append(Consequence(message("behaviour.ribs_softer"), Severity.NOTES))
    if needs.cables and yarn.springs_back is Level.NO:
        found.append(Consequence(message("behaviour.cables_flat"), Severity.WARNS))
    if needs.long and yarn.grows is Level.YES:
        found.append(Consequence(message("behaviour.long_grows"), Severity.WARNS))
    if needs.long and yarn.grows is Level.SOME:
        found.append(Consequence(message("behaviour.long_may_grow"), Severity.NOTES))
    if needs.openwork and yarn.sheds is Level.YES:
        found.append(Consequence(message("behaviour.openwork_blurs"), Severity.NOTES))
    return found


_LESS_THAN_ORIGINAL = ("springs_back", "drapes", "warmth", "breathes")
_MORE_THAN_ORIGINAL = ("drapes", "warmth", "sheds", "prickles", "weak_wet", "grows")


def _unlike_original(yarn: Traits, needs: ItemNeeds) -> list[Consequence]:
    if needs.original is None:
        return []
    codes = [f"behaviour.less_{t}" for t in _LESS_THAN_ORIGINAL if _step(yarn, needs, t) < 0]
    codes += [f"behaviour.more_{t}" for t in _MORE_THAN_ORIGINAL if _step(yarn, needs, t) > 0]
    return [Consequence(Message(code), Severity.NOTES) for code in codes]


def _step(yarn: Traits, needs: ItemNeeds, trait: str) -> int:
    """Returns how many levels the yarn lies above the original; 0 if either is unknown."""
    ours, theirs = getattr(yarn, trait), getattr(needs.original, trait)
    if ours is None or theirs is None:
        return 0
    return _WEIGHT[ours] - _WEIGHT[theirs]
