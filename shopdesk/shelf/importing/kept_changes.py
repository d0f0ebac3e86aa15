"""What an import made or changed, row by row, kept so that it can be undone exactly."""

from collections.abc import Mapping
from decimal import Decimal
from typing import Any

from sqlalchemy import func, insert, select
from sqlalchemy.orm import Session

from shopdesk.shelf.importing.fields import Values
from shopdesk.shelf.models import ImportChange

YARN, COLOUR = "yarn", "colour"


class KeptChanges:
    """Collects the changes of one import and writes them down batch by batch."""

    def __init__(self, session: Session, number: int) -> None:
        self._session = session
        self._number = number
        self._position = (
            session.scalar(select(func.count()).where(ImportChange.import_id == number)) or 0
        )
        self._waiting: list[dict[str, Any]] = []

    def keep(self, what: str, row_id: int, before: Values | None, after: Values) -> None:
        """Notes one row that was made (`before` None) or changed."""
        self._position += 1
        self._waiting.append(
            {
                "import_id": self._number,
                "position": self._position,
                "what": what,
                "row_id": row_id,
                "before": None if before is None else as_document(before),
                "after": as_document(after),
            }
        )

    def write(self) -> None:
        """Writes down what was noted since the last time."""
        if self._waiting:
            self._session.execute(insert(ImportChange), self._waiting)
            self._waiting = []


def as_document(values: Values) -> dict[str, Any]:
    """Returns stored values as plain JSON data; shares are exact texts."""
    document: dict[str, Any] = dict(values)
    if "fibres" in document:
        document["fibres"] = [[fibre, f"{percent:f}"] for fibre, percent in document["fibres"]]
        document["attributes"] = list(document["attributes"])
    return document


def from_document(document: Mapping[str, Any]) -> Values:
    """Returns the stored values that `as_document` was given."""
    values = dict(document)
    if "fibres" in values:
        values["fibres"] = tuple((fibre, Decimal(share)) for fibre, share in values["fibres"])
        values["attributes"] = tuple(values["attributes"])
    return values
