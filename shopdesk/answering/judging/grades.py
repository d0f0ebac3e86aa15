"""When a yarn is not for this: the reasons found, the group each leaves, and how much it weighs.

The figures stand in reference/grades.csv: a scale is what is found, its steps are how far off it
is. Judging a yarn and the bounds of a large shelf read the same rows.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache

from shopdesk.answering.model.answer import Suitability
from shopdesk.answering.thresholds import threshold
from shopdesk.craft.messages import Message
from shopdesk.reference.tables import table

RANKS = {group: number for number, group in enumerate(Suitability)}


@dataclass(frozen=True, slots=True)
class Reason:
    """A sentence and the best group the yarn can still be in because of it.

    `weight` orders findings of one group: what would go wrong first has the most.
    `change` says what has to be changed, where that is the remedy.
    """

    group: Suitability
    said: Message
    weight: float
    change: Message | None = None


def order_of(group: Suitability) -> int:
    """Returns 0 for the best group and 3 for 'not for this'."""
    return RANKS[group]


def worst_group(findings: Iterable[Reason]) -> Suitability:
    """Returns the group that all findings together leave to the yarn."""
    return max((f.group for f in findings), key=order_of, default=Suitability.AS_IT_IS)


def deciding_first(findings: Iterable[Reason]) -> tuple[Reason, ...]:
    """Returns the findings with the one that decides the group first."""
    return tuple(sorted(findings, key=lambda f: (-order_of(f.group), -f.weight, f.said.code)))


Grade = tuple[Suitability, float]
"""The best group that is left, and how much the finding weighs."""


@dataclass(frozen=True, slots=True)
class GradeStep:
    """One step of a scale, for what is off by more than the step before and at most `up_to`.

    `least` is the group's number and the penalty that every finding of this step brings at least.
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
        brings = 0.0 if group is Suitability.AS_IT_IS else penalty + per_off * before
        least = order_of(group), brings
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
    """Returns the group's number and the penalty of a finding that is off by so much."""
    group, weight = grade(scale, off)
    return order_of(group), 0.0 if group is Suitability.AS_IT_IS else weight
