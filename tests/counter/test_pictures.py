"""The answer page's pictures: their geometry is to scale and their text says the same."""

import re
from collections.abc import Sequence
from itertools import pairwise

import pytest
from jinja2 import Environment, FileSystemLoader, StrictUndefined

from shopdesk.answering.answer.whole_shelf import answer
from shopdesk.answering.model.answer import Answer, Candidate
from shopdesk.answering.model.ask import Ask
from shopdesk.bundled import bundled
from shopdesk.counter.pictures.calibration_chart import calibration_chart
from shopdesk.counter.pictures.fabric_drawing import (
    UNITS_PER_MM,
    FabricDrawing,
    fabric_drawing,
    stockinette_courses,
)
from shopdesk.counter.pictures.gauge_ruler import GaugeRuler, gauge_ruler
from shopdesk.craft.deviations import Deviation
from shopdesk.craft.figures import Basis, Figure
from shopdesk.services.calibration import YarnCalibration
from tests.ask_documents import a_designer_yarn, a_gauge, an_ask
from tests.factories import a_band_gauge, a_label, a_yarn, shop_terms

TEMPLATES = Environment(
    loader=FileSystemLoader(bundled("templates")), autoescape=True, undefined=StrictUndefined
)


def answered(stitches: Sequence[float], **fields: object) -> tuple[Ask, Answer]:
    ask = an_ask(designer_yarn=a_designer_yarn(), **fields)
    yarns = [
        a_yarn(f"Y-{n}", name=f"<Wool {n}>", label=a_label(None, 240, gauge=a_band_gauge(n)))
        for n in stitches
    ]
    return ask, answer(ask, yarns, shop_terms())


def ruler_of(found: Answer) -> GaugeRuler:
    ruler = gauge_ruler(found.target.natural_stitches, found.candidates)
    assert ruler is not None
    return ruler


def drawing_of(ask: Ask, candidate: Candidate) -> FabricDrawing:
    drawing = fabric_drawing(ask, candidate)
    assert drawing is not None
    return drawing


def test_ruler_keeps_order_and_scale() -> None:
    ruler = ruler_of(answered([20.5, 22, 23.5])[1])
    by_gauge = sorted(ruler.bars, key=lambda bar: bar.stitches)
    assert [bar.x_value for bar in by_gauge] == sorted(bar.x_value for bar in by_gauge)
    assert all(bar.x_low <= bar.x_value <= bar.x_high <= ruler.width for bar in ruler.bars)
    middle = next(bar for bar in ruler.bars if bar.stitches == 22)
    assert middle.x_value == pytest.approx(ruler.wanted_x)


def test_ruler_leaves_out_what_is_not_for_this() -> None:
    ruler = ruler_of(answered([22, 12])[1])
    assert [bar.name for bar in ruler.bars] == ["<Wool 22>"]


def test_no_ruler_without_a_gauge_to_aim_at() -> None:
    assert gauge_ruler(None, answered([22])[1].candidates) is None


def test_fabric_is_to_scale() -> None:
    ask, found = answered([22])
    drawing = drawing_of(ask, found.candidates[0])
    assert [panel.title for panel in drawing.panels] == ["Original", "<Wool 22>"]
    for panel in drawing.panels:
        assert panel.stroke == pytest.approx(panel.thickness_mm * UNITS_PER_MM, abs=0.05)


@pytest.mark.parametrize(("stitches", "rows"), [(6, 9), (22, 30), (40, 56)])
def test_stitches_are_as_far_apart_as_the_gauge_says(stitches: float, rows: float) -> None:
    feet = [float(x) for x in re.findall(r"M(-?[\d.]+) ", stockinette_courses(stitches, rows)[0])]
    apart = {round(b - a, 1) for a, b in pairwise(feet)}
    assert max(abs(step - 100 / stitches * UNITS_PER_MM) for step in apart) <= 0.11


def test_no_drawing_where_the_fabric_is_not_plain() -> None:
    ask, found = answered([22], gauge=a_gauge(22, 30, stitch_pattern="lace"))
    assert fabric_drawing(ask, found.candidates[0]) is None


def test_pictures_escape_names_and_say_what_they_show() -> None:
    ask, found = answered([22])
    ruler = TEMPLATES.get_template("pictures/gauge_ruler.svg").render(ruler=ruler_of(found))
    drawing = drawing_of(ask, found.candidates[0])
    fabric = TEMPLATES.get_template("pictures/fabric_drawing.svg").render(
        drawing=drawing, picture_id="y"
    )
    for svg in (ruler, fabric):
        assert "<Wool" not in svg
        assert "&lt;Wool 22&gt;" in svg
        assert 'role="img"' in svg
        assert "<title" in svg
        assert "style=" not in svg
    assert "from the label" in ruler


def a_yarns_calibration(name: str, *shares: float, unbiased: bool = True) -> YarnCalibration:
    """A yarn stated at 20 stitches, 19 to 22, and swatches by shares of that off."""
    stated = Figure(20, 19, 22, Basis.LABEL)
    found = tuple(Deviation(20 * (1 + share), stated, unbiased) for share in shares)
    return YarnCalibration(name, name, stated, found)


def test_swatches_lie_to_scale_beside_what_was_stated() -> None:
    chart = calibration_chart([a_yarns_calibration("Wool", -0.1, 0, 0.1)])
    assert chart is not None
    [row] = chart.rows
    low, middle, high = (mark.x for mark in row.marks)
    assert middle == pytest.approx(chart.zero_x)
    # The range reaches from 5 % under to 10 % over the stated value.
    assert row.x_high == pytest.approx(high)
    assert chart.zero_x - row.x_low == pytest.approx((middle - low) / 2, abs=0.02)
    assert chart.ticks[0].label.startswith("-")
    assert "0" in [tick.label for tick in chart.ticks]


def test_what_lies_beyond_the_picture_stays_at_its_edge_and_says_so() -> None:
    chart = calibration_chart([a_yarns_calibration("Wool", 1.2)])
    assert chart is not None
    [mark] = chart.rows[0].marks
    assert mark.beyond
    assert mark.percent == pytest.approx(120)
    assert mark.x <= chart.width


def test_twelve_yarns_are_drawn_and_none_makes_no_picture() -> None:
    assert calibration_chart([]) is None
    chart = calibration_chart([a_yarns_calibration(f"Wool {n}", 0.01) for n in range(15)])
    assert chart is not None
    assert [row.name for row in chart.rows] == [f"Wool {n}" for n in range(12)]


def test_asked_for_and_unasked_differ_by_shape_and_in_words() -> None:
    yarns = [
        a_yarns_calibration("<Asked>", 0.02),
        a_yarns_calibration("Unasked", -0.031, unbiased=False),
    ]
    svg = TEMPLATES.get_template("pictures/calibration_chart.svg").render(
        chart=calibration_chart(yarns)
    )
    assert svg.count("<circle") == svg.count('class="chart-unasked"') == 1
    assert "&lt;Asked&gt;: +2.0 % asked for." in svg
    assert "Unasked: -3.1 % came by itself." in svg
    assert "style=" not in svg
