"""From a need in metres to whole skeins, and what the pattern's own amount can mean."""

from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from functools import cache, lru_cache
from math import ceil, hypot, sqrt

from shopdesk.craft.figures import Basis, Figure, spread
from shopdesk.craft.gauge import require_positive
from shopdesk.craft.messages import message
from shopdesk.craft.yarn import PutUp
from shopdesk.reference.tables import constant, table

ONE_MILLIMETRE = Fraction(1, 1000)
MOST_SKEINS = 1_000_000
"""More of one lot than any shop has: no table, page or command takes more at once."""


@lru_cache(maxsize=4096)
def exact(number: float | Decimal | Fraction) -> Fraction:
    """Returns the number as it is written, without the tail of its binary form."""
    return Fraction(repr(number)) if isinstance(number, float) else Fraction(number)


def skeins_for(need_m: float | Decimal | Fraction, per_skein_m: float | Decimal | Fraction) -> int:
    """Returns the whole skeins that hold the need, both in metres.

    The division is exact. A need given as a float may carry the tail of an earlier sum, so
    there a shortfall of less than 1 mm over the whole need does not add a skein; a Decimal or
    Fraction is taken at its word. Raises ValueError for a negative need or an empty skein.
    """
    require_positive(per_skein_m=float(per_skein_m))
    if need_m < 0:
        raise ValueError(f"need_m is {need_m}; it cannot be negative")
    slack = ONE_MILLIMETRE if isinstance(need_m, float) else Fraction(0)
    need = exact(need_m)
    if need == 0:
        return 0
    return max(1, ceil((need - slack) / exact(per_skein_m)))


def planning_m(need: Figure) -> float:
    """Returns the metres to plan for: halfway from the likely value to the top of the interval.

    A need from whole balls has its top as its value already and is planned for in full.
    """
    return need.value + (need.high - need.value) / 2


def likely_m(need: Figure) -> float:
    """Returns the metres that are likeliest: of a count of balls the middle of what it can mean."""
    return (need.low + need.high) / 2 if is_rounded_up(need) else need.value


def most_m(need: Figure) -> float:
    """Returns the most metres that a need may plausibly turn out to be.

    To what the pattern says comes by how much hands differ at one gauge; a count of balls was
    rounded up for that already, and an estimate's interval has it.
    """
    if need.basis is not Basis.PATTERN or is_rounded_up(need):
        return need.high
    hands = constant("amount_models", "hands").value * need.value
    return need.value + hypot(need.high - need.value, hands)


def in_skeins_m(need: Figure, percent: Decimal) -> float:
    """Returns the metres that whole skeins must hold: rounding up stands for the allowance.

    A share of the way from the value to the most it may be, so that the rest of the last skein
    makes a shortage rare; never more than is planned for with an allowance of so many percent.
    """
    share = constant("amount_models", "skein_share").value
    enough = need.value + share * (most_m(need) - need.value)
    return min(enough, with_allowance(planning_m(need), percent))


def is_rounded_up(need: Figure) -> bool:
    """True for a pattern's count of balls, which was rounded up when it was written."""
    return need.basis is Basis.PATTERN and need.low < need.value == need.high


def least_balls(balls: float) -> float:
    """Returns what a count of balls may at least have been before it was rounded up."""
    return max(0.0, balls - (1.0 if balls == int(balls) else 0.5))


def need_from_balls(balls: float, put_up: PutUp) -> Figure:
    """Returns the metres a pattern's balls can mean: more than one ball less, at most all.

    The value is the upper end, which is what to plan for. A count with a fraction is taken
    as good to half a ball.
    """
    require_positive(balls=balls, metres=put_up.metres)
    low, high = least_balls(balls) * put_up.metres, balls * put_up.metres
    note = message("amount.between_balls", low_m=low, high_m=high)
    return Figure(high, low, high, Basis.PATTERN, (note,))


def need_from_mass(grams: float, put_up: PutUp) -> Figure:
    """Returns the metres that a pattern's grams of a stated put-up can mean.

    Grams that are whole balls were counted in balls; other grams were weighed.
    """
    require_positive(grams=grams, ball_grams=put_up.grams)
    balls = exact(float(grams)) / exact(float(put_up.grams))
    if balls.denominator == 1:
        return need_from_balls(float(balls), put_up)
    weighed = length_of_weighed(grams, put_up)
    return Figure(weighed.value, weighed.low, weighed.high, Basis.PATTERN, weighed.notes)


def length_of_weighed(grams: float, put_up: PutUp) -> Figure:
    """Returns the metres in a weighed amount of yarn of a known put-up.

    The interval is what the damp of the air does to the mass of wool (4 %).
    """
    require_positive(grams=grams, ball_grams=put_up.grams, metres=put_up.metres)
    moisture = constant("amount_models", "moisture").value
    metres = grams * put_up.metres / put_up.grams
    return spread(metres, moisture, Basis.ESTIMATE, message("amount.weighed", mass_g=grams))


def with_allowance(need_m: float, percent: Decimal) -> float:
    """Returns the need in metres with so many percent on top."""
    return float(exact(float(need_m)) * (1 + Fraction(percent) / 100))


@dataclass(frozen=True, slots=True)
class _ToleranceRow:
    above_g: float
    up_to_g: float
    percent: float | None
    grams: float | None


@cache
def _tolerances() -> tuple[_ToleranceRow, ...]:
    return tuple(
        _ToleranceRow(
            float(row["above_g"]),
            float(row["up_to_g"]),
            float(row["percent"]) if row["percent"] else None,
            float(row["grams"]) if row["grams"] else None,
        )
        for row in table("net_mass")
    )


def net_mass_tolerance_g(nominal_g: float) -> float | None:
    """Returns how many grams a single pack may be short of its stated net mass.

    Directive 76/211/EEC, Annex I; None outside its 5 g to 10 kg. It says nothing of length.
    """
    for row in _tolerances():
        if row.above_g <= nominal_g <= row.up_to_g:
            return row.grams if row.percent is None else nominal_g * row.percent / 100
    return None


def tolerance_m(skeins: int, put_up: PutUp) -> float | None:
    """Returns by how many metres so many skeins together may plausibly be short.

    One ball may be short by the tolerance of its mass; balls differ independently, so the
    whole grows with the root of their number. None where no tolerance is set for the mass.
    """
    short_g = net_mass_tolerance_g(put_up.grams)
    if short_g is None or skeins < 1:
        return None
    return short_g / put_up.grams * put_up.metres * sqrt(skeins)


def spare_is_thin(spare_m: float, skeins: int, put_up: PutUp) -> bool:
    """Returns True if what is left over, in metres, is less than the skeins may fall short.

    For a mass without a set tolerance the answer is False: nothing is known against it.
    """
    short_m = tolerance_m(skeins, put_up)
    return short_m is not None and spare_m < short_m
