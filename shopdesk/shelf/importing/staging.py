"""Lines of stock put into a temporary table, so that the database compares them all at once.

Four hundred thousand lines pass here: a line costs two look-ups and a tuple, nothing is kept of
it in memory, and every further step is one statement for all lines.
"""

import json
from collections.abc import Sequence

from sqlalchemy import select, text

from shopdesk.craft.refusals import Refused
from shopdesk.shelf.importing.cells import skeins, text_cell
from shopdesk.shelf.importing.fields import Field
from shopdesk.shelf.importing.lines import Work
from shopdesk.shelf.importing.sku import COLOUR_CODE, SKU
from shopdesk.shelf.importing.tables import Row
from shopdesk.shelf.models import Branch

LONGEST_LOT = 40
LONGEST_DELIVERY = 80
NAME = "staged_stock"
_KEY = "colourway_id, lot, branch_id, delivery"
Staged = tuple[int, str, int, str, int, int]
_LOT = text_cell("lot", LONGEST_LOT)

LOT = Field(
    "lot", _LOT, ("dye lot", "dyelot", "batch", "partie", "farbpartie", "bain"),
)  # fmt: skip
SKEINS = Field(
    "skeins",
    lambda text, _unit: {"skeins": skeins(text)},
    ("stock", "on hand", "quantity", "qty", "balls", "pieces", "bestand", "menge", "anzahl",
     "stück", "quantité"),
)  # fmt: skip
BRANCH = Field("branch", text_cell("branch", 20), ("shop", "location", "filiale", "magasin"))
DELIVERY = Field(
    "delivery",
    text_cell("delivery", LONGEST_DELIVERY),
    ("delivery note", "delivery number", "lieferschein", "bon de livraison"),
)
STOCK_FIELDS = (SKU, COLOUR_CODE, LOT, SKEINS, BRANCH)


class Staging:
    """The temporary table, and what is needed to fill it: colours and branches by their names."""

    def __init__(self, work: Work, columns: Sequence[str]) -> None:
        self._work = work
        self._width = len(work.columns)
        self._places = {key: work.place(key) for key in columns}
        self._of_deliveries = "delivery" in columns
        self._colours = _colours(work)
        self._branches = {row.code: row.id for row in work.session.execute(_BRANCHES)}
        work.session.connection().exec_driver_sql(
            f"CREATE TEMPORARY TABLE {NAME} (colourway_id INTEGER NOT NULL, lot TEXT NOT NULL, "
            "branch_id INTEGER NOT NULL, delivery TEXT NOT NULL, skeins INTEGER NOT NULL, "
            f"line INTEGER NOT NULL, PRIMARY KEY ({_KEY})){_without_rowid(work)}"
        )

    def put(self, rows: Sequence[Row]) -> None:
        """Puts a batch of lines into the table; what cannot be taken is refused."""
        staged: list[Staged] = []
        sku_at, colour_at = self._places["sku"] or 0, self._places["colour"] or 0
        lot_at, skeins_at = self._places["lot"], self._places["skeins"] or 0
        plain = self._places["branch"] is None and self._places.get("delivery") is None
        branch = self._branches.get(self._work.wishes.branch)
        unnamed = self._of_deliveries and not self._work.wishes.delivery
        if not plain or unnamed or lot_at is None or branch is None:
            staged = [one for row in rows if (one := self._careful(*row)) is not None]
            self._insert(staged)
            return
        colours, delivery, width = self._colours, self._work.wishes.delivery, self._width
        for line, cells in rows:
            try:
                colour = colours[cells[sku_at]][cells[colour_at]]
                lot, number = cells[lot_at], skeins(cells[skeins_at])
                simple = lot.isalnum() and len(lot) <= LONGEST_LOT and len(cells) <= width
            except (KeyError, IndexError, Refused):
                simple = False
            if simple:
                staged.append((colour, lot, branch, delivery, number, line))
            elif (one := self._careful(line, cells)) is not None:
                staged.append(one)
        self._insert(staged)

    def drop(self) -> None:
        """Removes the table."""
        self._work.session.connection().exec_driver_sql(f"DROP TABLE {NAME}")

    def _careful(self, line: int, cells: Sequence[str]) -> Staged | None:
        """Reads a line field by field, and says of each what is wrong with it."""
        values = self._work.read(line, cells)
        if values is None:
            return None
        sku, code = str(values["sku"]), str(values["colour"])
        if sku not in self._colours:
            right = "import its yarn and colours first, or check the number"
            self._work.refuse(line, "sku", sku, f"no yarn {sku} with colours is known", right)
            return None
        if code not in self._colours[sku]:
            right = "give one of " + ", ".join(sorted(self._colours[sku])[:12])
            self._work.refuse(line, "colour", code, f"{sku} has no colour {code}", right)
            return None
        branch = str(values.get("branch") or self._work.wishes.branch)
        if branch not in self._branches:
            right = "give one of " + ", ".join(self._branches)
            self._work.refuse(line, "branch", branch, f"there is no branch {branch}", right)
            return None
        delivery = str(values.get("delivery") or self._work.wishes.delivery)
        if self._of_deliveries and not delivery:
            right = "give the number of the delivery note, in a column or for the whole file"
            self._work.refuse(line, "delivery", "", "the delivery has no number", right)
            return None
        number = values["skeins"]
        assert isinstance(number, int)
        lot = str(values.get("lot") or "")
        return self._colours[sku][code], lot, self._branches[branch], delivery, number, line

    def _insert(self, staged: list[Staged]) -> None:
        if not staged:
            return
        done = self._work.session.connection().exec_driver_sql(self._statement(), staged)
        if done.rowcount != len(staged):
            self._refuse_twins(staged)

    def _statement(self) -> str:
        mark = "?" if _is_sqlite(self._work) else "%s"
        marks = ", ".join([mark] * 6)
        return f"INSERT INTO {NAME} VALUES ({marks}) ON CONFLICT ({_KEY}) DO NOTHING"

    def _refuse_twins(self, staged: list[Staged]) -> None:
        mark = "?" if _is_sqlite(self._work) else "%s"
        wanted = (
            f"SELECT line FROM {NAME} WHERE colourway_id = {mark} AND lot = {mark} "
            f"AND branch_id = {mark} AND delivery = {mark}"
        )
        connection = self._work.session.connection()
        for *key, _number, line in staged:
            first = connection.exec_driver_sql(wanted, tuple(key)).scalar()
            if first != line:
                wrong = f"the same lot stands on line {first} already"
                self._work.refuse(line, "lot", str(key[1]), wrong, "make one line of the two")


_BRANCHES = select(Branch.code, Branch.id).order_by(Branch.id)


def _colours(work: Work) -> dict[str, dict[str, int]]:
    """Returns the key of every colour by article number and code: one row for each yarn."""
    found = {}
    for sku, colours in work.session.execute(text(_COLOURS[_is_sqlite(work)])):
        found[sku] = json.loads(colours)
    return found


_COLOURS = {
    sqlite: (
        f"SELECT y.sku, {gathered} FROM yarn y JOIN colourway c ON c.yarn_id = y.id GROUP BY y.id"
    )
    for sqlite, gathered in (
        (True, "json_group_object(c.code, c.id)"),
        (False, "json_object_agg(c.code, c.id)::text"),
    )
}


def _is_sqlite(work: Work) -> bool:
    return work.session.get_bind().dialect.name == "sqlite"


def _without_rowid(work: Work) -> str:
    return " WITHOUT ROWID" if _is_sqlite(work) else ""
