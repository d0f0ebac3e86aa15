"""What in a pattern's header does not fit together, or is not said."""

from decimal import Decimal

from shopdesk.answering.model.ask import STOCKINETTE
from shopdesk.craft.gauge import per_10cm
from shopdesk.craft.messages import message
from shopdesk.craft.weights import categories_by_gauge, categories_by_length, categories_named
from shopdesk.craft.yarn import Craft
from shopdesk.parsing.quantities import factor
from shopdesk.patterns.fields.deciding import FieldReading, FieldReadings
from shopdesk.patterns.phrases.mentions import BallPutUp, Measure, Sureness, WordList

SPREAD = 0.03
"""A gauge or length may miss a category by so much of it before it is said not to fit."""
_PLAIN = (STOCKINETTE, None)


def look_for_contradictions(decided: FieldReadings) -> None:
    """Says what does not fit; a list that does not match the sizes becomes unclear."""
    _list_lengths(decided)
    _gauge_against_weight(decided)
    _put_up_against_weight(decided)
    _unknown_weights(decided)
    _amount_against_balls(decided)


def look_for_gaps(decided: FieldReadings) -> None:
    """Says what an answer would want to know and the text does not say."""
    if "stitches" not in decided.readings:
        decided.say(message("intake.gauge_missing"))
    elif "rows" not in decided.readings:
        decided.say(message("intake.rows_missing"), decided.readings["stitches"].words)
    amounts = [reading for name, reading in decided.readings.items() if name.startswith("amount ")]
    if not amounts:
        decided.say(message("intake.amount_missing"))
    if "put_up" not in decided.readings:
        by_ball = [
            each for each in amounts if isinstance(each.value, Measure) and each.value.unit != "m"
        ]
        for reading in by_ball:
            if isinstance(reading.value, Measure) and reading.value.unit != "yd":
                decided.say(message("intake.put_up_missing"), reading.words)


def _list_lengths(decided: FieldReadings) -> None:
    sizes = decided.readings.get("sizes")
    count = len(sizes.value.items) if sizes and isinstance(sizes.value, WordList) else None
    lists = [
        reading
        for reading in decided.readings.values()
        if isinstance(reading.value, Measure) and len(reading.value.values) > 1
    ]
    if count is None:
        if lists:
            decided.say(message("intake.sizes_unnamed"), lists[0].words)
        counts = {len(each.value.values) for each in lists if isinstance(each.value, Measure)}
        if len(counts) <= 1:
            return
    for reading in lists:
        assert isinstance(reading.value, Measure)
        if len(reading.value.values) == count:
            continue
        said = message(
            "intake.list_length", values=str(len(reading.value.values)), sizes=str(count or "?")
        )
        decided.say(said, reading.words)
        decided.add(_unclear(reading))


def _unclear(reading: FieldReading) -> FieldReading:
    return FieldReading(
        reading.name, reading.value, Sureness.UNCLEAR, reading.words, reading.phrase, reading.others
    )


def stitches_per_10cm(decided: FieldReadings) -> float | None:
    """Returns the gauge read, in stitches per 10 cm."""
    match decided.value("stitches"), decided.value("over"):
        case Decimal() as stitches, Measure() as over:
            over_mm = float(over.values[0]) * factor(over.unit, "mm")
            return per_10cm(float(stitches), over_mm)
    return None


def _weights(decided: FieldReadings) -> set[int]:
    weight = decided.value("weight")
    names = weight.items if isinstance(weight, WordList) else ()
    return {number for name in names for number in categories_named(str(name))}


def _unknown_weights(decided: FieldReadings) -> None:
    reading = decided.readings.get("weight")
    for name in reading.value.items if reading and isinstance(reading.value, WordList) else ():
        if not categories_named(str(name)) and reading is not None:
            decided.say(message("intake.weight_unknown", weight=str(name)), reading.words)


def _gauge_against_weight(decided: FieldReadings) -> None:
    stitches, named = stitches_per_10cm(decided), _weights(decided)
    plain_fabric = decided.value("pattern") in _PLAIN
    several = decided.value("strands") not in (None, Decimal(1))
    if stitches is None or not named or not plain_fabric or several:
        return
    if decided.value("craft") == "crochet":
        return
    fitting = categories_by_gauge(stitches * (1 - SPREAD), stitches * (1 + SPREAD), Craft.KNIT)
    if named.isdisjoint(fitting):
        words = decided.readings["weight"].words + decided.readings["stitches"].words
        said = message(
            "intake.gauge_not_weight", weight=str(decided.value("weight")), pattern_st=stitches
        )
        decided.say(said, words)


def _put_up_against_weight(decided: FieldReadings) -> None:
    put_up, named = decided.value("put_up"), _weights(decided)
    if not isinstance(put_up, BallPutUp) or not named:
        return
    metres = float(put_up.length) * factor(put_up.length_unit, "m")
    grams = float(put_up.mass) * factor(put_up.mass_unit, "g")
    per_100 = metres / grams * 100
    if named.isdisjoint(categories_by_length(per_100 * (1 - SPREAD), per_100 * (1 + SPREAD))):
        words = decided.readings["weight"].words + decided.readings["put_up"].words
        said = message(
            "intake.put_up_not_weight", weight=str(decided.value("weight")), per_100g_m=per_100
        )
        decided.say(said, words)


def _amount_against_balls(decided: FieldReadings) -> None:
    """Says if a total length is not what the balls beside it hold."""
    put_up = decided.value("put_up")
    if not isinstance(put_up, BallPutUp):
        return
    ball = float(put_up.length) * factor(put_up.length_unit, "m")
    for reading in decided.readings.values():
        value = reading.value
        if not isinstance(value, Measure) or value.unit not in ("m", "yd"):
            continue
        for other in reading.others:
            if (
                isinstance(other, Measure)
                and other.unit == "balls"
                and not _fits(value, other, ball)
            ):
                said = message("intake.amount_differs", length=str(value), balls=str(other))
                decided.say(said, reading.words)


def _fits(length: Measure, balls: Measure, ball_m: float) -> bool:
    """True if each size's length needs that many balls, to one ball."""
    if len(length.values) != len(balls.values):
        return True
    rate = factor(length.unit, "m")
    return all(
        count - 2 < Decimal(str(float(need) * rate / ball_m)) <= count + Decimal("0.1")
        for need, count in zip(length.values, balls.values, strict=True)
    )
