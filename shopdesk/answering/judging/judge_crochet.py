"""Judges a yarn for a crocheted pattern: by weight category and length per mass, no knit rules."""

from shopdesk.answering.judging.companions import StrandCombination
from shopdesk.answering.judging.grades import Reason, grade
from shopdesk.answering.judging.judge_knit import length_findings
from shopdesk.answering.model.answer import Suitability, Target
from shopdesk.answering.profile.summary import YarnSummary
from shopdesk.craft.messages import message
from shopdesk.craft.weights import categories_by_gauge


def crochet_findings(
    target: Target, yarn: YarnSummary, held: StrandCombination
) -> tuple[Reason, ...]:
    """Returns what category and length per 100 g say of the held yarn for a crocheted pattern."""
    return (*_category_findings(target, yarn, held), *_length_findings(target, held))


def held_categories(yarn: YarnSummary, held: StrandCombination) -> tuple[int, ...]:
    """Returns the categories of the strands together."""
    if held.total_strands == 1:
        return yarn.categories
    return categories_by_gauge(held.stitches.low, held.stitches.high) if held.stitches else ()


def _category_findings(target: Target, yarn: YarnSummary, held: StrandCombination) -> list[Reason]:
    got = held_categories(yarn, held)
    if not got:
        group, weight = grade("too_little_known")
        return [Reason(group, message("judging.too_little_known"), weight)]
    if not target.categories:
        group, weight = grade("crochet_no_target")
        return [Reason(group, message("judging.crochet_no_target"), weight)]
    mine, theirs = min(
        ((a, b) for a in got for b in target.categories), key=lambda pair: abs(pair[0] - pair[1])
    )
    group, weight = grade("crochet_category", abs(mine - theirs))
    if group is Suitability.AS_IT_IS:
        shared = min(set(got) & set(target.categories))
        said = message("judging.crochet_same_weight", weight_term=f"terms.weight.{shared}")
        return [Reason(group, said, weight)]
    values = {"yarn_term": f"terms.weight.{mine}", "wanted_term": f"terms.weight.{theirs}"}
    side = "finer" if min(got) < min(target.categories) else "coarser"
    if group is Suitability.WITH_A_CHANGE:
        change = message(f"judging.change_hook_{'larger' if side == 'finer' else 'smaller'}")
        return [Reason(group, message(f"judging.crochet_near_{side}", **values), weight, change)]
    return [Reason(group, message(f"judging.crochet_far_{side}", **values), weight)]


def _length_findings(target: Target, held: StrandCombination) -> list[Reason]:
    found = length_findings(target, held)
    wanted, got = target.metres_per_100g, held.metres_per_100g
    if wanted is None or got is None:
        return found
    off = got.value / wanted.value - 1
    group, weight = grade("crochet_length", abs(off))
    if group is Suitability.AS_IT_IS:
        return found
    far = "far_" if group is Suitability.NOT_FOR_THIS else ""
    side = "finer" if off > 0 else "heavier"
    said = message(f"judging.crochet_length_{far}{side}", off_percent=round(abs(off) * 100))
    change = None
    if group is Suitability.WITH_A_CHANGE:
        change = message(f"judging.change_hook_{'larger' if off > 0 else 'smaller'}")
    return [*found, Reason(group, said, weight, change)]
