"""What is kept of an ask that nothing on the shelf fitted: what to buy in, not who asked."""

from collections import Counter

from shopdesk.answering.answer import Answer, Group
from shopdesk.answering.ask import Ask
from shopdesk.shelf.unmet import Unmet

NOTHING_LEFT = "wishes.all_ruled_out"
NOTHING_NEAR = "judging.none_near"


def unmet_of(ask: Ask, answer: Answer) -> Unmet | None:
    """Returns the unmet ask, or None if some yarn will do."""
    if any(candidate.group is not Group.NOT_FOR_THIS for candidate in answer.candidates):
        return None
    yarn = ask.designer_yarn
    return Unmet(
        item=ask.item.value,
        craft=ask.craft.value,
        reason=_reason(answer),
        categories=answer.target.categories,
        stitches=ask.gauge.stitches if ask.gauge else None,
        fibres=tuple(share.fibre for share in yarn.fibres) if yarn else (),
        washing=ask.washing.value,
        colour_family=ask.wishes.colour_family,
    )


def _reason(answer: Answer) -> str:
    """Returns the code that decided most often; a wish counts for every yarn it took away."""
    counts = Counter(c.reasons[0].code for c in answer.candidates if c.reasons)
    for taken in answer.ruled_out:
        counts[taken.wish.code] += taken.count
    counts[NOTHING_NEAR] += answer.beyond
    ranked = sorted(counts.items(), key=lambda item: (-item[1], item[0]))
    return ranked[0][0] if ranked and ranked[0][1] else NOTHING_LEFT
