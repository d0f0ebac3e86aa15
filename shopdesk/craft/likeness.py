"""How alike two yarns are by what they state: fibres, treatment, construction."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache

from shopdesk.craft.fibres import fibre
from shopdesk.craft.yarn import Construction, FibreShare
from shopdesk.reference.tables import constant

NOTHING_STATED = ""


def make_of(
    shares: Sequence[FibreShare], attributes: frozenset[str], construction: Construction | None
) -> str:
    """Returns one text for what a yarn states of its make; equal makes have equal texts.

    Such as 'polyamide 25,wool 75;merino,superwash;plied'; '' where no fibre is stated.
    """
    if not shares:
        return NOTHING_STATED
    blend = ",".join(sorted(f"{share.fibre} {share.percent.normalize():f}" for share in shares))
    return f"{blend};{','.join(sorted(attributes))};{construction or ''}"


@lru_cache(maxsize=20_000)
def is_same_make(one: str, other: str) -> bool:
    """True if the two state the same fibres and treatment, and no other construction.

    A construction that one of them does not state is no difference.
    """
    if NOTHING_STATED in (one, other):
        return False
    made, made_too = _stated(one), _stated(other)
    return (
        made.blend == made_too.blend
        and made.treated == made_too.treated
        and not made.differs_in_construction(made_too)
    )


@lru_cache(maxsize=20_000)
def unlikeness(one: str, other: str) -> float:
    """Returns how unlike two makes are, 0 for the same up to about 1; 0 where one is not stated.

    The share of mass that is not of the same fibre and of the same family count half each; a
    treatment or construction that only one has counts blend_models.csv's `unlike_made`.
    Judgement, used for the order alone.
    """
    if NOTHING_STATED in (one, other):
        return 0.0
    made, made_too = _stated(one), _stated(other)
    common = _common(made.shares, made_too.shares) + _common(made.families, made_too.families)
    apart = 1 - common / 2
    odd = len(made.treated ^ made_too.treated) + made.differs_in_construction(made_too)
    return apart + odd * constant("blend_models", "unlike_made").value


@lru_cache(maxsize=20_000)
def is_other_fibre(one: str, other: str) -> bool:
    """True if less than half of the two is of the same family of fibres."""
    if NOTHING_STATED in (one, other):
        return False
    common = _common(_stated(one).families, _stated(other).families)
    return common < constant("blend_models", "same_family_from").value


def states_construction(make: str) -> bool:
    """True if a make says how the yarn is made."""
    return make != NOTHING_STATED and _stated(make).construction != ""


def is_other_construction(original: str, other: str) -> bool:
    """True if the other yarn is made so that it looks or wears apart.

    A plied and a cabled yarn are alike in that; a single, a tape or a chenille is not. An original
    whose construction is not stated is taken for plied, as most are (common practice), but for a
    brushed one: what is brushed is mostly so for its fibre, as mohair is.
    """
    if NOTHING_STATED in (original, other):
        return False
    made, made_too = _stated(original).construction, _stated(other).construction
    if made == "":
        return made_too not in {"", "plied", "cabled", "brushed"}
    return made_too not in {"", made} and not {made, made_too} <= {"plied", "cabled"}


@dataclass(frozen=True, slots=True)
class _Stated:
    """A make's text taken apart; shares are of the whole, 0 to 1."""

    blend: str
    treated: frozenset[str]
    construction: str
    shares: Mapping[str, float]
    families: Mapping[str, float]

    def differs_in_construction(self, other: "_Stated") -> bool:
        """True if both state one, and not the same."""
        one, too = self.construction, other.construction
        return one != too and "" not in (one, too)


@lru_cache(maxsize=20_000)
def _stated(make: str) -> _Stated:
    blend, treated, construction = make.split(";")
    shares = _shares(blend)
    attributes = frozenset(filter(None, treated.split(",")))
    return _Stated(blend, attributes, construction, shares, _families(shares))


def _shares(blend: str) -> Mapping[str, float]:
    """Returns each fibre's share of the whole, 0 to 1."""
    found: dict[str, float] = {}
    for part in blend.split(","):
        name, _, percent = part.rpartition(" ")
        found[name] = found.get(name, 0.0) + float(percent) / 100
    return found


def _families(shares: Mapping[str, float]) -> Mapping[str, float]:
    found: dict[str, float] = {}
    for name, share in shares.items():
        family = fibre(name).family
        found[family] = found.get(family, 0.0) + share
    return found


def _common(one: Mapping[str, float], other: Mapping[str, float]) -> float:
    return sum(min(share, other.get(name, 0.0)) for name, share in one.items())
