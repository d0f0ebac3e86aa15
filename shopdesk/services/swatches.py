"""Swatches that came back: what each says of its slip and its yarn, and kept as evidence.

A swatch is a measurement of the yarn, never part of its label. One with a slip belongs to that
slip too. Nothing here says more of a customer than the knitter's name, and only if it is given.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date

from sqlalchemy import select
from sqlalchemy.orm import Session

from shopdesk.answering.ask.ask_reading import read_ask
from shopdesk.answering.judging.companions import StrandCombination, held_alone, held_with
from shopdesk.answering.model.ask import SINGLE_CROCHET, STOCKINETTE, Ask, StitchPattern
from shopdesk.answering.profile.profile import shelf_profile
from shopdesk.answering.profile.summary import ProfiledYarn
from shopdesk.answering.swatch.swatch_effects import SwatchCase, swatch_result
from shopdesk.answering.swatch.swatch_reading import MeasuredSwatch, SwatchEntry, read_swatch
from shopdesk.answering.swatch.swatch_refusals import require_possible
from shopdesk.answering.swatch.swatch_result import OwnGauge, SwatchResult, TakenLine
from shopdesk.craft import lengths
from shopdesk.craft.errors import InputError
from shopdesk.craft.messages import message
from shopdesk.craft.swatch import Gauge
from shopdesk.craft.yarn import Craft, Measurement, MeasurementKind, PutUp, ShelfYarn
from shopdesk.services.own_yarns import with_own_yarns
from shopdesk.services.sales import slip_row
from shopdesk.shelf.loading import shelf_yarn, yarn_keys
from shopdesk.shelf.mapping import measurement_of, measurement_values
from shopdesk.shop.shop import Shop
from shopdesk.slips.content import SlipLine
from shopdesk.slips.slip_documents import read_content
from shopdesk.slips.visible import visible
from shopdesk.store.models import Branch, Slip, Swatch, Yarn, YarnMeasurement
from shopdesk.store.request_keys import first_time
from shopdesk.store.settings import load_settings
from shopdesk.store.tables.stock import FIRST_BRANCH
from shopdesk.store.types import can_be_number


@dataclass(frozen=True, slots=True)
class SwatchOf:
    """What a swatch is of: a slip of the shop's branch by its number, or else a yarn by its SKU.

    The craft is asked for a yarn without a slip only.
    """

    slip: int | None = None
    sku: str = ""
    craft: Craft = Craft.KNIT


@dataclass(frozen=True, slots=True)
class SwatchReport:
    """A swatch as it was typed, what it is of, and who notes it.

    `asked_for`: the shop had asked how it came out. Without `keep` it is only asked what the
    swatch says. A form sent twice has one `request_key`.
    """

    of: SwatchOf
    entry: SwatchEntry
    staff: str = ""
    from_customer: bool = True
    keep: bool = True
    request_key: str | None = None
    asked_for: bool = False


@dataclass(frozen=True, slots=True)
class SwatchSubject:
    """What a swatch is of: a yarn, and the slip that it was sold with if there is one."""

    sku: str
    yarn: str
    craft: Craft
    slip_id: int | None = None
    slip_number: int | None = None
    branch: str = FIRST_BRANCH
    title: str = ""
    ask: Ask | None = None
    lines: tuple[TakenLine, ...] = ()
    second_sku: str | None = None

    @property
    def usual_pattern(self) -> StitchPattern:
        """The stitch pattern that the swatch should be in."""
        if self.ask is not None and self.ask.gauge is not None:
            return self.ask.gauge.stitch_pattern
        knit = self.craft is Craft.KNIT
        return STOCKINETTE if knit else SINGLE_CROCHET

    @property
    def strands(self) -> int:
        """How many strands are held together, a second yarn's included."""
        mine = max((line.strands for line in self.lines), default=1)
        return mine + (1 if self.second_sku else 0)


@dataclass(frozen=True, slots=True)
class SwatchEvent:
    """Who brings which swatch, when, whether it was asked for, and by whom it was noted."""

    swatch: MeasuredSwatch
    on: date
    staff: str = ""
    from_customer: bool = True
    asked_for: bool = False


@dataclass(frozen=True, slots=True)
class SwatchRecord:
    """A swatch with what it says on the shelf as it stands now; a kept one has a number."""

    number: int | None
    subject: SwatchSubject
    event: SwatchEvent
    result: SwatchResult


def find_subject(shop: Shop, of: SwatchOf) -> SwatchSubject:
    """Returns what a swatch is held against. Raises SlipUnknown and InputError."""
    with shop.read() as session:
        return _subject(session, of, shop.branch)


def report_swatch(shop: Shop, report: SwatchReport) -> SwatchRecord:
    """Returns what a swatch says, and keeps it with its yarn and its slip unless told not to.

    A form that is sent twice gives the slip's last swatch. Raises SlipUnknown, and InputError for
    a yarn that is not there, for what was typed, or for a swatch that cannot be: nothing of it
    is kept.
    """
    with shop.write() if report.keep else shop.read() as session:
        subject = _subject(session, report.of, shop.branch)
        swatch = read_swatch(report.entry, subject.craft, subject.usual_pattern)
        event = _event(swatch, shop.today(), report)
        yarn = _yarn(session, subject.sku)
        require_possible(swatch, subject.craft, _held(session, subject, yarn).tex)
        record = SwatchRecord(
            None, subject, event, _result(session, subject, event, yarn, yarn.measurements)
        )
        if not report.keep:
            return record
        if first_time(session, report.request_key):
            return replace(record, number=_keep(session, subject, event))
        last = next(iter(_of_slip(session, subject.slip_id)), None)
        return _record(session, last) if last else record


def find_swatch(shop: Shop, number: int) -> SwatchRecord | None:
    """Returns a kept swatch and what it says, or None if there is none of this number."""
    if not can_be_number(number):
        return None
    with shop.read() as session:
        row = session.get(Swatch, number)
        return None if row is None else _record(session, row)


def list_swatches(shop: Shop, slip: int) -> tuple[SwatchRecord, ...]:
    """Returns the swatches of a slip of the shop's branch, the latest first. Raises SlipUnknown."""
    with shop.read() as session:
        rows = _of_slip(session, slip_row(session, slip, shop.branch).id)
        return tuple(_record(session, row) for row in rows)


def _subject(session: Session, of: SwatchOf, branch: str) -> SwatchSubject:
    if of.slip is not None:
        return _subject_of_row(session, slip_row(session, of.slip, branch))
    row = session.execute(select(Yarn.sku, Yarn.name).where(Yarn.sku == of.sku)).first()
    if row is None:
        raise _no_yarn(of.sku)
    return SwatchSubject(row.sku, row.name, of.craft)


def _no_yarn(sku: str) -> InputError:
    wrong = message("problem_visit.no_yarn_called", sku=sku)
    return InputError(wrong, message("problem_visit.give_sku"))


def _of_slip(session: Session, slip_id: int | None) -> Sequence[Swatch]:
    """Returns what is kept of a slip's swatches, the latest first; nothing without a slip."""
    wanted = select(Swatch).where(Swatch.slip_id == slip_id, Swatch.slip_id.is_not(None))
    return session.scalars(wanted.order_by(Swatch.id.desc())).all()


def _keep(session: Session, subject: SwatchSubject, event: SwatchEvent) -> int:
    swatch = event.swatch
    values = measurement_values(_evidence(subject, event))
    measured = YarnMeasurement(yarn_id=yarn_keys(session, [subject.sku])[subject.sku], **values)
    session.add(measured)
    session.flush()
    row = Swatch(
        measurement_id=measured.id,
        slip_id=subject.slip_id,
        over_cm=swatch.over_cm,
        width_cm=swatch.width_cm,
        height_cm=swatch.height_cm,
        mass_g=swatch.mass_g,
    )
    session.add(row)
    session.flush()
    return row.id


def _record(session: Session, row: Swatch) -> SwatchRecord:
    columns = YarnMeasurement.__table__.c
    stored = session.execute(select(*columns).where(columns.id == row.measurement_id)).one()
    measured = measurement_of(stored)
    sku = session.scalars(select(Yarn.sku).where(Yarn.id == stored.yarn_id)).one()
    slip = session.get(Slip, row.slip_id) if row.slip_id is not None else None
    subject = (
        _subject_of_row(session, slip)
        if slip
        else _subject(session, SwatchOf(sku=sku, craft=measured.craft), FIRST_BRANCH)
    )
    event = SwatchEvent(
        _swatch(row, measured),
        measured.on,
        measured.by,
        measured.from_customer,
        measured.asked_for,
    )
    yarn = _yarn(session, sku)
    others = list(yarn.measurements)
    others.remove(measured)
    return SwatchRecord(row.id, subject, event, _result(session, subject, event, yarn, others))


def _event(swatch: MeasuredSwatch, on: date, report: SwatchReport) -> SwatchEvent:
    asked_for = report.asked_for and report.from_customer
    return SwatchEvent(swatch, on, report.staff, report.from_customer, asked_for)


def _swatch(row: Swatch, measured: Measurement) -> MeasuredSwatch:
    assert measured.stitches is not None
    return MeasuredSwatch(
        gauge=Gauge(measured.stitches, measured.rows),
        over_cm=row.over_cm,
        stitch_pattern=StitchPattern(measured.stitch_pattern),
        washed=measured.washed,
        tool_mm=measured.tool_mm,
        width_cm=row.width_cm,
        height_cm=row.height_cm,
        mass_g=row.mass_g,
        hand=measured.hand,
    )


def _evidence(subject: SwatchSubject, event: SwatchEvent) -> Measurement:
    swatch = event.swatch
    return Measurement(
        kind=MeasurementKind.SWATCH,
        on=event.on,
        by=lengths.staff_name(visible(event.staff)),
        stitches=swatch.gauge.stitches,
        rows=swatch.gauge.rows,
        tool_mm=swatch.tool_mm,
        washed=swatch.washed,
        stitch_pattern=swatch.stitch_pattern.value,
        craft=subject.craft,
        from_customer=event.from_customer,
        hand=visible(swatch.hand) if swatch.hand else None,
        strands=subject.strands,
        slip_number=subject.slip_number,
        asked_for=event.asked_for,
    )


def _subject_of_row(session: Session, row: Slip) -> SwatchSubject:
    ask, content = read_ask(row.ask), read_content(row.content)
    second = next((line.sku for line in content.lines if line.sku != row.sku), None)
    branch = session.scalars(select(Branch.code).where(Branch.id == row.branch_id)).one()
    lines = tuple(_taken(line) for line in content.lines)
    return SwatchSubject(
        row.sku, row.yarn, ask.craft, row.id, row.number, branch, row.title, ask, lines, second
    )


def _taken(line: SlipLine) -> TakenLine:
    """A line as it went home, with what each of its skeins held by its band then."""
    put_up = None
    if line.length_m is not None and line.mass_g is not None:
        put_up = PutUp(line.mass_g / line.skeins, line.length_m / line.skeins)
    return TakenLine(line.part, line.sku, line.skeins, put_up, line.strands, line.parts)


def _yarn(session: Session, sku: str) -> ShelfYarn:
    yarn = shelf_yarn(session, sku)
    if yarn is None:
        raise _no_yarn(sku)
    return yarn


def _result(
    session: Session,
    subject: SwatchSubject,
    event: SwatchEvent,
    yarn: ShelfYarn,
    others: Sequence[Measurement],
) -> SwatchResult:
    before = shelf_profile(replace(yarn, measurements=tuple(others)))
    with_it = (*others, _evidence(subject, event))
    after = shelf_profile(replace(yarn, measurements=with_it))
    case = SwatchCase(
        ask=with_own_yarns(session, subject.ask) if subject.ask else None,
        lines=subject.lines,
        held=_held(session, subject, yarn),
        allowance_percent=load_settings(session).allowance_percent,
        own_gauge=OwnGauge(before.natural_stitches, after.natural_stitches),
    )
    return swatch_result(case, event.swatch)


def _held(session: Session, subject: SwatchSubject, yarn: ShelfYarn) -> StrandCombination:
    profile = shelf_profile(yarn)
    second = shelf_yarn(session, subject.second_sku) if subject.second_sku else None
    if second is not None:
        return held_with(profile, ProfiledYarn(second, shelf_profile(second)).summary)
    return held_alone(profile, subject.strands)
