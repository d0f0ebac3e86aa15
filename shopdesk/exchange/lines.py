"""One line of a file: what it is about, each cell read by its field, or every problem it has."""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

from sqlalchemy.orm import Session

from shopdesk.craft import lengths
from shopdesk.craft.errors import InputError
from shopdesk.craft.messages import Message, message
from shopdesk.exchange.cells import text_cell
from shopdesk.exchange.columns import Column, Field, Values, as_typed
from shopdesk.exchange.problems import LineProblem, shown
from shopdesk.exchange.reports import Tally
from shopdesk.exchange.rows import Row
from shopdesk.exchange.workbooks import DATE_MARK
from shopdesk.store.tables.stock import FIRST_BRANCH

SKU = Field(
    "sku",
    text_cell("sku", lengths.SKU, needed=True),
    ("article", "article number", "art nr", "art.-nr", "artikel", "artikelnummer", "item number",
     "référence"),
)  # fmt: skip
COLOUR_CODE = Field(
    "colour",
    text_cell("colour", lengths.COLOUR_CODE, needed=True),
    (
        "color",
        "code",
        "colour code",
        "color code",
        "shade",
        "farbe",
        "farbnummer",
        "couleur",
        "coloris",
    ),
)


@dataclass(frozen=True, slots=True)
class FileDefaults:
    """What holds for a whole file: the branch and the delivery of lines that do not say."""

    branch: str = FIRST_BRANCH
    delivery: str = ""


@dataclass(frozen=True, slots=True)
class Work:
    """What every kind of import works with. `number` is the import's own, None in a dry run."""

    session: Session
    columns: tuple[Column, ...]
    tally: Tally
    currency: str
    wishes: FileDefaults
    number: int | None

    def heading(self, key: str) -> str:
        """Returns the heading of the column that holds a field, or the field's own name."""
        found = (c.heading for c in self.columns if c.field is not None and c.field.key == key)
        return next(found, key)

    def place(self, key: str) -> int | None:
        """Returns the place of the column that holds a field, if there is one."""
        return next(
            (c.place for c in self.columns if c.field is not None and c.field.key == key), None
        )

    def refuse(self, line: int, key: str, value: str, wrong: Message, right: Message) -> None:
        """Counts a line as refused for one reason."""
        where = (line, self.heading(key))
        self.tally.refuse(LineProblem(where, wrong, right, shown(value)))

    def refuse_line(self, line: int, wrong: Message, right: Message | None) -> None:
        """Counts a line as refused for something that is not one cell's fault."""
        self.tally.refuse(LineProblem((line,), wrong, right))

    def read(self, line: int, cells: Sequence[str]) -> Values | None:
        """Returns the values of a line, or None after counting it as refused."""
        values: dict[str, object] = {}
        problems = []
        for column in self.columns:
            if column.field is None:
                continue
            text = as_typed(cells[column.place]) if column.place < len(cells) else ""
            try:
                values |= column.field.read(text, column.unit)
            except InputError as refusal:
                value = shown(text.removeprefix(DATE_MARK).strip())
                where = (line, column.heading)
                wrong, right = refusal.problem.wrong, refusal.problem.right
                problems.append(LineProblem(where, wrong, right, value))
        problems += _beyond(line, cells, len(self.columns))
        if problems:
            self.tally.refuse(*problems)
            return None
        return values


class Distinct:
    """Reads lines that must each be of another thing, told apart by its `keys`.

    `twice` says that a thing stands on an earlier line already.
    """

    def __init__(self, work: Work, twice: Callable[[int], Message], *keys: str) -> None:
        self._work, self._twice, self._keys = work, twice, keys
        self._seen: dict[tuple[str, ...], int] = {}

    def read(self, rows: Iterable[Row]) -> list[tuple[int, Values]]:
        """Returns the lines that can be taken; counts the others as refused."""
        return [(line, values) for line, cells in rows if (values := self._read(line, cells))]

    def _read(self, line: int, cells: Sequence[str]) -> Values | None:
        values = self._work.read(line, cells)
        if values is None:
            return None
        key = tuple(str(values[name]) for name in self._keys)
        first = self._seen.setdefault(key, line)
        if first != line:
            right = message("problem_file.keep_one")
            self._work.refuse(line, self._keys[-1], key[-1], self._twice(first), right)
            return None
        return values


def _beyond(line: int, cells: Sequence[str], width: int) -> list[LineProblem]:
    extra = [cell for cell in cells[width:] if cell.strip()]
    if not extra:
        return []
    wrong = message("problem_file.cells_beyond", cells=len(cells), headings=width)
    right = message("problem_file.stray_mark")
    return [LineProblem((line,), wrong, right, shown(extra[0]))]
