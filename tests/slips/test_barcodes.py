import pytest
from hypothesis import given
from hypothesis import strategies as st
from reportlab.graphics.barcode.eanbc import Ean8BarcodeWidget, Ean13BarcodeWidget
from stdnum import ean

from shopdesk.parsing.gtins import GtinRefused
from shopdesk.slips.barcodes import MODULE_MM, QUIET_MODULES, barcode, printable

STEMS = st.text("0123456789", min_size=12, max_size=12)


def test_narrowest_bar_and_quiet_zone() -> None:
    # GS1 asks for 11 modules at the left; 0.30 mm is the least a 203 dpi printer can do.
    assert MODULE_MM >= 0.30
    assert QUIET_MODULES >= 11


@given(STEMS)
def test_modules_of_thirteen_digits_are_those_of_reportlab(stem: str) -> None:
    number = stem + ean.calc_check_digit(stem)
    assert "".join(_reportlab(Ean13BarcodeWidget(number))) == barcode(number).modules


@given(st.text("0123456789", min_size=7, max_size=7))
def test_modules_of_eight_digits_are_those_of_reportlab(stem: str) -> None:
    number = stem + ean.calc_check_digit(stem)
    assert "".join(_reportlab(Ean8BarcodeWidget(number))) == barcode(number).modules


def _reportlab(widget: Ean13BarcodeWidget | Ean8BarcodeWidget) -> str:
    """Reads the bars that ReportLab would draw back into modules."""
    widget.quiet = False
    widget.humanReadable = False
    rectangles = (shape for shape in widget.draw().contents if hasattr(shape, "width"))
    bars = [shape for shape in rectangles if shape.fillColor is not None]
    width = widget.barWidth
    modules = ["0"] * round(max(bar.x + bar.width for bar in bars) / width)
    for bar in bars:
        for number in range(round(bar.x / width), round((bar.x + bar.width) / width)):
            modules[number] = "1"
    return "".join(modules)


@given(STEMS)
def test_bars_cover_exactly_the_black_modules(stem: str) -> None:
    code = barcode(stem + ean.calc_check_digit(stem))
    drawn = {m for first, wide in code.bars() for m in range(first, first + wide)}
    assert drawn == {number for number, module in enumerate(code.modules) if module == "1"}


def test_upc_a_is_printed_with_a_leading_zero() -> None:
    assert barcode("036000291452") == barcode("0036000291452")


@pytest.mark.parametrize("wrong", ["4006381333932", "123", "abc", "", "14006381333938"])
def test_what_is_not_a_skeins_number_is_refused_and_never_repaired(wrong: str) -> None:
    with pytest.raises(GtinRefused):
        barcode(wrong)
    assert printable(wrong) is None


def test_no_number_is_not_printed() -> None:
    assert printable(None) is None
