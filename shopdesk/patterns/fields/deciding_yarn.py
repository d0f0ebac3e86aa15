"""Decides put-up, blend, weight and the amounts of each colour."""

from collections.abc import Sequence
from dataclasses import replace
from decimal import Decimal

from shopdesk.craft.messages import message
from shopdesk.patterns.fields.deciding import (
    FieldReading,
    FieldReadings,
    Fields,
    best_of,
    by_value,
    from_groups,
    less_sure,
)
from shopdesk.patterns.phrases.mentions import (
    BallPutUp,
    Measure,
    Mention,
    Share,
    Sureness,
    WordList,
    plain,
)

MAIN = "main"
MOST_WEIGHTS = 4
_NEIGHBOURS = 9
_FIRST_TO_LAST = ("m yd", "balls", "g kg oz lb")
_ORDER = {unit: place for place, units in enumerate(_FIRST_TO_LAST) for unit in units.split()}


def decide_put_up(decided: FieldReadings, fields: Fields) -> None:
    """Decides a ball's mass and length; of several yarns the first, and that is said."""
    groups = by_value(fields.get("put_up", ()))
    for group in groups:
        for said in group[0].says:
            decided.say(said, (group[0].span,))
    if groups:
        groups.sort(key=lambda group: group[0].at)
        decided.add(_first_of_several(decided, "put_up", groups))
        return
    masses, lengths = by_value(fields.get("ball_mass", ())), by_value(fields.get("ball_length", ()))
    mass, length = from_groups("ball_mass", masses), from_groups("ball_length", lengths)
    if mass is not None and length is None:
        length = _length_beside(fields)
    if mass is None or length is None:
        decided.add(mass)
        decided.add(length)
        return
    match mass.value, length.value:
        case Measure() as grams, Measure() as metres:
            ball = BallPutUp(grams.values[0], grams.unit, metres.values[0], metres.unit)
            sure, words = less_sure(mass.sure, length.sure), mass.words + length.words
            decided.add(FieldReading("put_up", ball, sure, words, length.phrase))


def _length_beside(fields: Fields) -> FieldReading | None:
    """The one length beside balls of a stated mass: likely a ball's, not the whole item's."""
    amounts = [each for each in fields.get("amount", ()) if isinstance(each.value, Measure)]
    lengths = [each for each in amounts if _is_length(each) and len(_values(each)) == 1]
    balls = [each for each in amounts if not _is_length(each)]
    if len(lengths) != 1 or not balls or len(lengths) + len(balls) != len(amounts):
        return None
    found = lengths[0]
    return FieldReading("ball_length", found.value, Sureness.LIKELY, (found.span,), found.phrase)


def _is_length(finding: Mention) -> bool:
    return isinstance(finding.value, Measure) and finding.value.unit in ("m", "yd")


def _values(finding: Mention) -> tuple[Decimal, ...]:
    return finding.value.values if isinstance(finding.value, Measure) else ()


def _first_of_several(
    decided: FieldReadings, name: str, groups: Sequence[Sequence[Mention]]
) -> FieldReading | None:
    reading = from_groups(name, groups[:1])
    if reading is None or len(groups) == 1:
        return reading
    parts = {group[0].part for group in groups}
    spans = tuple(group[0].span for group in groups)
    decided.say(message("intake.second_yarn"), spans)
    sure = Sureness.LIKELY if len(parts) == len(groups) else Sureness.UNCLEAR
    others = tuple(group[0].value for group in groups[1:])
    return FieldReading(
        name, reading.value, less_sure(reading.sure, sure), spans, reading.phrase, others
    )


def decide_fibres(decided: FieldReadings, fields: Fields) -> None:
    """Decides the blend: shares that stand together must add up to 100."""
    blends = _blends(fields.get("share", ()))
    readings: list[FieldReading] = []
    for blend in blends:
        shares = _merged([each.value for each in blend if isinstance(each.value, Share)])
        spans = tuple(each.span for each in blend)
        total = sum((share.percent for share in shares), Decimal(0))
        unclear = any(each.sure is Sureness.UNCLEAR for each in blend)
        sure = Sureness.SURE if total == 100 and not unclear else Sureness.UNCLEAR
        if total != 100:
            decided.say(message("intake.blend_sum", total=plain(total)), spans)
        readings.append(
            FieldReading("fibres", WordList(tuple(shares)), sure, spans, blend[0].phrase)
        )
    distinct = list({reading.value: reading for reading in readings}.values())
    if len(distinct) > 1:
        decided.say(
            message("intake.second_yarn"), tuple(span for each in distinct for span in each.words)
        )
        first = distinct[0]
        others = tuple(each.value for each in distinct[1:])
        sure = less_sure(first.sure, Sureness.LIKELY)
        distinct = [FieldReading("fibres", first.value, sure, first.words, first.phrase, others)]
    if distinct:
        decided.add(distinct[0])


def _blends(shares: Sequence[Mention]) -> list[list[Mention]]:
    """Groups shares that stand together; a group that is full at 100 takes no more."""
    blends: list[list[Mention]] = []
    for share in sorted(shares, key=lambda each: each.at):
        if blends and share.at - blends[-1][-1].at <= _NEIGHBOURS and _total(blends[-1]) < 100:
            blends[-1].append(share)
        else:
            blends.append([share])
    return blends


def _total(blend: Sequence[Mention]) -> Decimal:
    return sum((each.value.percent for each in blend if isinstance(each.value, Share)), Decimal(0))


def _merged(shares: Sequence[Share]) -> list[Share]:
    """Adds up shares of one fibre ('50% merino, 50% wool')."""
    totals: dict[str, Decimal] = {}
    for share in shares:
        totals[share.fibre] = totals.get(share.fibre, Decimal(0)) + share.percent
    return [Share(fibre, percent) for fibre, percent in totals.items()]


def decide_weight(decided: FieldReadings, fields: Fields) -> None:
    """Decides the weight names; those of a second yarn are only other readings."""
    found = [each for each in fields.get("weight", ()) if each.sure is Sureness.SURE]
    found = found or list(fields.get("weight", ()))
    if not found:
        return
    first = next((each.part for each in found if each.part), "")
    mine = [each for each in found if each.part in ("", first)]
    names = tuple(dict.fromkeys(str(each.value) for each in mine))
    rest = tuple(dict.fromkeys(str(each.value) for each in found if str(each.value) not in names))
    spans = tuple(dict.fromkeys(each.span for each in found))
    sure = mine[0].sure
    if rest:
        decided.say(message("intake.second_yarn"), spans)
        sure = less_sure(sure, Sureness.LIKELY)
    if len(names) > MOST_WEIGHTS:
        names, sure = names[:MOST_WEIGHTS], Sureness.UNCLEAR
    decided.add(FieldReading("weight", WordList(names), sure, spans, mine[0].phrase, rest))


def decide_amounts(decided: FieldReadings, fields: Fields) -> None:
    """Decides each colour's amount: by length if it is given, then balls, then mass."""
    found = list(fields.get("amount", ())) + _from_size_lines(fields)
    ball = decided.readings.get("put_up")
    if ball is not None and ball.sure is Sureness.LIKELY:
        found = [each for each in found if not (_is_length(each) and each.span in ball.words)]
    if not found and ball is not None and isinstance(ball.value, BallPutUp):
        length = Measure((ball.value.length,), ball.value.length_unit)
        decided.add(replace(ball, name=f"amount {MAIN}", value=length, sure=Sureness.UNCLEAR))
        decided.say(message("intake.amount_missing"))
    parts = list(dict.fromkeys(each.part for each in found if each.part))
    each_or_all = not any(name in decided.readings for name in ("put_up", "ball_length"))
    for part in parts or [""]:
        mine = [each for each in found if each.part == part]
        reading = _amount(f"amount {part or MAIN}", mine)
        of_a_ball = "ball_mass" in decided.readings
        if reading is not None and each_or_all and _total_or_each(reading, of_a_ball):
            decided.say(message("intake.total_or_each"), reading.words)
            reading = replace(reading, sure=Sureness.UNCLEAR)
        decided.add(reading)
        for each in mine:
            for said in each.says:
                decided.say(said, (each.span,))


def _total_or_each(reading: FieldReading, of_a_ball: bool) -> bool:
    """True for '3 balls (200 m)', or one length beside 'in 50 g balls': it may be either."""
    one_length = (
        isinstance(reading.value, Measure)
        and reading.value.unit in ("m", "yd")
        and len(reading.value.values) == 1
    )
    balls = [each for each in reading.others if isinstance(each, Measure) and each.unit == "balls"]
    several = any(value > 1 for each in balls for value in each.values)
    return one_length and (several or of_a_ball)


def _from_size_lines(fields: Fields) -> list[Mention]:
    lines = [each for each in fields.get("size_amount", ()) if isinstance(each.value, Measure)]
    units = {each.value.unit for each in lines if isinstance(each.value, Measure)}
    if len(lines) < 2 or len(units) != 1:
        return []
    values = tuple(
        v for each in lines if isinstance(each.value, Measure) for v in each.value.values
    )
    first, last = lines[0], lines[-1]
    span = type(first.span)(first.span.start, last.span.end)
    unclear = any(each.sure is Sureness.UNCLEAR for each in lines)
    sure = Sureness.UNCLEAR if unclear else Sureness.SURE
    return [Mention("amount", Measure(values, units.pop()), span, sure, first.phrase, first.at)]


def _amount(name: str, found: Sequence[Mention]) -> FieldReading | None:
    kinds: dict[int, list[Mention]] = {}
    for each in found:
        if isinstance(each.value, Measure):
            kinds.setdefault(_ORDER[each.value.unit], []).append(each)
    if not kinds:
        return None
    best_kind, *other_kinds = sorted(kinds)
    groups = by_value(kinds[best_kind])
    lists = [g for g in groups if isinstance(g[0].value, Measure) and len(g[0].value.values) > 1]
    if lists and len(lists) < len(groups):
        groups = lists + [group for group in groups if group not in lists]
        reading = from_groups(name, groups)
        if reading is not None and len(lists) == 1:
            best = best_of(lists[0])
            sure = less_sure(best.sure, Sureness.LIKELY)
            reading = FieldReading(
                name, reading.value, sure, reading.words, reading.phrase, reading.others
            )
    else:
        reading = from_groups(name, groups)
    if reading is None:
        return None
    if len(groups[0]) > 1 and len(_values(best_of(groups[0]))) == 1:
        reading = replace(reading, sure=less_sure(reading.sure, Sureness.LIKELY))
    more = tuple(each.value for kind in other_kinds for each in kinds[kind])
    words = reading.words + tuple(each.span for kind in other_kinds for each in kinds[kind])
    return FieldReading(
        name, reading.value, reading.sure, words, reading.phrase, reading.others + more
    )
