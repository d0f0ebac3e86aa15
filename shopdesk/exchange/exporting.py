"""The shelf as CSV files that the import takes back unchanged."""

import csv
from collections.abc import Callable, Iterator, Mapping, Sequence
from itertools import chain

from sqlalchemy import select
from sqlalchemy.orm import Session, selectinload

from shopdesk.exchange.columns import harmless
from shopdesk.exchange.stored_rows import COLOUR_VALUES, colour_values, yarn_values
from shopdesk.exchange.yarn_fields import EMPTY
from shopdesk.exchange.yarn_lines import written
from shopdesk.store.models import Branch, Colourway, DyeLot, Stock, Yarn
from shopdesk.store.settings import load_settings

Line = Sequence[str]
_BATCH = 500
_HEADINGS = {"price_minor": "price"}


def csv_lines(session: Session, kind: str) -> Iterator[str]:
    """Yields a table of a kind of EXPORTS as CSV line by line, its headings first.

    Nothing in a cell is run as a formula by a spreadsheet; the import takes what keeps it from
    that away again.
    """
    headings, rows = EXPORTS[kind](session)
    writer = csv.writer(_Echo(), lineterminator="\r\n")
    for row in chain([headings], rows):
        yield str(writer.writerow([harmless(cell) for cell in row]))


class _Echo:
    """Gives back what the writer writes, in place of a file."""

    def write(self, line: str) -> str:
        return line


def _yarns(session: Session) -> tuple[Line, Iterator[Line]]:
    currency = load_settings(session).currency
    headings = ["sku", *(_HEADINGS.get(name, name) for name in EMPTY)]
    wanted = (
        select(Yarn)
        .options(selectinload(Yarn.fibres), selectinload(Yarn.attributes))
        .order_by(Yarn.sku)
        .execution_options(yield_per=_BATCH)
    )

    def rows() -> Iterator[Line]:
        for yarn in session.scalars(wanted):
            values = yarn_values(yarn)
            yield [yarn.sku, *(written(name, values[name], currency) for name in EMPTY)]

    return headings, rows()


def _colours(session: Session) -> tuple[Line, Iterator[Line]]:
    wanted = (
        select(Yarn.sku, Colourway)
        .join_from(Colourway, Yarn)
        .order_by(Yarn.sku, Colourway.code)
        .execution_options(yield_per=_BATCH)
    )

    def rows() -> Iterator[Line]:
        for sku, colour in session.execute(wanted):
            values = colour_values(colour)
            yield [sku, colour.code, *(written(name, values[name], "") for name in COLOUR_VALUES)]

    return ["sku", "colour", *COLOUR_VALUES], rows()


def _stock(session: Session) -> tuple[Line, Iterator[Line]]:
    wanted = (
        select(Yarn.sku, Colourway.code, DyeLot.lot, Stock.on_hand, Branch.code)
        .join_from(Stock, DyeLot, DyeLot.id == Stock.lot_id)
        .join(Colourway, Colourway.id == DyeLot.colourway_id)
        .join(Yarn, Yarn.id == Colourway.yarn_id)
        .join(Branch, Branch.id == Stock.branch_id)
        .order_by(Yarn.sku, Colourway.code, DyeLot.lot, Branch.code)
        .execution_options(yield_per=_BATCH)
    )

    def rows() -> Iterator[Line]:
        for sku, colour, lot, on_hand, branch in session.execute(wanted):
            yield sku, colour, lot, str(on_hand), branch

    return ("sku", "colour", "lot", "skeins", "branch"), rows()


EXPORTS: Mapping[str, Callable[[Session], tuple[Line, Iterator[Line]]]] = {
    "yarns": _yarns,
    "colours": _colours,
    "stock": _stock,
}
