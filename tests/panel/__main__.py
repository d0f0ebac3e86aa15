"""Scores the answers to a half of the panel: python -m tests.panel {open|sealed}

Of the open half every ask that is not wholly right is shown with its answer and with what the
judges agree on; of the sealed half only the sums.
"""

import sys
from collections.abc import Iterable, Sequence
from pathlib import Path
from tempfile import TemporaryDirectory

from tests.panel.answering import Answered, answered, panel_shop
from tests.panel.panel import HALVES, cases_of
from tests.panel.scoring import FIRST, Score


def answers_of(half: str) -> list[Answered]:
    """Returns the scored answers to every ask of a half."""
    with TemporaryDirectory() as folder, panel_shop(Path(folder)) as engine:
        return [answered(engine, case) for case in cases_of(half)]


def summed(answers: Iterable[Answered]) -> Score:
    """Returns the counts over all answers."""
    return sum((one.score for one in answers), Score())


def shown(score: Score) -> str:
    """Returns the counts in words, a line each."""
    return "\n".join(
        [
            f"good yarns in the first {FIRST}: {score.right} of {score.possible}",
            f"refused yarns in the first {FIRST}: {score.bad_first}",
            f"refused by the judges of those said to do as they are: "
            f"{score.bad_promised} of {score.promised}",
            f"asks wholly right: {score.whole} of {score.asks}",
        ]
    )


def told(one: Answered) -> str:
    """Returns an ask that is not wholly right, its answer, and what is agreed."""
    good = ", ".join(one.case.agreed.good[:6]) or "none"
    return (
        f"{one.case.number} {one.case.document.get('title', '')}\n"
        f"    answered {'; '.join(one.first) or 'nothing'}\n    good {good}"
    )


def main(written: Sequence[str]) -> None:
    """Prints the score of the half that is named, the open one by default."""
    half = written[0] if written else HALVES[0]
    if half not in HALVES:
        raise SystemExit(f"there is no half '{half}'; the halves are {' and '.join(HALVES)}")
    answers = answers_of(half)
    if half == "open":
        print("\n".join(told(one) for one in answers if not one.score.whole), end="\n\n")
    print(shown(summed(answers)))


if __name__ == "__main__":
    main(sys.argv[1:])
