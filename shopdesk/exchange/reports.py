"""What an import would do, or did: counted in full, shown for as many lines as one can read."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from shopdesk.exchange.problems import LineProblem

MOST_SHOWN = 500


@dataclass(frozen=True, slots=True)
class LineChange:
    """One line that makes something new or changes it; `fields` has (field, from, to)."""

    line: int
    what: str
    new: bool
    fields: tuple[tuple[str, str, str], ...] = ()

    def document(self) -> dict[str, object]:
        """Returns the change as plain data."""
        fields = [{"field": name, "from": old, "to": new} for name, old, new in self.fields]
        return {"line": self.line, "what": self.what, "new": self.new, "fields": fields}


@dataclass(slots=True)
class Tally:
    """Counts lines while they are looked at, and keeps the first of each sort to show."""

    new: int = 0
    changed: int = 0
    unchanged: int = 0
    refused: int = 0
    changes: list[LineChange] = field(default_factory=list)
    refusals: list[LineProblem] = field(default_factory=list)

    def change(self, change: LineChange) -> None:
        """Counts a new or changed thing."""
        if change.new:
            self.new += 1
        else:
            self.changed += 1
        if len(self.changes) < MOST_SHOWN:
            self.changes.append(change)

    def refuse(self, *problems: LineProblem) -> None:
        """Counts one line that is refused, for all its problems."""
        self.refused += 1
        self.refusals += problems[: MOST_SHOWN - len(self.refusals)]


@dataclass(frozen=True, slots=True)
class Report:
    """What is in a file against the shelf. `number` is the import's, None for a dry run.

    `columns` has each heading with the key of its field, None where it is left out.
    """

    kind: str
    file_name: str
    read_as: str
    columns: tuple[tuple[str, str | None], ...]
    new: int
    changed: int
    unchanged: int
    refused: int
    changes: tuple[LineChange, ...]
    refusals: tuple[LineProblem, ...]
    number: int | None = None

    def document(self) -> Mapping[str, object]:
        """Returns the report as plain data, for JSON."""
        return {
            "kind": self.kind,
            "file": self.file_name,
            "read_as": self.read_as,
            "columns": [{"heading": h, "field": key} for h, key in self.columns],
            "new": self.new,
            "changed": self.changed,
            "unchanged": self.unchanged,
            "refused": self.refused,
            "changes": [change.document() for change in self.changes],
            "refusals": [refusal.document() for refusal in self.refusals],
            "applied": self.number is not None,
            "import": self.number,
        }
