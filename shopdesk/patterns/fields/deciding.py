"""From findings to one reading for each field, with the other readings kept beside it.

Where the words agree the reading is sure; where they do not, the reading is only likely or
unclear, and every other reading stays on offer. Nothing is chosen without saying so.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field

from shopdesk.answering.model.ask import Wearer
from shopdesk.craft.items import item_models
from shopdesk.craft.messages import Message
from shopdesk.patterns.phrases.mentions import (
    Measure,
    Mention,
    Span,
    Sureness,
    Value,
    WordList,
    plain,
)

_RANK = {level: rank for rank, level in enumerate(Sureness)}
SINGLE_FIELDS = ("strands", "wraps", "count")


@dataclass(frozen=True, slots=True)
class FieldReading:
    """One field as it was read: its value, how sure, its source words, and other readings."""

    name: str
    value: Value
    sure: Sureness
    words: tuple[Span, ...]
    phrase: str
    others: tuple[Value, ...] = ()


@dataclass(frozen=True, slots=True)
class Notice:
    """Something to be said about the text: a contradiction, or what is missing."""

    message: Message
    words: tuple[Span, ...] = ()


@dataclass
class FieldReadings:
    """The readings by field name, in order, and what is to be said."""

    readings: dict[str, FieldReading] = field(default_factory=dict)
    notices: list[Notice] = field(default_factory=list)

    def add(self, reading: FieldReading | None) -> None:
        """Keeps a reading if there is one."""
        if reading is not None:
            self.readings[reading.name] = reading

    def say(self, what: Message, words: Iterable[Span] = ()) -> None:
        """Keeps a notice, once."""
        notice = Notice(what, tuple(words))
        if notice not in self.notices:
            self.notices.append(notice)

    def value(self, name: str) -> Value | None:
        """Returns the value read for a field, or None."""
        reading = self.readings.get(name)
        return reading.value if reading is not None else None


Fields = Mapping[str, Sequence[Mention]]


def less_sure(a: Sureness, b: Sureness) -> Sureness:
    """Returns the less sure of two."""
    return max(a, b, key=lambda level: _RANK[level])


def by_value(findings: Sequence[Mention]) -> list[list[Mention]]:
    """Returns the findings grouped by equal value, surest and then earliest group first."""
    groups: list[list[Mention]] = []
    for finding in findings:
        for group in groups:
            if group[0].value == finding.value:
                group.append(finding)
                break
        else:
            groups.append([finding])
    return sorted(groups, key=lambda group: min(_RANK[each.sure] for each in group))


def best_of(group: Sequence[Mention]) -> Mention:
    """Returns the surest finding of a group."""
    return min(group, key=lambda each: _RANK[each.sure])


def from_groups(name: str, groups: Sequence[Sequence[Mention]]) -> FieldReading | None:
    """Returns the first group's reading; groups as sure as it make it unclear, others likely."""
    if not groups:
        return None
    best = best_of(groups[0])
    sure = best.sure
    others = list(best.others)
    if len(groups) > 1:
        rival = best_of(groups[1])
        equal = _RANK[rival.sure] <= _RANK[best.sure]
        sure = less_sure(sure, Sureness.UNCLEAR if equal else Sureness.LIKELY)
        others += [group[0].value for group in groups[1:]]
    words = tuple(dict.fromkeys(each.span for group in groups for each in group))
    kept = tuple(dict.fromkeys(other for other in others if other != best.value))
    return FieldReading(name, best.value, sure, words, best.phrase, kept)


def decide_single(decided: FieldReadings, fields: Fields, name: str) -> None:
    """Decides a field that has one value."""
    decided.add(from_groups(name, by_value(fields.get(name, ()))))


def decide_words(decided: FieldReadings, fields: Fields, name: str) -> None:
    """Decides a field that gathers words: features, attributes."""
    found = fields.get(name, ())
    if not found:
        return
    items = tuple(dict.fromkeys(str(each.value) for each in found))
    sure = max((each.sure for each in found), key=lambda level: _RANK[level])
    spans = tuple(dict.fromkeys(each.span for each in found))
    decided.add(FieldReading(name, WordList(items), sure, spans, found[0].phrase))


def decide_measure(decided: FieldReadings, fields: Fields, name: str) -> None:
    """Decides a measurement; a list for all sizes outranks a single value."""
    found = fields.get(name, ())
    for mention in found:
        for said in mention.says:
            decided.say(said, (mention.span,))
    lists = [
        each for each in found if isinstance(each.value, Measure) and len(each.value.values) > 1
    ]
    if lists and len(lists) < len(found):
        reading = from_groups(name, by_value(lists))
        if reading is not None:
            others = tuple(each.value for each in found if each not in lists)
            sure = less_sure(reading.sure, Sureness.LIKELY)
            decided.add(
                FieldReading(
                    name,
                    reading.value,
                    sure,
                    reading.words,
                    reading.phrase,
                    reading.others + others,
                )
            )
        return
    decided.add(from_groups(name, by_value(found)))


def decide_sizes(decided: FieldReadings, fields: Fields) -> None:
    """Decides the sizes' names: named sizes first, then body sizes, then sizes on lines."""
    named = by_value(fields.get("sizes", ()))
    if named:
        best, spans = best_of(named[0]), tuple(each.span for group in named for each in group)
        counts = {len(g[0].value.items) for g in named if isinstance(g[0].value, WordList)}
        others = tuple(group[0].value for group in named[1:])
        sure = best.sure if len(counts) == 1 else Sureness.UNCLEAR
        decided.add(FieldReading("sizes", best.value, sure, spans, best.phrase, others))
        return
    body = from_groups("sizes", by_value(fields.get("body_sizes", ())))
    if body is not None:
        decided.add(body)
        return
    bodies = [each for each in fields.get("chest", ()) if each.sure is Sureness.UNCLEAR]
    lists = [each for each in bodies if isinstance(each.value, Measure) and _differ(each.value)]
    if lists and len(lists) == len(fields["chest"]):
        value, first = lists[0].value, lists[0]
        assert isinstance(value, Measure)
        names = tuple(plain(each) for each in value.values)
        decided.add(
            FieldReading("sizes", WordList(names), Sureness.LIKELY, (first.span,), first.phrase)
        )
        return
    lines = fields.get("size_amount", ())
    names = tuple(each.extra for each in lines)
    if len(lines) > 1 and len(set(names)) == len(names):
        spans = tuple(each.span for each in lines)
        decided.add(FieldReading("sizes", WordList(names), Sureness.SURE, spans, lines[0].phrase))


def _differ(measure: Measure) -> bool:
    return len(measure.values) > 1 and len(set(measure.values)) == len(measure.values)


def decide_item(decided: FieldReadings, fields: Fields) -> None:
    """Decides what is made; a vest or dress that is also called a sweater stays what it is."""
    groups = by_value(fields.get("item", ()))
    values = {str(group[0].value) for group in groups}
    models = item_models()
    wider = {models[value].kind_of for value in values if value in models}
    kept = [group for group in groups if str(group[0].value) not in wider]
    decided.add(from_groups("item", kept))


def decide_wearer(decided: FieldReadings, fields: Fields) -> None:
    """Decides who it is for; baby and child together mean the younger, and only likely so."""
    groups = by_value(fields.get("wearer", ()))
    values = {str(group[0].value) for group in groups}
    reading = from_groups("wearer", groups)
    if reading is not None and values == {Wearer.BABY, Wearer.CHILD}:
        baby = next(group[0] for group in groups if group[0].value != Wearer.CHILD)
        reading = FieldReading(
            "wearer", baby.value, Sureness.LIKELY, reading.words, baby.phrase, (Wearer.CHILD.value,)
        )
    decided.add(reading)


def decide_craft(decided: FieldReadings, fields: Fields) -> None:
    """Decides knit or crochet; crochet stitches in the gauge decide, needles come next."""
    groups = by_value(fields.get("craft", ()))
    if len(groups) > 1:
        stitched = any(each.phrase == "crochet stitch" for each in fields["craft"])
        first = "crochet" if stitched else "knit"
        groups.sort(key=lambda group: group[0].value != first)
        reading = from_groups("craft", groups)
        if reading is not None:
            sure = Sureness.LIKELY
            decided.add(
                FieldReading(
                    "craft", reading.value, sure, reading.words, reading.phrase, reading.others
                )
            )
        return
    if groups:
        decided.add(from_groups("craft", groups))
    elif fields.get("stitches"):
        found = fields["stitches"][0]
        decided.add(FieldReading("craft", "knit", Sureness.LIKELY, (found.span,), found.phrase))
