"""The label check on thickness: name, gauge, tool, wraps and length per mass against each other."""

from collections.abc import Iterable, Iterator
from math import inf, log

from shopdesk.answering.label.label_findings import Facet, Gravity, LabelFinding
from shopdesk.answering.model.answer import Profile
from shopdesk.answering.profile.categories import usual_wraps
from shopdesk.answering.profile.profile import band_stitches, band_tool_mm
from shopdesk.answering.thresholds import threshold
from shopdesk.craft.counts import count_tex, metres_per_100g, put_up_tex
from shopdesk.craft.figures import Basis, Figure
from shopdesk.craft.messages import Message, message
from shopdesk.craft.pooling import pooled_stitches
from shopdesk.craft.weights import categories_by_gauge, categories_by_length, categories_named
from shopdesk.craft.weights import category as category_of
from shopdesk.craft.yarn import LabelFacts, ShelfYarn

Range = tuple[float, float]
FACETS = {
    "profile.name_against_gauge": (Facet.NAME, Facet.GAUGE),
    "profile.name_against_length": (Facet.NAME, Facet.LENGTH),
    "profile.name_against_wraps": (Facet.NAME, Facet.WRAPS),
    "profile.wraps_thinner_than_length": (Facet.WRAPS, Facet.LENGTH),
    "profile.wraps_thicker_than_length": (Facet.WRAPS, Facet.LENGTH),
    "profile.gauge_against_length": (Facet.GAUGE, Facet.LENGTH),
}
LACE = 0


def weight_findings(yarn: ShelfYarn, profile: Profile) -> Iterator[LabelFinding]:
    """Yields everything about the yarn's thickness that does not go together, or is not said."""
    yield from _measured_against_band(yarn, profile)
    for said in profile.disagreements:
        facets = frozenset(FACETS[said.code])
        if Facet.GAUGE in facets and _is_lace(yarn.label, profile):
            continue
        gravity = Gravity.MEASURED if _is_measured(facets, profile) else Gravity.BAND
        yield LabelFinding(said, gravity, facets, _apart(said, yarn.label, profile))
    yield from _band_against_itself(yarn.label)
    yield from _unsaid(yarn.label)


def _is_lace(label: LabelFacts, profile: Profile) -> bool:
    """True for lace by name and length: by the standard its gauge is the pattern's, not its own."""
    length = profile.metres_per_100g
    named = categories_named(label.weight_name) if label.weight_name else ()
    by_length = categories_by_length(length.low, length.high) if length is not None else ()
    return LACE in named and LACE in by_length


def _measured_against_band(yarn: ShelfYarn, profile: Profile) -> Iterator[LabelFinding]:
    length, said = profile.metres_per_100g, _label_length(yarn.label)
    if length is not None and said is not None and length.basis is Basis.SHOP:
        apart = abs(log(length.value / said))
        if apart > threshold("measured_length_spread") + threshold("label_length_spread"):
            text = message(
                "label_check.weighed_against_band",
                measured_m=length.value,
                said_m=said,
                off_percent=abs(length.value / said - 1) * 100,
            )
            yield LabelFinding(text, Gravity.MEASURED, frozenset({Facet.LENGTH}), apart / 2)
    yield from _swatched_against_band(yarn)


def _swatched_against_band(yarn: ShelfYarn) -> Iterator[LabelFinding]:
    band = yarn.label.gauge
    swatched = pooled_stitches(yarn.measurements, None, band_tool_mm(band))
    if band is None or swatched is None:
        return
    said = band_stitches(band)
    if swatched.overlaps(said):
        return
    if band.stitches_low == band.stitches_high:
        text = message(
            "label_check.swatched_against_one",
            measured_st=swatched.value,
            said_st=band.stitches_low,
        )
    else:
        text = message(
            "label_check.swatched_against_band",
            measured_st=swatched.value,
            low_st=band.stitches_low,
            high_st=band.stitches_high,
        )
    apart = gap((swatched.low, swatched.high), [(said.low, said.high)])
    yield LabelFinding(text, Gravity.MEASURED, frozenset({Facet.GAUGE}), apart)


def _label_length(label: LabelFacts) -> float | None:
    """Metres per 100 g by the band alone."""
    if label.put_up is not None:
        return metres_per_100g(put_up_tex(label.put_up))
    return metres_per_100g(count_tex(label.count)) if label.count is not None else None


def _is_measured(facets: frozenset[Facet], profile: Profile) -> bool:
    figures = {
        Facet.GAUGE: profile.natural_stitches,
        Facet.LENGTH: profile.metres_per_100g,
        Facet.WRAPS: profile.wraps_per_inch,
    }
    known = [figures[facet] for facet in facets if facet in figures]
    return any(figure is not None and figure.basis is Basis.SHOP for figure in known)


def _apart(said: Message, label: LabelFacts, profile: Profile) -> float:
    """How far two pieces of evidence are apart, as a share of thickness.

    Gauge and wraps go with thickness, length per mass with its square, so its share is halved.
    """
    facets = set(FACETS[said.code])
    named = categories_named(label.weight_name) if label.weight_name else ()
    stitches, length, wraps = (
        profile.natural_stitches, profile.metres_per_100g, profile.wraps_per_inch,
    )  # fmt: skip
    if facets == {Facet.NAME, Facet.GAUGE}:
        return gap(_ends(stitches), map(knit_range, named))
    if facets == {Facet.NAME, Facet.LENGTH}:
        return gap(_ends(length), map(length_range, named)) / 2
    if facets == {Facet.NAME, Facet.WRAPS} and wraps is not None:
        usual = usual_wraps()
        return gap((wraps.value, wraps.value), [(usual[n], usual[n]) for n in named if n in usual])
    if facets == {Facet.GAUGE, Facet.LENGTH} and length is not None:
        by_length = categories_by_length(length.low, length.high)
        return gap(_ends(stitches), map(knit_range, by_length))
    read, expected = said.values["wraps"], said.values["expected"]
    assert isinstance(read, float | int)
    assert isinstance(expected, float | int)
    return abs(log(read / expected))


def _ends(figure: Figure | None) -> Range:
    assert figure is not None
    return figure.low, figure.high


def gap(found: Range, allowed: Iterable[Range]) -> float:
    """Returns the log distance from a range to the nearest of others; 0 where they meet."""
    low, high = found
    gaps = [max(1.0, low / last, first / high) for first, last in allowed]
    return log(min(gaps, default=1.0))


def knit_range(number: int) -> Range:
    """Returns a category's stitches per 10 cm, open ends closed at 1 and infinity."""
    found = category_of(number)
    return found.knit_low or 1.0, found.knit_high or inf


def length_range(number: int) -> Range:
    """Returns a category's metres per 100 g (common practice), open ends closed likewise."""
    found = category_of(number)
    return found.metres_low or 1.0, found.metres_high or inf


def _band_against_itself(label: LabelFacts) -> Iterator[LabelFinding]:
    if label.put_up is not None and label.count is not None:
        by_put_up, by_count = put_up_tex(label.put_up), count_tex(label.count)
        apart = abs(log(by_put_up / by_count))
        if apart > threshold("label_length_spread") + threshold("count_spread"):
            text = message(
                "label_check.count_against_put_up",
                written=label.count.written,
                by_count_m=metres_per_100g(by_count),
                by_put_up_m=metres_per_100g(by_put_up),
            )
            yield LabelFinding(text, Gravity.BAND, frozenset({Facet.LENGTH}), apart / 2)
    yield from _tool_against_gauge(label)
    if label.weight_name and not categories_named(label.weight_name):
        text = message("label_check.name_unknown", named=label.weight_name)
        yield LabelFinding(text, Gravity.UNUSUAL, frozenset({Facet.NAME}))


def _tool_against_gauge(label: LabelFacts) -> Iterator[LabelFinding]:
    """The band's needle against those the standard gives for its gauge; lace is worked loosely."""
    band, tool = label.gauge, band_tool_mm(label.gauge)
    if band is None or band.tool_mm_low is None or tool is None:
        return
    found = categories_by_gauge(band.stitches_low, band.stitches_high)
    if not found or LACE in found:
        return
    lows = [category_of(number).needle_mm_low for number in found]
    low = min(mm for mm in lows if mm is not None)
    high = max(category_of(number).needle_mm_high or inf for number in found)
    said = (band.tool_mm_low, band.tool_mm_high or band.tool_mm_low)
    apart = gap(said, [(low, high)])
    if apart > threshold("band_tool_reach"):
        facets = frozenset({Facet.TOOL, Facet.GAUGE})
        yield LabelFinding(
            _tool_words(band.stitches_low, tool, low, high), Gravity.UNUSUAL, facets, apart
        )


def _tool_words(stitches: float, tool: float, low: float, high: float) -> Message:
    if high == inf:
        return message(
            "label_check.tool_under_gauge", stitches_st=stitches, tool_mm=tool, from_mm=low
        )
    return message(
        "label_check.tool_against_gauge",
        stitches_st=stitches,
        tool_mm=tool,
        from_mm=low,
        to_mm=high,
    )


def _unsaid(label: LabelFacts) -> Iterator[LabelFinding]:
    if label.put_up is None and label.count is None:
        yield _missing("label_check.no_length", Facet.LENGTH)
    if label.gauge is None and label.crochet_gauge is None:
        yield _missing("label_check.no_gauge", Facet.GAUGE)


def _missing(code: str, facet: Facet) -> LabelFinding:
    return LabelFinding(message(code), Gravity.UNSAID, frozenset({facet}))
