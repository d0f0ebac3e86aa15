"""Which standard weight categories a yarn's evidence allows, and where the evidence disagrees."""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

from shopdesk.answering.thresholds import threshold
from shopdesk.craft.figures import Basis, Figure
from shopdesk.craft.messages import Message, message
from shopdesk.craft.thickness import wraps_from_length
from shopdesk.craft.weights import (
    categories_by_gauge,
    categories_by_length,
    categories_by_wraps,
    categories_named,
)
from shopdesk.craft.yarn import Craft
from shopdesk.reference.tables import table

Numbers = tuple[int, ...]


@dataclass(frozen=True, slots=True)
class WeightEvidence:
    """Everything that speaks about a yarn's weight category; None or '' is not known.

    `plied_metres` is the length per 100 g of a plied wool yarn of the same thickness.
    """

    weight_names: tuple[str, ...] = ()
    natural_stitches: Figure | None = None
    metres_per_100g: Figure | None = None
    wraps_per_inch: Figure | None = None
    density: Figure | None = None
    crochet_stitches: tuple[float, float] | None = None
    plied_metres: Figure | None = None


def allowed_categories(evidence: WeightEvidence) -> Numbers:
    """Returns every category the evidence allows: gauge and length per mass before names and wraps.

    Where gauge and length have categories in common, those; where they have none, both kinds;
    without either the names, then the wraps.
    """
    gauge, length = _by_gauge(evidence), _by_length(evidence)
    told = set(gauge) & set(length) or set(gauge) | set(length)
    return _sorted(told) or _named(evidence) or _by_wraps(evidence)


def disagreements(evidence: WeightEvidence) -> tuple[Message, ...]:
    """Returns a sentence for each piece of evidence that speaks against the name or another."""
    found = [
        _name_against(evidence, _by_gauge(evidence), "profile.name_against_gauge"),
        _name_against(evidence, _by_length(evidence), "profile.name_against_length"),
        _name_against_wraps(evidence),
        _wraps_against_length(evidence),
        _gauge_against_length(evidence),
    ]
    return tuple(said for said in found if said is not None)


def usual_category_for_wraps(wraps_per_inch: float) -> int:
    """Returns the category whose usual wraps per inch are nearest (common practice, no source)."""
    usual = usual_wraps()
    return min(usual, key=lambda number: (abs(math.log(wraps_per_inch / usual[number])), number))


@cache
def usual_wraps() -> Mapping[int, float]:
    """Returns the usual wraps per inch of the categories that have one (common practice)."""
    return {int(row["weight"]): float(row["wraps_per_inch"]) for row in table("wraps_usual")}


def _named(evidence: WeightEvidence) -> Numbers:
    return _sorted({n for name in evidence.weight_names for n in categories_named(name)})


def _by_gauge(evidence: WeightEvidence) -> Numbers:
    figure = evidence.natural_stitches
    if figure is not None and figure.basis is not Basis.ESTIMATE:
        return categories_by_gauge(figure.low, figure.high)
    if evidence.crochet_stitches is not None:
        return categories_by_gauge(*evidence.crochet_stitches, craft=Craft.CROCHET)
    return ()


def _by_length(evidence: WeightEvidence) -> Numbers:
    figure = evidence.plied_metres or evidence.metres_per_100g
    return categories_by_length(figure.low, figure.high) if figure is not None else ()


def _by_wraps(evidence: WeightEvidence) -> Numbers:
    figure = evidence.wraps_per_inch
    if figure is None or figure.basis is Basis.ESTIMATE:
        return ()
    return categories_by_wraps(figure.low, figure.high)


def _name_against(evidence: WeightEvidence, found: Numbers, code: str) -> Message | None:
    named = _named(evidence)
    if not named or not found or set(named) & set(found):
        return None
    return message(
        code, named=" / ".join(evidence.weight_names), found_term=f"terms.weight.{found[0]}"
    )


def _name_against_wraps(evidence: WeightEvidence) -> Message | None:
    figure, named = evidence.wraps_per_inch, _named(evidence)
    if figure is None or figure.basis is Basis.ESTIMATE or not named:
        return None
    usual = usual_category_for_wraps(figure.value)
    own = [wraps for category, wraps in usual_wraps().items() if category in named]
    doubt = threshold("wraps_reading_spread")
    if usual in named or not own or any(abs(figure.value / wraps - 1) <= doubt for wraps in own):
        return None
    return message(
        "profile.name_against_wraps",
        named=" / ".join(evidence.weight_names),
        wraps=round(figure.value, 1),
        found_term=f"terms.weight.{usual}",
    )


def _wraps_against_length(evidence: WeightEvidence) -> Message | None:
    wraps, length = evidence.wraps_per_inch, evidence.metres_per_100g
    if wraps is None or wraps.basis is Basis.ESTIMATE or length is None:
        return None
    density = evidence.density.value if evidence.density else None
    expected = wraps_from_length(length.value, density) if density else None
    if expected is None or abs(wraps.value / expected.value - 1) <= threshold(
        "wraps_reading_spread"
    ):
        return None
    thinner = wraps.value > expected.value
    code = "profile.wraps_thinner_than_length" if thinner else "profile.wraps_thicker_than_length"
    return message(code, wraps=round(wraps.value, 1), expected=round(expected.value, 1))


def _gauge_against_length(evidence: WeightEvidence) -> Message | None:
    gauge, length = _by_gauge(evidence), _by_length(evidence)
    if not gauge or not length or set(gauge) & set(length):
        return None
    return message(
        "profile.gauge_against_length",
        gauge_term=f"terms.weight.{gauge[0]}",
        length_term=f"terms.weight.{length[0]}",
    )


def _sorted(numbers: set[int]) -> Numbers:
    return tuple(sorted(numbers))
