"""Yarns from a file: new ones made, known ones changed in what the file's columns say."""

from collections.abc import Sequence
from decimal import Decimal
from typing import cast

from sqlalchemy import select
from sqlalchemy.orm import selectinload

from shopdesk.craft.errors import InputError
from shopdesk.craft.messages import Message, message
from shopdesk.craft.money import from_minor
from shopdesk.exchange.blends import Pair, written_blend
from shopdesk.exchange.columns import Field, Values
from shopdesk.exchange.lines import Distinct, Work
from shopdesk.exchange.reports import LineChange
from shopdesk.exchange.rows import Row
from shopdesk.exchange.stored_rows import set_yarn, yarn_values
from shopdesk.exchange.undoing import YARN, KeptChanges
from shopdesk.exchange.yarn_fields import EMPTY, whole_yarn, yarn_fields
from shopdesk.store.models import Yarn


def written(field: str, value: object, currency: str) -> str:
    """Returns the value of a stored field as text; what is not known is ''."""
    if value is None:
        return ""
    if field == "price_minor":
        return f"{from_minor(cast(int, value), currency):f}"
    if field == "fibres":
        return written_blend(cast(tuple[Pair, ...], value))
    if field == "attributes":
        return ", ".join(cast(tuple[str, ...], value))
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, float):
        return f"{Decimal(repr(value)).normalize():f}"
    return str(value)


def _twice(line: int) -> Message:
    return message("problem_file.yarn_twice", line=line)


class YarnImport:
    """Takes lines of yarns, a batch at a time."""

    needed: tuple[tuple[str, ...], ...] = (("sku",),)

    @staticmethod
    def fields(currency: str) -> tuple[Field, ...]:
        """Returns the fields that a file of yarns may have."""
        return yarn_fields(currency)

    def __init__(self, work: Work) -> None:
        self._work = work
        self._lines = Distinct(work, _twice, "sku")
        self._kept = KeptChanges(work.session, work.number) if work.number is not None else None

    def take(self, rows: Sequence[Row]) -> None:
        """Compares a batch of lines with the shelf and, in an import, writes it."""
        lines = self._lines.read(rows)
        known = self._stored([str(values["sku"]) for _, values in lines])
        made = []
        for line, values in lines:
            sku = str(values["sku"])
            if (change := self._change(line, values, known.get(sku))) is not None:
                made.append((sku, known.get(sku), change))
        if self._kept is not None:
            self._write(made, self._kept)
        self._work.session.expunge_all()

    def finish(self) -> None:
        """Every line is written already."""

    def _stored(self, skus: Sequence[str]) -> dict[str, Yarn]:
        wanted = (
            select(Yarn)
            .where(Yarn.sku.in_(skus))
            .options(selectinload(Yarn.fibres), selectinload(Yarn.attributes))
        )
        return {yarn.sku: yarn for yarn in self._work.session.scalars(wanted)}

    def _change(self, line: int, values: Values, yarn: Yarn | None) -> Values | None:
        """Returns what the yarn becomes, or None if it stays as it is or cannot be."""
        before = EMPTY if yarn is None else yarn_values(yarn)
        given = {name: value for name, value in values.items() if name != "sku"}
        try:
            after = whole_yarn({**before, **given})
        except InputError as refusal:
            self._work.refuse_line(line, refusal.problem.wrong, refusal.problem.right)
            return None
        missing = [name for name in ("name", "price") if after[_STORED[name]] in ("", None)]
        if missing:
            wrong = message("problem_file.new_yarn", sku=str(values["sku"]), field=missing[0])
            right = message("problem_file.give_of_yarn", fields=tuple(missing))
            self._work.refuse_line(line, wrong, right)
            return None
        if yarn is not None and after == before:
            self._work.tally.unchanged += 1
            return None
        self._work.tally.change(self._shown(line, values, before, after, yarn is None))
        return after

    def _shown(
        self, line: int, values: Values, before: Values, after: Values, new: bool
    ) -> LineChange:
        currency = self._work.currency
        fields = tuple(
            (name, written(name, before[name], currency), written(name, value, currency))
            for name, value in after.items()
            if value != before[name]
        )
        return LineChange(line, f"{values['sku']} {after['name']}", new, fields)

    def _write(self, made: Sequence[tuple[str, Yarn | None, Values]], kept: KeptChanges) -> None:
        written_now = []
        for sku, stored, after in made:
            before = None if stored is None else yarn_values(stored)
            yarn = stored or Yarn(sku=sku)
            set_yarn(yarn, after)
            if stored is None:
                self._work.session.add(yarn)
            written_now.append((yarn, before, after))
        self._work.session.flush()
        for yarn, before, after in written_now:
            kept.keep(YARN, yarn.id, before, after)
        kept.write()


_STORED = {"name": "name", "price": "price_minor"}
