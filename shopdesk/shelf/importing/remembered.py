"""The shop's own headings: said once for a kind of file, and remembered."""

from sqlalchemy import delete, insert, select
from sqlalchemy.orm import Session

from shopdesk.shelf.importing.columns import Said
from shopdesk.shelf.importing.fields import plain_heading
from shopdesk.shelf.models import ImportHeading

LONGEST_HEADING = 200


def remembered(session: Session, kind: str) -> dict[str, str]:
    """Returns what was said of headings in files of this kind."""
    wanted = select(ImportHeading.heading, ImportHeading.field).where(ImportHeading.kind == kind)
    return {row.heading: row.field for row in session.execute(wanted)}


def remember(session: Session, kind: str, said: Said) -> None:
    """Keeps what was said of headings; what was said of the same heading before is replaced."""
    rows = [
        {"kind": kind, "heading": plain_heading(heading)[:LONGEST_HEADING], "field": key}
        for heading, key in said.items()
    ]
    headings = [row["heading"] for row in rows]
    session.execute(
        delete(ImportHeading).where(ImportHeading.kind == kind, ImportHeading.heading.in_(headings))
    )
    session.execute(insert(ImportHeading), rows)
