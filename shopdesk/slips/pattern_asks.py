"""What the pattern asks for, in the shop's own short words: nothing of its text is copied."""

from collections.abc import Iterator

from shopdesk.answering.model.ask import (
    AmountKind,
    Ask,
    Drying,
    PatternAmount,
    PatternGauge,
    PatternTool,
    Washing,
    Wearer,
)
from shopdesk.answering.model.asked_wearer import wearer_of
from shopdesk.craft.messages import Message, message, term_code
from shopdesk.craft.yarn import Craft
from shopdesk.slips.content import Fact


def pattern_facts(ask: Ask) -> tuple[Fact, ...]:
    """Returns what the pattern and the customer said; what was not said is left out."""
    return tuple(_facts(ask))


def _facts(ask: Ask) -> Iterator[Fact]:
    yield Fact(message("slip.name_item"), _term("item", ask.item))
    taken_from = wearer_of(ask).taken_from
    if taken_from is not None:
        yield Fact(message("slip.name_wearer"), taken_from)
    elif ask.wearer is not Wearer.UNKNOWN:
        yield Fact(message("slip.name_wearer"), _term("wearer", ask.wearer))
    if ask.chosen_size:
        yield Fact(message("slip.name_size"), message("slip.plain", text=ask.chosen_size))
    if ask.gauge:
        yield Fact(message("slip.name_gauge"), _gauge(ask.gauge, ask.craft))
    if ask.tool:
        yield Fact(_tool_name(ask.craft), _tool(ask.tool))
    for part in ask.parts:
        name = (
            message("slip.name_amount_of", part=part.name)
            if len(ask.parts) > 1
            else message("slip.name_amount")
        )
        yield Fact(name, _amount(part.amount))
    if ask.washing is not Washing.UNKNOWN or ask.drying is not Drying.UNKNOWN:
        yield Fact(message("slip.name_washing"), _washing(ask))


def _term(family: str, key: str) -> Message:
    return message("slip.term", word_term=term_code(family, key))


def _gauge(gauge: PatternGauge, craft: Craft) -> Message:
    values: dict[str, float | str] = {
        "stitches_st": gauge.stitches,
        "pattern_term": term_code("stitch", gauge.stitch_pattern),
    }
    if gauge.rows is None:
        return Message("slip.gauge", values)
    return Message("slip.gauge_rows", values | {"rows_st": gauge.rows})


def _tool_name(craft: Craft) -> Message:
    return message("slip.name_needle" if craft is Craft.KNIT else "slip.name_hook")


def _tool(tool: PatternTool) -> Message:
    if tool.written.upper().startswith(("US", "UK", "JP")):
        return message("slip.tool_written", written=tool.written, tool_mm=tool.mm)
    return message("slip.tool", tool_mm=tool.mm)


def _amount(amount: PatternAmount) -> Message:
    if amount.kind is AmountKind.LENGTH and amount.length_m is not None:
        return message("slip.amount_length", length_m=amount.length_m)
    ball = amount.put_up
    if amount.kind is AmountKind.BALLS and amount.balls is not None and ball:
        return message(
            "slip.amount_balls", balls=amount.balls, ball_g=ball.grams, ball_m=ball.metres
        )
    if amount.kind is AmountKind.MASS and amount.mass_g is not None and ball:
        return message(
            "slip.amount_mass", mass_g=amount.mass_g, ball_g=ball.grams, ball_m=ball.metres
        )
    return message("slip.amount_unsaid")


def _washing(ask: Ask) -> Message:
    if ask.drying is Drying.UNKNOWN:
        return _term("washing", ask.washing)
    if ask.washing is Washing.UNKNOWN:
        return _term("drying", ask.drying)
    return message(
        "slip.washed_and_dried",
        washing_term=term_code("washing", ask.washing),
        drying_term=term_code("drying", ask.drying),
    )
