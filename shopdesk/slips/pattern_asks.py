"""What the pattern asks for, in the shop's own short words: nothing of its text is copied."""

from collections.abc import Iterator

from shopdesk.answering.ask import (
    AmountKind,
    Ask,
    Drying,
    PatternAmount,
    PatternGauge,
    PatternTool,
    Washing,
    Wearer,
)
from shopdesk.craft.sayings import Saying, saying
from shopdesk.craft.terms import term_code
from shopdesk.craft.yarn import Craft
from shopdesk.slips.content import Fact


def pattern_facts(ask: Ask) -> tuple[Fact, ...]:
    """Returns what the pattern and the customer said; what was not said is left out."""
    return tuple(_facts(ask))


def _facts(ask: Ask) -> Iterator[Fact]:
    yield Fact(saying("slip.name_item"), _term("item", ask.item))
    if ask.wearer is not Wearer.UNKNOWN:
        yield Fact(saying("slip.name_wearer"), _term("wearer", ask.wearer))
    if ask.chosen_size:
        yield Fact(saying("slip.name_size"), saying("slip.plain", text=ask.chosen_size))
    if ask.gauge:
        yield Fact(saying("slip.name_gauge"), _gauge(ask.gauge, ask.craft))
    if ask.tool:
        yield Fact(_tool_name(ask.craft), _tool(ask.tool))
    for part in ask.parts:
        name = (
            saying("slip.name_amount_of", part=part.name)
            if len(ask.parts) > 1
            else saying("slip.name_amount")
        )
        yield Fact(name, _amount(part.amount))
    if ask.washing is not Washing.UNKNOWN or ask.drying is not Drying.UNKNOWN:
        yield Fact(saying("slip.name_washing"), _washing(ask))


def _term(family: str, key: str) -> Saying:
    return saying("slip.term", word_term=term_code(family, key))


def _gauge(gauge: PatternGauge, craft: Craft) -> Saying:
    values: dict[str, float | str] = {
        "stitches_st": gauge.stitches,
        "pattern_term": term_code("stitch", gauge.stitch_pattern),
    }
    if gauge.rows is None:
        return Saying("slip.gauge", values)
    return Saying("slip.gauge_rows", values | {"rows_st": gauge.rows})


def _tool_name(craft: Craft) -> Saying:
    return saying("slip.name_needle" if craft is Craft.KNIT else "slip.name_hook")


def _tool(tool: PatternTool) -> Saying:
    if tool.written.upper().startswith(("US", "UK")):
        return saying("slip.tool_written", written=tool.written, tool_mm=tool.mm)
    return saying("slip.tool", tool_mm=tool.mm)


def _amount(amount: PatternAmount) -> Saying:
    if amount.kind is AmountKind.LENGTH and amount.length_m is not None:
        return saying("slip.amount_length", length_m=amount.length_m)
    ball = amount.put_up
    if amount.kind is AmountKind.BALLS and amount.balls is not None and ball:
        return saying(
            "slip.amount_balls", balls=amount.balls, ball_g=ball.grams, ball_m=ball.metres
        )
    if amount.kind is AmountKind.MASS and amount.mass_g is not None and ball:
        return saying(
            "slip.amount_mass", mass_g=amount.mass_g, ball_g=ball.grams, ball_m=ball.metres
        )
    return saying("slip.amount_unsaid")


def _washing(ask: Ask) -> Saying:
    if ask.drying is Drying.UNKNOWN:
        return _term("washing", ask.washing)
    if ask.washing is Washing.UNKNOWN:
        return _term("drying", ask.drying)
    return saying(
        "slip.washed_and_dried",
        washing_term=term_code("washing", ask.washing),
        drying_term=term_code("drying", ask.drying),
    )
