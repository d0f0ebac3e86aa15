"""Asks back a swatch that cannot be: what was counted, measured or weighed does not go together."""

from collections.abc import Iterator

from shopdesk.answering.swatch.swatch_reading import MeasuredSwatch
from shopdesk.craft.errors import InputErrors, Problem
from shopdesk.craft.figures import Figure
from shopdesk.craft.messages import message, significant
from shopdesk.craft.swatch import WeighedSwatch
from shopdesk.craft.swatch_limits import (
    grams_by_yarn,
    grams_per_m2,
    mass_can_be,
    mass_can_be_of,
    rows_can_be,
)
from shopdesk.craft.yarn import Craft


def require_possible(swatch: MeasuredSwatch, craft: Craft, tex: Figure | None) -> None:
    """Raises InputErrors, each under its field, where no swatch can be as this one was reported.

    `tex` is of all strands together; None where the yarn does not tell.
    """
    problems = [*_rows_problem(swatch, craft), *_mass_problem(swatch, tex)]
    if problems:
        raise InputErrors(problems)


def _rows_problem(swatch: MeasuredSwatch, craft: Craft) -> Iterator[Problem]:
    gauge = swatch.gauge
    if gauge.rows is None or rows_can_be(gauge, craft, swatch.stitch_pattern.value):
        return
    wrong = message(
        "problem_ask.rows_and_stitches",
        stitches_exact=significant(gauge.stitches, 4),
        rows_exact=significant(gauge.rows, 4),
    )
    yield Problem(("rows",), wrong, message("problem_ask.count_both"))


def _mass_problem(swatch: MeasuredSwatch, tex: Figure | None) -> Iterator[Problem]:
    piece = swatch.weighed
    if piece is None:
        return
    right = message("problem_ask.weigh_again")
    expected_g = _expected_g(swatch, piece, tex)
    if not mass_can_be(piece):
        wrong = message("problem_ask.no_such_fabric", per_m2_g=grams_per_m2(piece))
        yield Problem(("mass",), wrong, right)
    elif expected_g is not None and not mass_can_be_of(piece, expected_g):
        wrong = message("problem_ask.mass_and_yarn", about_g=expected_g)
        yield Problem(("mass",), wrong, right)


def _expected_g(swatch: MeasuredSwatch, piece: WeighedSwatch, tex: Figure | None) -> float | None:
    if tex is None:
        return None
    return grams_by_yarn(piece, tex.value, swatch.gauge, swatch.stitch_pattern.value).value
