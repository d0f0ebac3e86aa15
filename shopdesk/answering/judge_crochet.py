"""Judges a yarn for a crocheted pattern: by weight category and length per mass, no knit rules."""

from shopdesk.answering.answer import Group, Profile, Target
from shopdesk.answering.findings import Finding
from shopdesk.answering.held import Held
from shopdesk.answering.judge_knit import length_findings
from shopdesk.answering.limits import limit
from shopdesk.craft.sayings import saying
from shopdesk.craft.weights import categories_by_gauge


def crochet_findings(target: Target, profile: Profile, held: Held) -> tuple[Finding, ...]:
    """Returns what category and length per 100 g say of the held yarn for a crocheted pattern."""
    return (*_category_findings(target, profile, held), *_length_findings(target, held))


def held_categories(profile: Profile, held: Held) -> tuple[int, ...]:
    """Returns the categories of the strands together."""
    if held.total_strands == 1:
        return profile.categories
    return categories_by_gauge(held.stitches.low, held.stitches.high) if held.stitches else ()


def _category_findings(target: Target, profile: Profile, held: Held) -> list[Finding]:
    got = held_categories(profile, held)
    if not got:
        return [Finding(Group.NOT_FOR_THIS, saying("judging.too_little_known"), 9)]
    if not target.categories:
        return [Finding(Group.SWATCH_FIRST, saying("judging.crochet_no_target"), 4)]
    distance = min(abs(a - b) for a in got for b in target.categories)
    if distance == 0:
        shared = min(set(got) & set(target.categories))
        said = saying("judging.crochet_same_weight", weight_term=f"terms.weight.{shared}")
        return [Finding(Group.AS_IT_IS, said, 1)]
    mine, theirs = min(
        ((a, b) for a in got for b in target.categories), key=lambda pair: abs(pair[0] - pair[1])
    )
    values = {"yarn_term": f"terms.weight.{mine}", "wanted_term": f"terms.weight.{theirs}"}
    side = "finer" if min(got) < min(target.categories) else "coarser"
    if distance == 1:
        change = saying(f"judging.change_hook_{'larger' if side == 'finer' else 'smaller'}")
        said = saying(f"judging.crochet_near_{side}", **values)
        return [Finding(Group.WITH_A_CHANGE, said, 6, change)]
    return [
        Finding(Group.NOT_FOR_THIS, saying(f"judging.crochet_far_{side}", **values), 6 + distance)
    ]


def _length_findings(target: Target, held: Held) -> list[Finding]:
    found = length_findings(target, held)
    wanted, got = target.metres_per_100g, held.metres_per_100g
    if wanted is None or got is None:
        return found
    off = abs(got.value / wanted.value - 1)
    if off <= limit("crochet_tex_close"):
        return found
    values = {"off_percent": round(off * 100)}
    side = "finer" if got.value > wanted.value else "heavier"
    if off <= limit("crochet_tex_reach"):
        said = saying(f"judging.crochet_length_{side}", **values)
        return [*found, Finding(Group.SWATCH_FIRST, said, 5 + off)]
    said = saying(f"judging.crochet_length_far_{side}", **values)
    return [*found, Finding(Group.NOT_FOR_THIS, said, 5 + off)]
