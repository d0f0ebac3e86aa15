"""The papers a slip can be printed on: sheets, and rolls that are as long as needed."""

from dataclasses import dataclass
from functools import cache

from shopdesk.reference.tables import table


class PaperUnknown(ValueError):
    """No paper of that name."""


@dataclass(frozen=True, slots=True)
class Paper:
    """A paper in mm; `height_mm` is None for a roll."""

    key: str
    name: str
    width_mm: float
    height_mm: float | None
    side_mm: float
    body_pt: float

    @property
    def top_mm(self) -> float:
        """Margin at the top."""
        return 3.0 if self.is_roll else self.side_mm

    @property
    def foot_mm(self) -> float:
        """Margin at the foot; a sheet's has room for the page number."""
        return 6.0 if self.is_roll else self.side_mm

    @property
    def is_roll(self) -> bool:
        return self.height_mm is None

    @property
    def text_mm(self) -> float:
        """Width between the side margins."""
        return self.width_mm - 2 * self.side_mm


_BODY_PT = {"A5": 8.0, "half-letter": 8.0, "A6": 7.0, "roll-80": 8.0, "roll-58": 7.5}
_SHEET_SIDE_MM = {"A5": 10.0, "half-letter": 10.0, "A6": 8.0}


@cache
def papers() -> dict[str, Paper]:
    """Returns every paper by its key: A5, A6, half-letter, roll-80 and roll-58."""
    return {row["key"]: _paper(dict(row)) for row in table("papers")}


def paper_named(key: str) -> Paper:
    """Returns one paper. Raises PaperUnknown, which names those there are."""
    if key not in papers():
        raise PaperUnknown(f"'{key}' is not a paper; choose one of {', '.join(papers())}")
    return papers()[key]


def _paper(row: dict[str, str]) -> Paper:
    key, width = row["key"], float(row["width_mm"])
    side = _SHEET_SIDE_MM.get(key) or (width - float(row["printable_mm"])) / 2
    height = float(row["height_mm"]) if row["height_mm"] else None
    return Paper(key, row["name"], width, height, side, _BODY_PT[key])
