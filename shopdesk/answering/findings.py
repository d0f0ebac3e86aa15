"""One thing found about a yarn for an ask, and how a list of them makes a group."""

from collections.abc import Iterable
from dataclasses import dataclass

from shopdesk.answering.answer import Group
from shopdesk.craft.sayings import Saying

RANKS = {group: number for number, group in enumerate(Group)}


@dataclass(frozen=True, slots=True)
class Finding:
    """A sentence and the best group the yarn can still be in because of it.

    `weight` orders findings of one group: what would go wrong first has the most.
    `change` says what has to be changed, where that is the remedy.
    """

    group: Group
    said: Saying
    weight: float = 0.0
    change: Saying | None = None


def rank(group: Group) -> int:
    """Returns 0 for the best group and 3 for 'not for this'."""
    return RANKS[group]


def worst_group(findings: Iterable[Finding]) -> Group:
    """Returns the group that all findings together leave to the yarn."""
    return max((f.group for f in findings), key=rank, default=Group.AS_IT_IS)


def deciding_first(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Returns the findings with the one that decides the group first."""
    return tuple(sorted(findings, key=lambda f: (-rank(f.group), -f.weight, f.said.code)))
