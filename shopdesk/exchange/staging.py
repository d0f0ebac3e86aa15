"""Lines of stock put into a temporary table, so that the database compares them all at once.

Four hundred thousand lines pass here. A batch whose lines are all plain is read column by
column; one that is not is halved until what needs a closer look is read line by line. Nothing of
a line is kept in memory, and every further step is one statement for all lines.
"""

from collections.abc import Callable, Iterable, Sequence
from functools import lru_cache
from itertools import repeat

from sqlalchemy import select, text

from shopdesk.craft import lengths
from shopdesk.craft.errors import InputError
from shopdesk.craft.messages import message
from shopdesk.exchange.cells import barcode, skeins, text_cell
from shopdesk.exchange.columns import Field, as_typed
from shopdesk.exchange.identified import BY_BARCODE, BY_NUMBER, identifying
from shopdesk.exchange.lines import COLOUR_CODE, SKU, Work
from shopdesk.exchange.reports import MOST_SHOWN
from shopdesk.exchange.rows import Row
from shopdesk.store.models import Branch

NAME = "staged_stock"
NEEDED = ((*BY_NUMBER, "skeins"), (*BY_BARCODE, "skeins"))
SHORT = min(lengths.LOT, lengths.DELIVERY)
_FEW_LINES = 8
_KEY = "colourway_id, lot, branch_id, delivery"
Staged = tuple[int, int, str, int, str, int]
Cells = Sequence[str]
_LOT = text_cell("lot", lengths.LOT)
_DELIVERY = text_cell("delivery", lengths.DELIVERY)

LOT = Field(
    "lot", _LOT, ("dye lot", "dyelot", "batch", "partie", "farbpartie", "bain"),
)  # fmt: skip
SKEINS = Field(
    "skeins",
    lambda text, _unit: {"skeins": skeins(text)},
    ("stock", "on hand", "quantity", "qty", "balls", "pieces", "bestand", "menge", "anzahl",
     "stück", "quantité"),
)  # fmt: skip
BRANCH = Field(
    "branch", text_cell("branch", lengths.BRANCH_CODE), ("shop", "location", "filiale", "magasin")
)
DELIVERY = Field(
    "delivery",
    _DELIVERY,
    ("delivery note", "delivery number", "lieferschein", "bon de livraison"),
)
GTIN = Field("gtin", barcode, ("barcode", "ean", "upc", "strichcode", "code barres"))
STOCK_FIELDS = (SKU, COLOUR_CODE, GTIN, LOT, SKEINS, BRANCH)

_TWINS = text(f"""
    SELECT s.line, s.lot, f.first FROM {NAME} s
    JOIN (SELECT {_KEY}, min(line) AS first FROM {NAME} GROUP BY {_KEY} HAVING count(*) > 1) f
    ON f.colourway_id = s.colourway_id AND f.lot = s.lot AND f.branch_id = s.branch_id
        AND f.delivery = s.delivery
    WHERE s.line <> f.first ORDER BY s.line LIMIT {MOST_SHOWN}
""")
_DROP_TWINS = text(
    f"DELETE FROM {NAME} WHERE line NOT IN (SELECT min(line) FROM {NAME} GROUP BY {_KEY})"
)
_HOW_MANY = text(
    f"SELECT (SELECT count(*) FROM {NAME}) - (SELECT count(*) FROM (SELECT DISTINCT {_KEY} "
    f"FROM {NAME}) AS kept)"
)
_BRANCHES = select(Branch.code, Branch.id).order_by(Branch.id)


class Staging:
    """The temporary table, and what is needed to fill it: colours and branches by their names."""

    def __init__(self, work: Work, *, deliveries: bool = False) -> None:
        self._work = work
        self._of_deliveries = deliveries
        self._identifying = identifying(work)
        self._branches = {row.code: row.id for row in work.session.execute(_BRANCHES)}
        work.session.connection().exec_driver_sql(
            f"CREATE TEMPORARY TABLE {NAME} (line INTEGER PRIMARY KEY, "
            "colourway_id INTEGER NOT NULL, lot TEXT NOT NULL, branch_id INTEGER NOT NULL, "
            "delivery TEXT NOT NULL, skeins INTEGER NOT NULL)"
        )
        mark = "?" if work.session.get_bind().dialect.name == "sqlite" else "%s"
        self._insert = f"INSERT INTO {NAME} VALUES ({', '.join([mark] * 6)})"

    def put(self, rows: Sequence[Row]) -> None:
        """Puts a batch of lines into the table; what cannot be taken is refused."""
        staged = self._staged(rows)
        if staged:
            self._work.session.connection().exec_driver_sql(self._insert, staged)

    def refuse_twins(self) -> None:
        """Refuses lines of a lot that stands on an earlier line already, when all are put."""
        session, tally = self._work.session, self._work.tally
        twins = session.scalar(_HOW_MANY) or 0
        if not twins:
            return
        shown = session.execute(_TWINS).all()
        for row in shown:
            wrong = message("problem_file.lot_twice", line=row.first)
            self._work.refuse(row.line, "lot", row.lot, wrong, message("problem_file.make_one"))
        tally.refused += twins - len(shown)
        session.execute(_DROP_TWINS)

    def drop(self) -> None:
        """Removes the table."""
        self._work.session.connection().exec_driver_sql(f"DROP TABLE {NAME}")

    def _staged(self, rows: Sequence[Row]) -> list[Staged]:
        plain = self._plain(rows) if rows else []
        if plain is not None:
            return plain
        if len(rows) <= _FEW_LINES:
            return [one for row in rows if (one := self._careful(*row)) is not None]
        half = len(rows) // 2
        return self._staged(rows[:half]) + self._staged(rows[half:])

    def _plain(self, rows: Sequence[Row]) -> list[Staged] | None:
        """Returns lines read column by column, or None if one of them is not plain."""
        lines, cells = zip(*rows, strict=True)
        if set(map(len, cells)) != {len(self._work.columns)}:
            return None
        columns = tuple(zip(*cells, strict=True))
        try:
            colours = self._identifying.of_columns(columns)
            numbers = list(map(skeins, columns[self._work.place("skeins") or 0]))
            lots, branches, deliveries = (
                read(columns) for read in (self._lots, self._branch_keys, self._deliveries)
            )
        except (KeyError, InputError):
            return None
        return list(zip(lines, colours, lots, branches, deliveries, numbers, strict=False))

    def _lots(self, columns: Sequence[Cells]) -> Iterable[str]:
        place = self._work.place("lot")
        return repeat("") if place is None else _plain_texts(columns[place], _is_plain_lot)

    def _branch_keys(self, columns: Sequence[Cells]) -> Iterable[int]:
        place, usual = self._work.place("branch"), self._branches[self._work.wishes.branch]
        if place is None:
            return repeat(usual)
        known = {**self._branches, "": usual}
        return [known[name] for name in columns[place]]

    def _deliveries(self, columns: Sequence[Cells]) -> Iterable[str]:
        place = self._work.place("delivery")
        if place is None:
            if self._of_deliveries and not self._work.wishes.delivery:
                raise KeyError
            return repeat(self._work.wishes.delivery)
        if not all(columns[place]):
            raise KeyError
        return _plain_texts(columns[place], _is_plain_delivery)

    def _careful(self, line: int, cells: Sequence[str]) -> Staged | None:
        """Reads a line field by field, and says of each what is wrong with it."""
        values = self._work.read(line, cells)
        if values is None or (colour := self._identifying.of_line(line, values)) is None:
            return None
        branch = str(values.get("branch") or self._work.wishes.branch)
        if branch not in self._branches:
            wrong = message("problem_file.no_branch", branch=branch)
            right = message("problem_shelf.give_one_of", names=", ".join(self._branches))
            self._work.refuse(line, "branch", branch, wrong, right)
            return None
        delivery = str(values.get("delivery") or self._work.wishes.delivery)
        if self._of_deliveries and not delivery:
            wrong, right = (
                message("problem_file.no_delivery"),
                message("problem_file.give_delivery"),
            )
            self._work.refuse(line, "delivery", "", wrong, right)
            return None
        number = values["skeins"]
        assert isinstance(number, int)
        lot = str(values.get("lot") or "")
        return line, colour, lot, self._branches[branch], delivery, number


def _plain_texts(texts: Cells, is_plain: Callable[[str], bool]) -> Cells:
    """Returns the texts as they are. Raises KeyError if the import would change or refuse one."""
    together = "".join(texts)
    short = max(map(len, texts)) <= SHORT
    if not (short and f"x{together}".isalnum()) and not all(map(is_plain, set(texts))):
        raise KeyError
    return texts


@lru_cache(4096)
def _is_plain_lot(lot: str) -> bool:
    return _LOT(as_typed(lot), "")["lot"] == lot


@lru_cache(4096)
def _is_plain_delivery(delivery: str) -> bool:
    return _DELIVERY(as_typed(delivery), "")["delivery"] == delivery
