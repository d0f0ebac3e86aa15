"""The fabric drawing: stockinette at the pattern's gauge, with yarns as thick as they are."""

from dataclasses import dataclass

from shopdesk.answering.model.answer import Candidate
from shopdesk.answering.model.ask import Ask
from shopdesk.craft.gauge import rows_guess

PANEL_MM = 40.0
UNITS_PER_MM = 6.0
GAP_MM = 6.0


@dataclass(frozen=True, slots=True)
class Panel:
    """One piece of fabric: the left and right legs of each course as SVG paths."""

    title: str
    x: float
    courses: tuple[str, ...]
    stroke: float
    thickness_mm: float


@dataclass(frozen=True, slots=True)
class FabricDrawing:
    """Both panels beside each other."""

    width: float
    height: float
    side: float
    panels: tuple[Panel, ...]
    stitches: float
    rows: float


def fabric_drawing(ask: Ask, candidate: Candidate) -> FabricDrawing | None:
    """Returns the drawing, the original first where its thickness is known; else None.

    None also where the pattern's gauge is unknown or not in plain knitting.
    """
    fabric = candidate.fabric
    if ask.gauge is None or fabric is None or fabric.loop_mm is None or not fabric.thickness_mm:
        return None
    rows = ask.gauge.rows or rows_guess(ask.gauge.stitches).value
    courses = stockinette_courses(ask.gauge.stitches, rows)
    pieces = [("Original", fabric.original_thickness_mm), (candidate.name, fabric.thickness_mm)]
    known = [(title, thickness) for title, thickness in pieces if thickness is not None]
    side = PANEL_MM * UNITS_PER_MM
    panels = tuple(
        Panel(
            title=title,
            x=index * (side + GAP_MM * UNITS_PER_MM),
            courses=courses,
            stroke=round(thickness * UNITS_PER_MM, 2),
            thickness_mm=round(thickness, 2),
        )
        for index, (title, thickness) in enumerate(known)
    )
    width = len(panels) * side + (len(panels) - 1) * GAP_MM * UNITS_PER_MM
    return FabricDrawing(width, side, side, panels, ask.gauge.stitches, round(rows, 1))


def stockinette_courses(stitches: float, rows: float) -> tuple[str, ...]:
    """Returns the left and the right legs of every course in a panel, the lowest course first.

    `stitches` and `rows` are per 10 cm. A stitch is a V: two legs from its foot up to the
    corners, one wale (100/stitches mm) wide, one course (100/rows mm) high, and reaching into
    the course above.
    """
    wale, course = 100 / stitches * UNITS_PER_MM, 100 / rows * UNITS_PER_MM
    side = PANEL_MM * UNITS_PER_MM
    middles = [(stitch + 0.5) * wale for stitch in range(int(side / wale) + 2)]
    return tuple(
        "".join(_leg(middle, way, side - row * course, wale, course) for middle in middles)
        for row in range(-2, int(side / course) + 2)
        for way in (-1, 1)
    )


def _leg(middle: float, way: int, foot: float, wale: float, course: float) -> str:
    """One leg, on the left (-1) or right (1), from near the middle up to the stitch's side."""
    inner, outer = middle + way * wale * 0.17, middle + way * wale * 0.31
    lower, upper, top = foot - course * 0.5, foot - course * 0.8, foot - course * 1.3
    curve = f"{inner:.1f} {lower:.1f} {outer:.1f} {upper:.1f} {outer:.1f} {top:.1f}"
    return f"M{inner:.1f} {foot:.1f}C{curve}"
