"""How near the answers come to the panel's judges, on the half that is open to whoever tunes."""

from collections.abc import Iterator

from tests.bench.lines import Line
from tests.bench.shelves import Shelves
from tests.panel.__main__ import answers_of, summed
from tests.panel.scoring import FIRST

JUDGES = "two of three judges"


def measure(_: Shelves) -> Iterator[Line]:
    """Yields the shares of good yarns shown, of refused yarns shown and promised."""
    answers = answers_of("open")
    score, shown = summed(answers), sum(len(one.first) for one in answers)
    for what, number, of, goal in (
        (f"good yarns in the first {FIRST}", score.right, score.possible, "at least 0.95"),
        (f"refused yarns in the first {FIRST}", score.bad_first, shown, "at most one yarn"),
        (
            "refused of those said to do as they are",
            score.bad_promised,
            score.promised,
            "at most 0.02",
        ),
        ("asks wholly right", score.whole, score.asks, ""),
    ):
        yield Line("panel", what, f"{number}", f"of {of}, by {JUDGES}", number / of, goal)
