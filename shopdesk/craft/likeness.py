"""How alike two yarns are by what they state: fibres, treatment, construction."""

from collections.abc import Mapping, Sequence
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
    (blend, treated, made), (blend_too, treated_too, made_too) = _parts(one), _parts(other)
    made_alike = made == made_too or "" in (made, made_too)
    return blend == blend_too and treated == treated_too and made_alike


@lru_cache(maxsize=20_000)
def unlikeness(one: str, other: str) -> float:
    """Returns how unlike two makes are, 0 for the same up to about 1; 0 where one is not stated.

    The share of mass that is not of the same fibre and of the same family count half each; a
    treatment or construction that only one has counts blend_models.csv's `unlike_made`.
    Judgement, used for the order alone.
    """
    if NOTHING_STATED in (one, other):
        return 0.0
    (blend, treated, made), (blend_too, treated_too, made_too) = _parts(one), _parts(other)
    fibres, too = _shares(blend), _shares(blend_too)
    apart = 1 - (_common(fibres, too) + _common(_families(fibres), _families(too))) / 2
    odd = len(set(filter(None, treated.split(","))) ^ set(filter(None, treated_too.split(","))))
    odd += made != made_too and "" not in (made, made_too)
    return apart + odd * constant("blend_models", "unlike_made").value


@lru_cache(maxsize=20_000)
def is_other_fibre(one: str, other: str) -> bool:
    """True if less than half of the two is of the same family of fibres."""
    if NOTHING_STATED in (one, other):
        return False
    families = [_families(_shares(_parts(make)[0])) for make in (one, other)]
    return _common(*families) < constant("blend_models", "same_family_from").value


def is_other_construction(one: str, other: str) -> bool:
    """True if both state a construction, and one is made so that the other looks or wears apart.

    A plied and a cabled yarn are alike in that; a single, a tape or a chenille is not.
    """
    if NOTHING_STATED in (one, other):
        return False
    made, made_too = _parts(one)[2], _parts(other)[2]
    alike = made == made_too or {made, made_too} <= {"plied", "cabled"}
    return "" not in (made, made_too) and not alike


def _parts(make: str) -> tuple[str, str, str]:
    blend, treated, made = make.split(";")
    return blend, treated, made


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
