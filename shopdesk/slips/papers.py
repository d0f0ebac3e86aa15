"""The papers to print on, each with its margins: sheets, and rolls that are as long as needed."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

from shopdesk.craft.errors import InputError
from shopdesk.craft.messages import message
from shopdesk.reference.paper_uses import PaperUse, papers_for
from shopdesk.reference.tables import table


class PaperUnknown(InputError):
    """No paper of that name."""


@dataclass(frozen=True, slots=True)
class Paper:
    """A paper with its margins in mm and its body text in points; a roll has no height.

    `foot_mm` of a sheet has room for the page number.
    """

    key: str
    name: str
    width_mm: float
    height_mm: float | None
    body_pt: float
    side_mm: float
    top_mm: float
    foot_mm: float

    @property
    def is_roll(self) -> bool:
        return self.height_mm is None

    @property
    def text_mm(self) -> float:
        """Width between the side margins."""
        return self.width_mm - 2 * self.side_mm


@cache
def papers(use: PaperUse = "slip") -> dict[str, Paper]:
    """Returns every paper for slips, or for tickets, by its key."""
    return {row["key"]: _paper(row) for row in table("papers") if row["key"] in papers_for(use)}


def paper_named(key: str) -> Paper:
    """Returns one paper for slips. Raises PaperUnknown, which names those there are."""
    if key not in papers():
        right = message("problem_shelf.choose_one_of", names=", ".join(papers()))
        raise PaperUnknown(message("problem_shelf.no_paper", name=key), right)
    return papers()[key]


def _paper(row: Mapping[str, str]) -> Paper:
    height = float(row["height_mm"]) if row["height_mm"] else None
    measures = (float(row[name]) for name in ("body_pt", "side_mm", "top_mm", "foot_mm"))
    return Paper(row["key"], row["name"], float(row["width_mm"]), height, *measures)
