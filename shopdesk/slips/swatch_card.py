"""The swatch card: how to make it, how to measure it, and what to do with what it shows."""

from collections.abc import Iterator
from decimal import ROUND_HALF_UP, Decimal

from shopdesk.answering.model.answer import Candidate, StartTool
from shopdesk.answering.model.ask import STOCKINETTE, Ask
from shopdesk.craft.gauge import count_for, size_same_counts_cm
from shopdesk.craft.items import Measurements
from shopdesk.craft.messages import Message, message, term_code
from shopdesk.craft.tools import stepped
from shopdesk.craft.yarn import Craft
from shopdesk.slips.content import SwatchCard

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
        steps=(*_hand(candidate.start_tool), *_steps(ask, stitches)),
        outcomes=tuple(_outcomes(ask, stitches, candidate.start_tool)),
    )


def cast_on(per_10cm: float) -> int:
    """Returns the whole number of stitches for a swatch of about 15 cm: 30 for 20 to 10 cm."""
    stitches = Decimal(repr(count_for(SWATCH_CM, per_10cm)))
    return max(1, int(stitches.quantize(Decimal(1), ROUND_HALF_UP)))


def _hand(tool: StartTool | None) -> tuple[Message, ...]:
    """What the knitter's own hand did to the tool, as the answer said it."""
    why = tool.why if tool else ()
    return tuple(said for said in why if said.code.startswith("tool.hand_"))


def _steps(ask: Ask, stitches: float | None) -> Iterator[Message]:
    yield _work(ask, stitches)
    yield message("slip.swatch_wash")
    yield message("slip.swatch_measure")
    if ask.gauge is None:
        yield message("slip.swatch_no_gauge")
    elif ask.gauge.after_washing is False:
        yield message("slip.swatch_before_washing")
    elif ask.gauge.after_washing is None:
        yield message("slip.swatch_washing_unsaid")


def _work(ask: Ask, stitches: float | None) -> Message:
    if stitches is None:
        return message("slip.swatch_work_free", side_cm=SWATCH_CM)
    pattern = ask.gauge.stitch_pattern if ask.gauge else STOCKINETTE
    return Message(
        _by_craft("slip.swatch_work", ask.craft),
        {
            "cast_on": cast_on(stitches),
            "side_cm": SWATCH_CM,
            "pattern_term": term_code("stitch", pattern),
        },
    )


def _by_craft(code: str, craft: Craft) -> str:
    return f"{code}_knit" if craft is Craft.KNIT else f"{code}_crochet"


def _outcomes(ask: Ask, stitches: float | None, tool: StartTool | None) -> Iterator[Message]:
    if stitches is not None and ask.gauge is not None:
        yield _try_again("slip.swatch_more", stitches, tool, 1, ask.craft)
        yield _try_again("slip.swatch_fewer", stitches, tool, -1, ask.craft)
        if ask.gauge.rows is not None:
            yield message("slip.swatch_rows_only")
        yield from _one_stitch_off(ask.measurements, stitches)
    yield message("slip.swatch_last_word")


def _try_again(
    code: str, stitches: float, tool: StartTool | None, steps: int, craft: Craft
) -> Message:
    """Names the next size made, if there is a tool to start from and a size beyond it."""
    code = _by_craft(code, craft)
    next_mm = stepped(tool.mm, steps, craft) if tool else None
    if tool is None or next_mm is None or (next_mm - tool.mm) * steps <= 0:
        return Message(code, {"stitches_st": stitches})
    return Message(f"{code}_on", {"stitches_st": stitches, "tool_mm": next_mm})


def _one_stitch_off(sizes: Measurements, stitches: float) -> Iterator[Message]:
    width = sizes.chest_cm or sizes.width_cm or sizes.around_cm
    if width is not None and stitches > 1:
        yield message(
            "slip.swatch_one_off",
            wanted_cm=width,
            tighter_cm=size_same_counts_cm(width, stitches, stitches + 1),
            looser_cm=size_same_counts_cm(width, stitches, stitches - 1),
        )
