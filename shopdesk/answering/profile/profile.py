"""What a yarn is, from every piece of evidence; a shop measurement outranks the label."""

from collections.abc import Sequence
from dataclasses import replace
from functools import lru_cache
from statistics import mean

from shopdesk.answering.model.answer import Profile
from shopdesk.answering.model.ask import DesignerYarn
from shopdesk.answering.profile.categories import WeightEvidence, allowed_categories, disagreements
from shopdesk.answering.thresholds import threshold
from shopdesk.craft.airy import air_of
from shopdesk.craft.behaviour import trait_sayings, traits
from shopdesk.craft.counts import count_tex, metres_per_100g, put_up_tex
from shopdesk.craft.fibres import blend_density
from shopdesk.craft.figures import Basis, Figure, spread
from shopdesk.craft.joined_evidence import joined
from shopdesk.craft.messages import message
from shopdesk.craft.pooling import is_plain_swatch, pooled_stitches
from shopdesk.craft.thickness import diameter_mm, gauge_from_length, wraps_from_length
from shopdesk.craft.weights import categories_named, category
from shopdesk.craft.yarn import (
    BandGauge,
    Craft,
    LabelFacts,
    Measurement,
    MeasurementKind,
    ShelfYarn,
)
from shopdesk.reference.tables import constant

MM_PER_INCH = 25.4


def shelf_profile(yarn: ShelfYarn) -> Profile:
    """Returns the profile of one house yarn."""
    names = (yarn.label.weight_name,) if yarn.label.weight_name else ()
    return _profile(yarn.label, names, yarn.measurements)


def designer_profile(yarn: DesignerYarn) -> Profile:
    """Returns the profile of one strand of the designer's yarn, by what the pattern says of it."""
    label = LabelFacts(
        put_up=yarn.put_up,
        count=yarn.count,
        gauge=yarn.gauge if yarn.gauge and yarn.gauge.craft is Craft.KNIT else None,
        crochet_gauge=yarn.gauge if yarn.gauge and yarn.gauge.craft is Craft.CROCHET else None,
        construction=yarn.construction,
        fibres=yarn.fibres,
        attributes=yarn.attributes,
        care=yarn.care,
    )
    return _profile(label, yarn.weight_names, (), yarn.wraps_per_inch)


@lru_cache(maxsize=20_000)
def _profile(
    label: LabelFacts,
    weight_names: tuple[str, ...],
    measurements: tuple[Measurement, ...],
    printed_wraps: float | None = None,
) -> Profile:
    density = _density(label)
    tex = _tex(label, measurements)
    length = _length_per_100g(tex)
    wraps = _wraps(measurements, printed_wraps, length, density)
    stitches = _natural_stitches(label, weight_names, measurements, length, density)
    evidence = _evidence(label, weight_names, stitches, length, wraps, density)
    thickness = _inverted(wraps, MM_PER_INCH)
    return Profile(
        tex=tex,
        metres_per_100g=length,
        natural_stitches=stitches,
        natural_rows=_natural_rows(label, measurements),
        wraps_per_inch=wraps,
        thickness_mm=thickness,
        loft=_loft(thickness, tex, density),
        density=density,
        categories=allowed_categories(evidence),
        disagreements=disagreements(evidence),
        behaviour=trait_sayings(traits(label.fibres, label.attributes, label.construction)),
    )


def _evidence(
    label: LabelFacts,
    weight_names: tuple[str, ...],
    stitches: Figure | None,
    length: Figure | None,
    wraps: Figure | None,
    density: Figure | None,
) -> WeightEvidence:
    return WeightEvidence(
        weight_names,
        stitches,
        length,
        wraps,
        density,
        _crochet_range(label.crochet_gauge),
        _plied_length(length, density, air_of(label.construction)),
    )


def _density(label: LabelFacts) -> Figure | None:
    density = blend_density(label.fibres) if label.fibres else None
    return Figure(density, density, density, Basis.LABEL) if density is not None else None


def _tex(label: LabelFacts, measurements: Sequence[Measurement]) -> Figure | None:
    weighed = [
        m.mass_g / m.length_m * 1000
        for m in measurements
        if m.kind is MeasurementKind.LENGTH and m.mass_g and m.length_m
    ]
    if weighed:
        share = threshold("measured_length_spread")
        low, high = min(weighed) * (1 - share), max(weighed) * (1 + share)
        return Figure(mean(weighed), low, high, Basis.SHOP, (message("profile.weighed_length"),))
    if label.put_up is not None:
        note = message("profile.put_up_nominal")
        return spread(put_up_tex(label.put_up), threshold("label_length_spread"), Basis.LABEL, note)
    if label.count is not None:
        note = message("profile.from_count", written=label.count.written, system=label.count.system)
        return spread(count_tex(label.count), threshold("count_spread"), Basis.LABEL, note)
    return None


def _length_per_100g(tex: Figure | None) -> Figure | None:
    if tex is None:
        return None
    return Figure(
        metres_per_100g(tex.value),
        metres_per_100g(tex.high),
        metres_per_100g(tex.low),
        tex.basis,
        tex.notes,
    )


def _plied_length(
    length: Figure | None, density: Figure | None, air: Figure | None
) -> Figure | None:
    """Returns the metres per 100 g that a plied wool yarn as thick as this one would have.

    Of the same thickness a lighter fibre has more metres, and so has a yarn that holds air.
    """
    if length is None:
        return None
    of_wool = constant("thickness_models", "wool_density").value
    share = density.value / of_wool if density is not None else 1.0
    low, value, high = (air.low, air.value, air.high) if air else (1.0, 1.0, 1.0)
    scaled = length.scaled(share)
    return replace(
        scaled, value=scaled.value / value, low=scaled.low / high, high=scaled.high / low
    )


def _wraps(
    measurements: Sequence[Measurement],
    printed: float | None,
    length: Figure | None,
    density: Figure | None,
) -> Figure | None:
    readings = [m.wraps_per_inch for m in measurements if m.wraps_per_inch]
    share = threshold("wraps_reading_spread")
    if readings:
        return spread(mean(readings), share / len(readings) ** 0.5, Basis.SHOP)
    if printed is not None:
        return spread(printed, share, Basis.PATTERN)
    if length is None or density is None:
        return None
    return wraps_from_length(length.value, density.value)


def _inverted(figure: Figure | None, numerator: float) -> Figure | None:
    if figure is None:
        return None
    low, high = numerator / figure.high, numerator / figure.low
    return Figure(numerator / figure.value, low, high, figure.basis, figure.notes)


def _loft(thickness: Figure | None, tex: Figure | None, density: Figure | None) -> Figure | None:
    """Wrapped thickness over the diameter of the same fibre packed solid."""
    if thickness is None or tex is None or density is None or thickness.basis is Basis.ESTIMATE:
        return None
    return thickness.scaled(1 / diameter_mm(tex.value, density.value, 1.0))


def _natural_stitches(
    label: LabelFacts,
    weight_names: tuple[str, ...],
    measurements: Sequence[Measurement],
    length: Figure | None,
    density: Figure | None,
) -> Figure | None:
    """What the band says, else what length or name let expect, narrowed by the swatches."""
    if label.gauge is not None:
        before: Figure | None = band_stitches(label.gauge)
    else:
        plied = _plied_length(length, None, air_of(label.construction))
        before = _estimated_stitches(weight_names, plied, density)
    return pooled_stitches(measurements, before, band_tool_mm(label.gauge))


def band_tool_mm(gauge: BandGauge | None) -> float | None:
    """Returns the tool a band names in mm, the middle where it names a range."""
    if gauge is None or gauge.tool_mm_low is None:
        return None
    return (gauge.tool_mm_low + (gauge.tool_mm_high or gauge.tool_mm_low)) / 2


def band_stitches(gauge: BandGauge) -> Figure:
    """Returns a band's stitches per 10 cm with the doubt that a band's figure has."""
    low, high = gauge.stitches_low, gauge.stitches_high
    middle = (low + high) / 2
    share = threshold("band_gauge_spread")
    return Figure(
        middle, min(low, middle * (1 - share)), max(high, middle * (1 + share)), Basis.LABEL
    )


def _estimated_stitches(
    weight_names: tuple[str, ...], length: Figure | None, density: Figure | None
) -> Figure | None:
    pieces: list[Figure] = []
    if length is not None:
        estimate = gauge_from_length(length.value, density.value if density else None)
        pieces += [_as_wide(estimate, length)] if estimate is not None else []
    numbers = [n for name in weight_names for n in categories_named(name)]
    if numbers:
        low, high = _knit_range(numbers)
        note = message("profile.gauge_from_name", named=" / ".join(weight_names))
        pieces.append(Figure((low + high) / 2, low, high, Basis.ESTIMATE, (note,)))
    return joined(pieces, Basis.ESTIMATE) if pieces else None


def _as_wide(estimate: Figure, length: Figure) -> Figure:
    """Returns a gauge told from a length, at least as unsure as the root of the length."""
    low, high = (end / length.value for end in (length.low, length.high))
    around = estimate.value
    return replace(
        estimate,
        low=min(estimate.low, around * low**0.5),
        high=max(estimate.high, around * high**0.5),
    )


def _knit_range(numbers: Sequence[int]) -> tuple[float, float]:
    """The standard's stitches per 10 cm over these categories; 1 where the range is open below.

    What is called lace is knitted at almost any gauge, so its range is wider.
    """
    known = [category(number) for number in numbers]
    lows, highs = [one.knit_low or 1.0 for one in known], [one.knit_high for one in known]
    lows += [threshold("lace_name_from")] if 0 in numbers else []
    return min(lows), max(high for high in highs if high is not None)


def _natural_rows(label: LabelFacts, measurements: Sequence[Measurement]) -> Figure | None:
    rows = [m.rows for m in measurements if m.rows and is_plain_swatch(m, Craft.KNIT)]
    share = threshold("band_rows_spread")
    if rows:
        return spread(mean(rows), share / len(rows) ** 0.5, Basis.SHOP)
    if label.gauge is not None and label.gauge.rows:
        return spread(label.gauge.rows, share, Basis.LABEL)
    return None


def _crochet_range(gauge: BandGauge | None) -> tuple[float, float] | None:
    return (gauge.stitches_low, gauge.stitches_high) if gauge else None
