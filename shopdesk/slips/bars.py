"""A bar code as a flowable: exact module widths, quiet zones kept, the digits below."""

from reportlab.lib.colors import black
from reportlab.lib.units import mm
from reportlab.platypus import Flowable

from shopdesk.slips.barcodes import MODULE_MM, QUIET_MODULES, Barcode
from shopdesk.slips.fonts import REGULAR

HEIGHT_MM = 9.0
DIGITS_PT = 7.0
DIGITS_ROOM_PT = 10.0
"""What the digits take below the bars, with the space around them."""


class Bars(Flowable):
    """Draws one Barcode at the left of the space it is given."""

    def __init__(self, barcode: Barcode) -> None:
        super().__init__()
        self.barcode = barcode

    def wrap(self, available_width: float, available_height: float) -> tuple[float, float]:
        """Returns the size in points; the width has both quiet zones in it."""
        self.width = self.barcode.width_mm * mm
        self.height = HEIGHT_MM * mm + DIGITS_ROOM_PT
        return self.width, self.height

    def draw(self) -> None:
        """Draws bars and digits."""
        canvas, module = self.canv, MODULE_MM * mm
        canvas.setFillColor(black)
        for first, wide in self.barcode.bars():
            left = (QUIET_MODULES + first) * module
            canvas.rect(left, DIGITS_ROOM_PT, wide * module, HEIGHT_MM * mm, stroke=0, fill=1)
        canvas.setFont(REGULAR, DIGITS_PT)
        canvas.drawCentredString(self.width / 2, 2.2, self.barcode.digits)
