"""What the counter shows beside the form: the pattern's words, and what was read from which."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from werkzeug.datastructures import MultiDict

from shopdesk.answering.model.ask import MEASURES
from shopdesk.counter.forms.ask_form import AskForm, ask_form_data, boxes_in, is_fibre_box
from shopdesk.craft.messages import Message
from shopdesk.patterns.fields.deciding import FieldReading
from shopdesk.patterns.phrases.mentions import Measure, Span, Sureness, Value, WordList, shown
from shopdesk.patterns.reading import PatternReading
from shopdesk.patterns.report import words_at
from shopdesk.patterns.to_ask import ask_document, path_of

_AMOUNT = "amount "
_FILLED = {"stitches": "gauge", "sizes": "sizes.names"}
"""What a field fills where that is not its own place: a gauge stands and falls with its stitches,
and which size to make is not read."""


@dataclass(frozen=True, slots=True)
class TextRun:
    """A run of the text; `boxes` are those that its words fill, `sure` the least sure of them."""

    text: str
    boxes: tuple[str, ...] = ()
    sure: str = ""


@dataclass(frozen=True, slots=True)
class FieldOrigin:
    """The words that one box was filled from, and how sure that is."""

    words: tuple[str, ...]
    sure: Sureness


@dataclass(frozen=True, slots=True)
class OtherReadings:
    """A field with several readings: its words, and each reading with the button that takes it."""

    label: str
    words: tuple[str, ...]
    ways: tuple[tuple[str, str], ...]
    filled: bool


@dataclass(frozen=True, slots=True)
class SourcePanel:
    """Everything that the panel beside the form shows."""

    text: str
    pieces: tuple[TextRun, ...]
    origins: dict[str, FieldOrigin]
    choices: tuple[OtherReadings, ...]
    messages: tuple[Message, ...]
    not_understood: tuple[str, ...]
    without_box: tuple[str, ...]
    wants_size: bool


def boxes_of(reading: PatternReading, name: str) -> tuple[str, ...]:
    """Returns the names of the boxes that a field fills; () if the form has none for it.

    The first one shows where the words came from.
    """
    if name.startswith(_AMOUNT):
        entry = f"parts-{_part_place(reading, name)}-"
        return (f"{entry}count", f"{entry}counted_in")
    value = next((each.value for each in reading.readings if each.name == name), None)
    if name in MEASURES and isinstance(value, Measure) and len(value.values) > 1:
        return boxes_in("sizes.chest") if name == "chest" else ()
    return boxes_in(_FILLED.get(name) or path_of(name))


def _part_place(reading: PatternReading, name: str) -> int:
    usable = [
        each.name
        for each in reading.readings
        if each.name.startswith(_AMOUNT) and each.sure is not Sureness.UNCLEAR
    ]
    return usable.index(name) if name in usable else 0


def form_data(reading: PatternReading) -> MultiDict[str, str]:
    """Returns what the form's boxes hold after reading; half a put-up is filled in too."""
    data = ask_form_data(ask_document(reading))
    for each in reading.readings:
        known = each.sure is not Sureness.UNCLEAR
        if each.name in ("ball_mass", "ball_length") and isinstance(each.value, Measure) and known:
            box, unit = boxes_of(reading, each.name)
            data[box], data[unit] = shown(each.value.values[0]), each.value.unit
        if each.name.startswith(_AMOUNT) and isinstance(each.value, Measure) and known:
            count, counted_in = boxes_of(reading, each.name)
            data[count] = "; ".join(shown(value) for value in each.value.values)
            data[counted_in] = each.value.unit
    return data


def taken(reading: PatternReading, number: int, way: int) -> PatternReading | None:
    """Returns the reading with one field settled on one of its readings, or None if unknown."""
    if not 0 <= number < len(reading.readings):
        return None
    each = reading.readings[number]
    values = (each.value, *each.others)
    if not 0 <= way < len(values):
        return None
    value: Value = values[way]
    if isinstance(each.value, WordList) and not isinstance(value, WordList):
        value = WordList((str(value),))
    settled = replace(each, value=value, sure=Sureness.SURE, others=())
    readings = (*reading.readings[:number], settled, *reading.readings[number + 1 :])
    return replace(reading, readings=readings)


def take(
    reading: PatternReading, number: int, way: int, sent: MultiDict[str, str]
) -> MultiDict[str, str]:
    """Returns what was sent, with the boxes of one field filled by one of its readings."""
    settled = taken(reading, number, way)
    if settled is None:
        return sent
    filled = form_data(settled)
    for box in boxes_of(settled, settled.readings[number].name):
        if box in filled or is_fibre_box(box):
            sent.setlist(box, filled.getlist(box))
    return sent


def panel_of(reading: PatternReading, form: AskForm) -> SourcePanel:
    """Returns the panel for a reading beside the form that it filled."""
    return SourcePanel(
        text=reading.text,
        pieces=tuple(_pieces(reading)),
        origins=dict(_origins(reading)),
        choices=tuple(_choices(reading, form)),
        messages=tuple(notice.message for notice in reading.notices),
        not_understood=tuple(words_at(reading, span) for span in reading.not_understood),
        without_box=tuple(_without_box(reading)),
        wants_size=bool(form.sizes.data) and not form.chosen_size.data,
    )


def _pieces(reading: PatternReading) -> Iterator[TextRun]:
    """Yields the text cut where any field's words begin or end."""
    spans = [(span, each) for each in reading.readings for span in each.words]
    edges = sorted({0, len(reading.text), *(edge for span, _ in spans for edge in _edges(span))})
    for start, end in pairwise(edges):
        inside = [each for span, each in spans if span.start <= start and end <= span.end]
        boxes = dict.fromkeys(box for each in inside for box in boxes_of(reading, each.name)[:1])
        yield TextRun(reading.text[start:end], tuple(boxes), _least_sure(inside))


def _edges(span: Span) -> tuple[int, int]:
    return span.start, span.end


def _least_sure(readings: Sequence[FieldReading]) -> str:
    order = list(Sureness)
    return max((each.sure for each in readings), key=order.index).value if readings else ""


def _origins(reading: PatternReading) -> Iterator[tuple[str, FieldOrigin]]:
    for each in reading.readings:
        words = tuple(words_at(reading, span) for span in each.words)
        for box in boxes_of(reading, each.name)[:1]:
            yield box, FieldOrigin(words, each.sure)


def _choices(reading: PatternReading, form: AskForm) -> Iterator[OtherReadings]:
    labels = {name: str(field.label.text) for name, field in form.boxes().items()}
    for number, each in enumerate(reading.readings):
        boxes = boxes_of(reading, each.name)
        if not boxes or (not each.others and each.sure is not Sureness.UNCLEAR):
            continue
        values = (each.value, *each.others)
        ways = tuple((f"take-{number}-{way}", shown(value)) for way, value in enumerate(values))
        words = tuple(words_at(reading, span) for span in each.words)
        label = labels.get(boxes[0], each.name)
        yield OtherReadings(label, words, ways, each.sure is not Sureness.UNCLEAR)


def _without_box(reading: PatternReading) -> Iterator[str]:
    for each in reading.readings:
        if not boxes_of(reading, each.name):
            words = "; ".join(words_at(reading, span) for span in each.words)
            yield words
