"""How a yarn behaves by its fibres, treatment and construction.

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

    # Traits are looked up by their levels for every yarn; Enum's own hash is no quick one.
    __hash__ = str.__hash__


@dataclass(frozen=True, slots=True)
class Traits:
    """What a yarn does, None where it is unknown. `warmth` NO is cool, YES warm.

    One that `wears` stands rubbing; one that `shows_stitches` makes cables and texture crisp.
    """

    springs_back: Level | None = None
    drapes: Level | None = None
    warmth: Level | None = None
    breathes: Level | None = None
    sheds: Level | None = None
    prickles: Level | None = None
    felts: Level | None = None
    weak_wet: Level | None = None
    grows: Level | None = None
    wears: Level | None = None
    pills: Level | None = None
    shows_stitches: Level | None = None
    halo: Level | None = None
    absorbs: Level | None = None
    burns: Level | None = None
    snags: Level | None = None
    draws_in: Level | None = None


TRAITS = tuple(field.name for field in fields(Traits))
_ON_THE_SURFACE = frozenset({"sheds", "prickles", "halo"})
RANK = {Level.NO: 0, Level.SOME: 1, Level.YES: 2}


def _limit(name: str) -> Decimal:
    return Decimal(str(constant("blend_models", name).value))


@cache
def _plain_levels() -> Mapping[tuple[str, str], Level]:
    common = {
        (row["fibre"], trait): Level(row[trait])
        for row in table("fibre_behaviour")
        for trait in TRAITS
        if row[trait]
    }
    measured = {(r["fibre"], r["trait"]): Level(r["level"]) for r in table("fibre_measured")}
    return common | measured


def traits(
    shares: Sequence[FibreShare],
    attributes: frozenset[str],
    construction: Construction | None,
) -> Traits:
    """Returns how a yarn of this blend, treatment and construction behaves.

    Shares are in percent of mass and add up to 100. Source: reference/fibre_behaviour.csv,
    fibre_measured.csv and behaviour_changes.csv, common practice unless marked there.
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
            bound = _weaker if row["bound"] == "at most" else _stronger
            levels[row["trait"]] = bound(levels[row["trait"]], Level(row["level"]))
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
    if trait in ("springs_back", "draws_in") and _share(shares, "elastic") >= _limit(
        "elastic_from"
    ):
        return Level.YES
    if trait == "wears" and _share(shares, "reinforces") >= _limit("reinforces_from"):
        return Level.YES
    return _mean(said)


def _fibre_level(fibre: str, trait: str, attributes: frozenset[str]) -> Level | None:
    for row in table("behaviour_changes"):
        if (row["fibre"], row["trait"]) == (fibre, trait) and row["made"] in attributes:
            return Level(row["level"])
    return _plain_levels().get((fibre, trait))


def _share(shares: Sequence[FibreShare], what: str) -> Decimal:
    """Returns the percent of the fibres that do this."""
    total = sum((share.percent for share in shares), Decimal(0))
    these = (share.percent for share in shares if getattr(fibre(share.fibre), what))
    return sum(these, Decimal(0)) * 100 / total


def _mean(said: Sequence[tuple[Decimal, Level]]) -> Level:
    percents = sum((percent for percent, _ in said), Decimal(0))
    mean = sum((percent * RANK[level] for percent, level in said), Decimal(0)) / percents
    if mean >= _limit("much_from"):
        return Level.YES
    return Level.SOME if mean > _limit("little_up_to") else Level.NO


def _strongest(said: Sequence[tuple[Decimal, Level]]) -> Level:
    strongest = Level.NO
    for level in (Level.SOME, Level.YES):
        percents = sum((p for p, each in said if RANK[each] >= RANK[level]), Decimal(0))
        if percents >= _limit("shows_in_full"):
            strongest = level
        elif percents >= _limit("shows_at_all"):
            strongest = _stronger(strongest, Level.SOME)
    return strongest


def _stronger(one: Level | None, other: Level) -> Level:
    return max((one or other, other), key=RANK.__getitem__)


def _weaker(one: Level | None, other: Level) -> Level:
    return min((one or other, other), key=RANK.__getitem__)


_SAID_WHEN_NOT = ("springs_back", "drapes", "warmth", "breathes", "wears", "shows_stitches")
_SAID_OF_SOME = ("warmth", "sheds", "prickles", "felts", "weak_wet", "grows")
_UNREMARKABLE = frozenset(
    {(t, Level.NO) for t in TRAITS if t not in _SAID_WHEN_NOT}
    | {(t, Level.SOME) for t in TRAITS if t not in _SAID_OF_SOME}
    | {("burns", Level.YES)}
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
