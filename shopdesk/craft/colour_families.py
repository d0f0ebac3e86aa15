"""The families that a shop sorts its colours by."""

from shopdesk.reference.tables import table


def colour_families() -> tuple[str, ...]:
    """Returns the colour families in the order they are shown; common practice, no source."""
    return tuple(row["key"] for row in table("colour_families"))
