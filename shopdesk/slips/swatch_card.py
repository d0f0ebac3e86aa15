"""The swatch card: how to make it, how to measure it, and what to do with what it shows."""

from collections.abc import Iterator
from decimal import ROUND_HALF_UP, Decimal

from shopdesk.answering.answer import Candidate
from shopdesk.answering.ask import Ask, Measurements
from shopdesk.craft.sayings import Saying, saying
from shopdesk.craft.yarn import Craft
from shopdesk.slips.content import SwatchCard
from shopdesk.slips.pattern_asks import term_code

SWATCH_CM = 15.0
"""The usual side of a swatch (common practice, no source)."""


def swatch_card(ask: Ask, candidate: Candidate) -> SwatchCard:
    """Returns the card for the pattern's gauge; for the yarn's own where the pattern has none."""
    natural = candidate.profile.natural_stitches
    stitches = ask.gauge.stitches if ask.gauge else natural.value if natural else None
    return SwatchCard(
        craft=ask.craft,
        tool=candidate.start_tool,
        cast_on=cast_on(stitches) if stitches else None,
        stitches=stitches,
        rows=ask.gauge.rows if ask.gauge else None,
        steps=tuple(_steps(ask, stitches)),
        outcomes=tuple(_outcomes(ask, stitches)),
    )


def cast_on(per_10cm: float) -> int:
    """Returns the whole number of stitches for a swatch of about 15 cm: 30 for 20 to 10 cm."""
    exact = Decimal(repr(per_10cm)) * Decimal(repr(SWATCH_CM)) / 10
    return max(1, int(exact.quantize(Decimal(1), ROUND_HALF_UP)))


def _steps(ask: Ask, stitches: float | None) -> Iterator[Saying]:
    yield _work(ask, stitches)
    yield saying("slip.swatch_wash")
    yield saying("slip.swatch_measure")
    if ask.gauge is None:
        yield saying("slip.swatch_no_gauge")
    elif ask.gauge.after_washing is False:
        yield saying("slip.swatch_before_washing")
    elif ask.gauge.after_washing is None:
        yield saying("slip.swatch_washing_unsaid")


def _work(ask: Ask, stitches: float | None) -> Saying:
    pattern = term_code("stitch", ask.gauge.stitch_pattern if ask.gauge else "other")
    if stitches is None:
        return saying("slip.swatch_work_free", side_cm=SWATCH_CM)
    code = "slip.swatch_work_knit" if ask.craft is Craft.KNIT else "slip.swatch_work_crochet"
    return Saying(
        code, {"cast_on": cast_on(stitches), "side_cm": SWATCH_CM, "pattern_term": pattern}
    )


def _outcomes(ask: Ask, stitches: float | None) -> Iterator[Saying]:
    if stitches is not None and ask.gauge is not None:
        knit = ask.craft is Craft.KNIT
        yield Saying(
            "slip.swatch_more_knit" if knit else "slip.swatch_more_crochet",
            {"stitches_st": stitches},
        )
        yield Saying(
            "slip.swatch_fewer_knit" if knit else "slip.swatch_fewer_crochet",
            {"stitches_st": stitches},
        )
        if ask.gauge.rows is not None:
            yield saying("slip.swatch_rows_only")
        yield from _one_stitch_off(ask.measurements, stitches)
    yield saying("slip.swatch_last_word")


def _one_stitch_off(sizes: Measurements, stitches: float) -> Iterator[Saying]:
    """The same counts at one stitch more or less: width x wanted / got."""
    width = sizes.chest_cm or sizes.width_cm or sizes.around_cm
    if width is not None and stitches > 1:
        yield saying(
            "slip.swatch_one_off",
            wanted_cm=width,
            tighter_cm=width * stitches / (stitches + 1),
            looser_cm=width * stitches / (stitches - 1),
        )
