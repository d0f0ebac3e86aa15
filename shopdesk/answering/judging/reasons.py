"""One thing found about a yarn for an ask, and how a list of them makes a group."""

from collections.abc import Iterable
from dataclasses import dataclass

from shopdesk.answering.model.answer import Suitability
from shopdesk.craft.messages import Message

RANKS = {group: number for number, group in enumerate(Suitability)}


@dataclass(frozen=True, slots=True)
class Reason:
    """A sentence and the best group the yarn can still be in because of it.

    `weight` orders findings of one group: what would go wrong first has the most.
    `change` says what has to be changed, where that is the remedy.
    """

    group: Suitability
    said: Message
    weight: float = 0.0
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
