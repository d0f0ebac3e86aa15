"""What is wrong with a file or with one of its lines, and what would be right."""

from dataclasses import dataclass

from shopdesk.craft.errors import InputError, Problem
from shopdesk.wording.translate import english

LONGEST_SHOWN = 80


class FileRefused(InputError):
    """A file that cannot be read as a table at all."""


@dataclass(frozen=True, slots=True)
class LineProblem(Problem):
    """What is wrong with `value`, a cell under (line, column) or a whole line under (line,)."""

    value: str = ""

    @property
    def line(self) -> int:
        """The line's number in the file."""
        return int(self.path[0])

    @property
    def column(self) -> str:
        """The heading of the cell's column; '' where it is not one cell's fault."""
        return str(self.path[1]) if len(self.path) > 1 else ""

    def __str__(self) -> str:
        column = f", column {self.column}" if self.column else ""
        return f"line {self.line}{column}: {english(self.sentence)}"

    def document(self) -> dict[str, object]:
        """Returns the problem as plain data."""
        said = {"wrong": english(self.wrong), "right": english(self.right) if self.right else ""}
        return {"line": self.line, "column": self.column, "value": self.value, **said}


def shown(text: object) -> str:
    """Returns a value short and printable enough for one line of a report."""
    plain = "".join(
        letter if letter.isprintable() else "\N{REPLACEMENT CHARACTER}" for letter in str(text)
    )
    return plain if len(plain) <= LONGEST_SHOWN else plain[: LONGEST_SHOWN - 1] + "…"
