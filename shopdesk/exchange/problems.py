"""What is wrong with a file or with one of its lines, and what would be right."""

from dataclasses import asdict, dataclass

from shopdesk.craft.errors import InputError

LONGEST_SHOWN = 80


class FileRefused(InputError):
    """A file that cannot be read as a table at all."""


@dataclass(frozen=True, slots=True)
class LineRefused:
    """One cell, or with `column` '' one whole line, that cannot be taken."""

    line: int
    column: str
    value: str
    wrong: str
    right: str

    def __str__(self) -> str:
        column = f", column {self.column}" if self.column else ""
        return f"line {self.line}{column}: {self.wrong}; {self.right}"

    def document(self) -> dict[str, object]:
        """Returns the refusal as plain data."""
        return asdict(self)


def shown(text: object) -> str:
    """Returns a value short and printable enough for one line of a report."""
    plain = "".join(
        letter if letter.isprintable() else "\N{REPLACEMENT CHARACTER}" for letter in str(text)
    )
    return plain if len(plain) <= LONGEST_SHOWN else plain[: LONGEST_SHOWN - 1] + "…"
