"""What to measure next to settle a yarn's findings, and what to expect if the band is right."""

from collections.abc import Iterator, Sequence

from shopdesk.answering.label.label_findings import (
    Facet,
    Gravity,
    LabelFinding,
    MeasureKind,
    MeasureNext,
)
from shopdesk.answering.model.answer import Profile
from shopdesk.answering.profile.profile import band_tool_mm
from shopdesk.answering.thresholds import threshold
from shopdesk.craft.counts import count_tex, put_up_tex
from shopdesk.craft.messages import message
from shopdesk.craft.thickness import wraps_from_length
from shopdesk.craft.tools import nearest_made
from shopdesk.craft.yarn import Craft, LabelFacts, MeasurementKind, ShelfYarn

WEIGHED_M = 10.0
READINGS_WANTED = 3


def measure_next(
    yarn: ShelfYarn, profile: Profile, findings: Sequence[LabelFinding]
) -> tuple[MeasureNext, ...]:
    """Returns the things to do, the quickest first; () where nothing is in question.

    What has been measured already is not asked for again, but for a second reading of wraps.
    """
    facets = {facet for finding in findings for facet in finding.facets}
    steps = (*_weighing(yarn, facets), *_wrapping(yarn, profile, facets), *_swatching(yarn, facets))
    return (*steps, *_reading_again(yarn, findings))


def _has(yarn: ShelfYarn, kind: MeasurementKind) -> int:
    return sum(measured.kind is kind for measured in yarn.measurements)


def _weighing(yarn: ShelfYarn, facets: set[Facet]) -> Iterator[MeasureNext]:
    if Facet.LENGTH not in facets or _has(yarn, MeasurementKind.LENGTH):
        return
    tex = _band_tex(yarn.label)
    if tex is None:
        text = message("label_check.weigh_any", metres=WEIGHED_M)
    else:
        share, grams = threshold("label_length_spread"), tex * WEIGHED_M / 1000
        text = message(
            "label_check.weigh",
            metres=WEIGHED_M,
            low=round(grams * (1 - share), 1),
            high=round(grams * (1 + share), 1),
        )
    yield MeasureNext(MeasureKind.WEIGH, text)


def _band_tex(label: LabelFacts) -> float | None:
    if label.put_up is not None:
        return put_up_tex(label.put_up)
    return count_tex(label.count) if label.count is not None else None


def _wrapping(yarn: ShelfYarn, profile: Profile, facets: set[Facet]) -> Iterator[MeasureNext]:
    readings = _has(yarn, MeasurementKind.WRAPS)
    in_question = Facet.WRAPS in facets or (
        readings == 0 and facets & {Facet.NAME, Facet.LENGTH, Facet.GAUGE}
    )
    if not in_question or readings >= READINGS_WANTED:
        return
    length, density = profile.metres_per_100g, profile.density
    if length is None:
        yield MeasureNext(MeasureKind.WRAP, message("label_check.wrap_any"))
        return
    expected = wraps_from_length(length.value, density.value if density else None)
    text = message("label_check.wrap", low=round(expected.low), high=round(expected.high))
    yield MeasureNext(MeasureKind.WRAP, text)


def _swatching(yarn: ShelfYarn, facets: set[Facet]) -> Iterator[MeasureNext]:
    if not facets & {Facet.GAUGE, Facet.NAME, Facet.TOOL} or _has(yarn, MeasurementKind.SWATCH):
        return
    gauge = yarn.label.gauge
    tool = band_tool_mm(gauge)
    if gauge is None or tool is None:
        yield MeasureNext(MeasureKind.SWATCH, message("label_check.swatch_any"))
        return
    made = nearest_made(tool, Craft.KNIT)
    if gauge.stitches_low == gauge.stitches_high:
        one = message("label_check.swatch_one", tool_mm=made, said_st=gauge.stitches_low)
        yield MeasureNext(MeasureKind.SWATCH, one)
        return
    text = message(
        "label_check.swatch",
        tool_mm=made,
        low_st=gauge.stitches_low,
        high_st=gauge.stitches_high,
    )
    yield MeasureNext(MeasureKind.SWATCH, text)


def _reading_again(yarn: ShelfYarn, findings: Sequence[LabelFinding]) -> Iterator[MeasureNext]:
    """Fibre, care and counts are not settled by measuring, nor is what was measured already."""
    measured = any(
        finding.gravity is Gravity.MEASURED and len(finding.facets) == 1 for finding in findings
    )
    on_paper = any(finding.facets & {Facet.FIBRE, Facet.CARE} for finding in findings)
    if measured or on_paper:
        yield MeasureNext(MeasureKind.READ_BAND, message("label_check.read_band"))
