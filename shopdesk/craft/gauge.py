"""Stitches, rows and sizes: what a change of gauge does, and which tool to start with."""

from math import sqrt

from shopdesk.craft.figures import Basis, Figure
from shopdesk.craft.messages import message
from shopdesk.reference.tables import constant


def require_positive(**quantities: float) -> None:
    """Raises ValueError naming the first quantity that is not above zero."""
    for name, quantity in quantities.items():
        if not quantity > 0:
            raise ValueError(f"{name} is {quantity}; it must be above 0")


def per_10cm(count: float, over_mm: float) -> float:
    """Returns stitches (or rows) per 10 cm from a count over a length in mm."""
    require_positive(count=count, over_mm=over_mm)
    return count * 100 / over_mm


def count_for(cm: float, per_10cm: float) -> float:
    """Returns how many stitches or rows, not rounded, make a measure in cm at a gauge per 10 cm."""
    require_positive(per_10cm=per_10cm)
    return cm * per_10cm / 10


def size_same_counts_cm(cm: float, per10_old: float, per10_new: float) -> float:
    """Returns the new measure in cm if the counts stay and the gauge per 10 cm changes."""
    require_positive(per10_old=per10_old, per10_new=per10_new)
    return cm * per10_old / per10_new


def density_ratio(sts1: float, rows1: float | None, sts2: float, rows2: float | None) -> float:
    """Returns stitches per area at the second gauge over those at the first, all per 10 cm.

    If a row gauge is unknown, the rows are taken to change as the stitches do.
    """
    require_positive(sts1=sts1, sts2=sts2)
    if rows1 is None or rows2 is None:
        return (sts2 / sts1) ** 2
    require_positive(rows1=rows1, rows2=rows2)
    return (sts2 * rows2) / (sts1 * rows1)


def length_same_size(
    length_m: float, sts1: float, rows1: float | None, sts2: float, rows2: float | None
) -> float:
    """Returns the metres for the same finished size when the gauge per 10 cm changes.

    Length per area goes with the root of stitches per area (Munden 1959).
    """
    return length_m * sqrt(density_ratio(sts1, rows1, sts2, rows2))


def length_same_counts(
    length_m: float, sts1: float, rows1: float | None, sts2: float, rows2: float | None
) -> float:
    """Returns the metres for the same counts of stitches and rows when the gauge changes.

    The loop's length goes with one over the root of stitches per area (Munden 1959).
    """
    return length_m / sqrt(density_ratio(sts1, rows1, sts2, rows2))


def rows_guess(stitches: float) -> Figure:
    """Returns a guess at rows per 10 cm of stockinette from stitches per 10 cm (usual labels)."""
    require_positive(stitches=stitches)
    ratio = constant("gauge_models", "rows_per_stitch")
    value = stitches * ratio.value
    note = message("amount.rows_guessed", rows_st=value)
    return Figure(value, stitches * ratio.low, stitches * ratio.high, Basis.ESTIMATE, (note,))


def tool_mm_for(known_mm: float, known_stitches: float, wanted_stitches: float) -> Figure:
    """Returns the tool in mm to start a swatch with, from one gauge known on one tool.

    Stitches per 10 cm are taken to go with mm to the power -k; k and its range are common
    practice (reference/gauge_models.csv), and the known gauge may itself be misread.
    """
    require_positive(known_mm=known_mm, known_stitches=known_stitches, wanted=wanted_stitches)
    exponent = constant("gauge_models", "tool_exponent")
    reading = constant("gauge_models", "gauge_reading").value
    ratio = known_stitches / wanted_stitches
    ends = [
        known_mm * (ratio * misread) ** (1 / k)
        for k in (exponent.low, exponent.value, exponent.high)
        for misread in (1 - reading, 1, 1 + reading)
        if k == exponent.value or misread == 1
    ]
    value = known_mm * ratio ** (1 / exponent.value)
    notes = [message("amount.tool_estimate", known_mm=known_mm, known_st=known_stitches)]
    if abs(ratio - 1) > constant("gauge_models", "tool_reach").value:
        notes.append(message("amount.tool_far", known_st=known_stitches, wanted_st=wanted_stitches))
    return Figure(value, min(ends), max(ends), Basis.ESTIMATE, tuple(notes))
