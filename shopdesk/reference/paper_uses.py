"""Which papers of papers.csv are for slips and which for shelf tickets."""

from typing import Literal

from shopdesk.reference.tables import table

PaperUse = Literal["slip", "ticket"]
_USES: dict[str, tuple[PaperUse, ...]] = {
    "slip": ("slip",),
    "ticket": ("ticket",),
    "both": ("slip", "ticket"),
}


def papers_for(use: PaperUse) -> tuple[str, ...]:
    """Returns the keys of the papers for this use, in the table's order."""
    return tuple(row["key"] for row in table("papers") if use in _USES[row["for"]])
