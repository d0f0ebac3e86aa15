"""What templates may call: sentences, figures, and how the shelf could supply a yarn's parts."""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Any

from flask import Flask
from wtforms import Field

from shopdesk.answering.judging.item_care import differences_left
from shopdesk.answering.model.answer import Candidate, Caution, ColourSupply, PartAmount, Target
from shopdesk.counter import evidence
from shopdesk.counter.forms.fields import NumberField
from shopdesk.counter.refusals import said_alone
from shopdesk.counter.request import branch_name, counter_reader
from shopdesk.craft.cautions import topic_code
from shopdesk.craft.lots import bring_over
from shopdesk.craft.messages import Message, message
from shopdesk.services.hold_records import HoldRecord, hold_message
from shopdesk.slips.barcodes import MODULE_MM, QUIET_MODULES, barcode
from shopdesk.wording import formatting
from shopdesk.wording.formatting import capital
from shopdesk.wording.translate import term, translate

PAGES_IN_BAR = (
    ("asking.counter", "Counter"),
    ("slips.slips", "Slips"),
    ("swatches.start", "Swatch"),
    ("one_more.one_more", "One more"),
    ("holds.holds", "Holds"),
    ("morning.morning", "Morning"),
    ("importing.imports", "Import"),
    ("shelf.shelf", "Shelf"),
    ("settings.settings", "Settings"),
)


def register(app: Flask) -> None:
    """Adds the filters and globals that templates use."""
    app.jinja_env.trim_blocks = True
    app.jinja_env.lstrip_blocks = True
    app.jinja_env.filters.update(
        barcode=drawn_barcode,
        by_branch_names=by_branch_names,
        by_topic=by_topic,
        capital=capital,
        day=day,
        differences_left=washing_left,
        evidence=evidence_of,
        hold_words=hold_words,
        in_unit=in_unit,
        money=money,
        refused=said_alone,
        opened=opened,
        translate=in_words,
        skeins=skeins,
        slug=slug,
        supplies=supply_lines,
        target=target,
        term=term_words,
        target_evidence=target_evidence,
        yarns=yarns,
    )
    app.jinja_env.tests.update(number_box=is_number_box)
    app.jinja_env.globals.update(pages_in_bar=PAGES_IN_BAR, counted_over=counted_over)


def in_words(message: Message) -> str:
    """Returns a sentence as staff read it, in English and the shop's units."""
    return translate(message, counter_reader())


def by_branch_names(said: Message) -> Message:
    """Returns a message with its `branches` by what people call them."""
    codes = said.values.get("branches")
    if not isinstance(codes, tuple):
        return said
    return Message(said.code, {**said.values, "branches": tuple(map(branch_name, codes))})


def by_topic(cautions: Sequence[Caution]) -> tuple[tuple[str, tuple[Caution, ...]], ...]:
    """Returns what the customer is told of each topic, under the topic's name."""
    told = [one for one in cautions if one.flag]
    topics = dict.fromkeys(one.topic for one in told)
    return tuple(
        (in_words(Message(topic_code(topic))), tuple(one for one in told if one.topic == topic))
        for topic in topics
    )


def washing_left(candidate: Candidate) -> tuple[Message, ...]:
    """Returns the differences in washing that no caution of the yarn tells already."""
    return differences_left(candidate.care, candidate.cautions)


def term_words(code: str) -> str:
    """Returns the text of a code that takes no values, such as a fibre's name."""
    return term(code, counter_reader())


def hold_words(record: HoldRecord) -> str:
    """Returns how a hold stands."""
    return in_words(hold_message(record))


def in_unit(value: float, unit: str) -> str:
    """Returns a value in the shop's units; `unit` is an ending of a name such as '_m'."""
    return evidence.in_unit(value, unit, counter_reader())


def counted_over() -> str:
    """Returns the length that the shop counts a gauge over."""
    return formatting.over(counter_reader())


def money(amount: Decimal) -> str:
    """Returns an amount in the shop's currency."""
    return formatting.money(amount, counter_reader())


def day(value: date) -> str:
    """Returns a date as staff read it."""
    return formatting.day(value, counter_reader())


@dataclass(frozen=True, slots=True)
class DrawnBarcode:
    """A bar code in modules: how wide it is with its quiet zones, its bars, and its digits."""

    modules: int
    bars: tuple[tuple[int, int], ...]
    digits: str


def drawn_barcode(number: str) -> DrawnBarcode:
    """Returns the bars of a checked article number, each as its first module and its width."""
    code = barcode(number)
    bars = tuple((QUIET_MODULES + first, wide) for first, wide in code.bars())
    return DrawnBarcode(round(code.width_mm / MODULE_MM), bars, code.digits)


def evidence_of(candidate: Candidate) -> tuple[evidence.Evidence, ...]:
    """Returns the figures that a judgement rests on."""
    return evidence.evidence_of(candidate, counter_reader())


def target_evidence(wanted: Target) -> tuple[evidence.Evidence, ...]:
    """Returns the figures that yarns are measured against."""
    return evidence.target_evidence(wanted, counter_reader())


def skeins(count: int) -> str:
    """Returns '1 skein' or '5 skeins'."""
    return f"{count} skein{'' if count == 1 else 's'}"


def yarns(count: int) -> str:
    """Returns '1 yarn' or '5 yarns'."""
    return f"{count} yarn{'' if count == 1 else 's'}"


def slug(text: str) -> str:
    """Returns the text as it may stand in an id."""
    return re.sub(r"[^A-Za-z0-9]+", "-", text)


def opened(form: Any, names: str) -> bool:
    """True if one of these fields (names parted by blanks) holds something or is wrong."""
    return any(form[name].data or form[name].errors for name in names.split())


def is_number_box(field: Field) -> bool:
    """True for a box that holds one number, which needs little room."""
    return isinstance(field, NumberField)


def target(field: Field) -> str:
    """Returns the id that a link to this field leads to: for radio buttons the first one."""
    return f"{field.id}-0" if field.type in ("OneOfField", "SomeOfField") else str(field.id)


MOST_NAMES = 8


@dataclass(frozen=True, slots=True)
class SupplyLine:
    """How one part can be supplied: in words, with the names of the colours meant.

    `bring_over` says which of these lie in other branches only.
    """

    part: str
    words: str
    names: tuple[str, ...]
    more: int
    bring_over: tuple[Message, ...] = ()


def supply_lines(candidate: Candidate) -> tuple[SupplyLine, ...]:
    """Returns a line for each part, in the order of the ask."""
    return tuple(_supply_lines(candidate))


def _supply_lines(candidate: Candidate) -> Iterator[SupplyLine]:
    for amount in candidate.amounts:
        choices = [c for c in candidate.colours if c.part == amount.part]
        words, meant = _best(amount, choices)
        names = tuple(choice.colour_name for choice in meant)
        more, away = max(0, len(names) - MOST_NAMES), tuple(_away(meant))
        yield SupplyLine(amount.part, words, names[:MOST_NAMES], more, away)


def _away(choices: Sequence[ColourSupply]) -> Iterator[Message]:
    """Yields what is to be brought over, for colours of the same branches together."""
    away: dict[tuple[str, ...], list[str]] = {}
    for choice in choices:
        if choice.bring_over is not None:
            branches = choice.bring_over.values["branches"]
            assert isinstance(branches, tuple)
            away.setdefault(branches, []).append(choice.colour_name)
    for branches, names in away.items():
        if len(names) == len(choices):
            yield message("lots.bring_all_over", branches=branches)
        else:
            yield bring_over(names, branches)


def _best(amount: PartAmount, choices: list[ColourSupply]) -> tuple[str, list[ColourSupply]]:
    there = [choice for choice in choices if choice.available]
    if not there:
        return "nothing in stock", []
    if not amount.skeins:
        return "in stock", there
    whole = [choice for choice in there if choice.one_lot and not choice.short_by]
    if whole:
        return "enough in one lot", whole
    split = [choice for choice in there if not choice.short_by]
    if split:
        return "enough, split over lots", split
    least = min(choice.short_by for choice in there)
    return f"short by {least} at best", [c for c in there if c.short_by == least]
