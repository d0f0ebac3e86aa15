"""When a yarn is not for this: the group each finding leaves, and how much it weighs against it.

The figures stand in reference/grades.csv: a scale is what is found, its steps are how far off it
is. Judging a yarn and the bounds of a large shelf read the same rows.
"""

from dataclasses import dataclass
from functools import cache

from shopdesk.answering.judging.reasons import order_of
from shopdesk.answering.model.answer import Suitability
from shopdesk.answering.thresholds import threshold
from shopdesk.reference.tables import table

Grade = tuple[Suitability, float]
"""The best group that is left, and how much the finding weighs."""


@dataclass(frozen=True, slots=True)
class GradeStep:
    """One step of a scale, for what is off by more than the step before and at most `up_to`.

    `least` is the group's number and the trouble that every finding of this step brings at least.
    """

    name: str
    up_to: float
    group: Suitability
    penalty: float
    per_off: float
    least: tuple[int, float]

    def grade(self, off: float) -> Grade:
        """Returns the group and the weight of what is `off` by so much, at least zero."""
        return self.group, self.penalty + self.per_off * off


@cache
def steps(scale: str) -> tuple[GradeStep, ...]:
    """Returns the steps of a scale, nearest first; the last one has no end."""
    found: list[GradeStep] = []
    for row in table("grades"):
        if row["scale"] != scale:
            continue
        group, penalty, per_off = (
            Suitability(row["group"]),
            float(row["penalty"]),
            float(row["per_off"]),
        )
        before = found[-1].up_to if found else 0.0
        trouble = 0.0 if group is Suitability.AS_IT_IS else penalty + per_off * before
        least = order_of(group), trouble
        found.append(GradeStep(row["step"], _limit(row["up_to"]), group, penalty, per_off, least))
    return tuple(found)


def _limit(written: str) -> float:
    if not written:
        return float("inf")
    return float(written) if written.isdecimal() else threshold(written)


def step_at(scale: str, off: float) -> GradeStep:
    """Returns the step of what is off by so much, at least zero."""
    return next(step for step in steps(scale) if off <= step.up_to)


def grade(scale: str, off: float = 0.0) -> Grade:
    """Returns the group and the weight of what is off by so much, at least zero."""
    for step in steps(scale):
        if off <= step.up_to:
            return step.group, step.penalty + step.per_off * off
    raise ValueError(f"{off} is no distance on the scale {scale}")


def least_of(scale: str, off: float = 0.0) -> tuple[int, float]:
    """Returns the group's number and the trouble of a finding that is off by so much."""
    group, weight = grade(scale, off)
    return order_of(group), 0.0 if group is Suitability.AS_IT_IS else weight
