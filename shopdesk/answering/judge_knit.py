"""Judges what is held on the needles against the target of a knitted pattern."""

from shopdesk.answering.answer import Group, Target
from shopdesk.answering.ask import Ask
from shopdesk.answering.findings import Finding
from shopdesk.answering.held import Held
from shopdesk.answering.limits import limit
from shopdesk.answering.target import gauge_tells
from shopdesk.craft.figures import Basis, Figure
from shopdesk.craft.gauge import size_same_counts_cm
from shopdesk.craft.sayings import Saying, saying
from shopdesk.craft.yarn import Craft


def knit_findings(ask: Ask, target: Target, held: Held) -> tuple[Finding, ...]:
    """Returns what gauge, length per mass and firmness say of the held yarn for this ask."""
    found = [
        *_gauge_findings(ask, target, held),
        *length_findings(target, held),
        *_fabric_findings(target, held),
    ]
    return tuple(found)


def gauge_off(target: Target, held: Held) -> float | None:
    """Returns how much finer (+) or coarser (-) the held yarn is, as a share of the target."""
    if target.natural_stitches is None or held.stitches is None:
        return None
    return held.stitches.value / target.natural_stitches.value - 1


def _gauge_findings(ask: Ask, target: Target, held: Held) -> list[Finding]:
    off = gauge_off(target, held)
    if off is None:
        return [_no_gauge(target, held)]
    assert target.natural_stitches is not None
    assert held.stitches is not None
    by_length = _off_by_length(target, held)
    if by_length is not None:
        return [_graded_length(by_length)]
    if _pattern_says_little(ask, target):
        return [_openwork_finding(target.natural_stitches, held.stitches)]
    if target.natural_stitches.basis is Basis.ESTIMATE:
        return [_within_name_finding(target.natural_stitches, held.stitches)]
    found = [_graded_gauge(ask, target.natural_stitches, held.stitches, off)]
    if held.stitches.basis is Basis.ESTIMATE:
        found.append(Finding(Group.SWATCH_FIRST, saying("judging.gauge_estimated"), 2))
    elif _half_width(held.stitches) > limit("gauge_near"):
        found.append(Finding(Group.SWATCH_FIRST, saying("judging.gauge_uncertain"), 1))
    return found


def _off_by_length(target: Target, held: Held) -> float | None:
    """How much finer (+) or coarser (-) by length per mass, where gauge is no better than a guess.

    Gauge goes with the square root of length per mass (common practice).
    """
    wanted, got = target.metres_per_100g, held.metres_per_100g
    if wanted is None or got is None or target.natural_stitches is None or held.stitches is None:
        return None
    if target.natural_stitches.basis is not Basis.ESTIMATE:
        return None
    return float((got.value / wanted.value) ** 0.5 - 1)


def _graded_length(off: float) -> Finding:
    size, side = abs(off), "finer" if off > 0 else "coarser"
    if size <= limit("gauge_close"):
        return Finding(Group.SWATCH_FIRST, saying("judging.by_length_same"), 4)
    if size <= limit("gauge_near"):
        return Finding(Group.SWATCH_FIRST, Saying(f"judging.by_length_near_{side}"), 6 + size)
    if size <= limit("gauge_reach"):
        change = saying(f"judging.change_tool_{'smaller' if off < 0 else 'larger'}")
        return Finding(
            Group.WITH_A_CHANGE, Saying(f"judging.by_length_reach_{side}"), 6 + size, change
        )
    return Finding(Group.NOT_FOR_THIS, Saying(f"judging.by_length_far_{side}"), 6 + size)


def _within_name_finding(wanted: Figure, got: Figure) -> Finding:
    """Only a weight name is known of the original: anything in its range may do."""
    values = {"yarn_st": got.value, "low_st": wanted.low, "high_st": wanted.high}
    outside = max(wanted.low / got.value, got.value / wanted.high) - 1
    if outside <= limit("gauge_close"):
        return Finding(Group.SWATCH_FIRST, Saying("judging.in_names_range", values), 4)
    if outside <= limit("gauge_near"):
        return Finding(Group.SWATCH_FIRST, Saying("judging.near_names_range", values), 6 + outside)
    return Finding(Group.NOT_FOR_THIS, Saying("judging.outside_names_range", values), 6 + outside)


def _pattern_says_little(ask: Ask, target: Target) -> bool:
    return not target.from_designer_yarn and not gauge_tells(ask.gauge, Craft.KNIT)


def _half_width(figure: Figure) -> float:
    return (figure.high - figure.low) / 2 / figure.value


def _no_gauge(target: Target, held: Held) -> Finding:
    if held.stitches is None and held.tex is None:
        return Finding(Group.NOT_FOR_THIS, saying("judging.too_little_known"), 9)
    if held.stitches is None:
        return Finding(Group.SWATCH_FIRST, saying("judging.gauge_unknown"), 5)
    return Finding(Group.SWATCH_FIRST, saying("judging.no_target_gauge"), 5)


def _openwork_finding(wanted: Figure, got: Figure) -> Finding:
    values = _gauge_values(wanted, got)
    if wanted.overlaps(got):
        return Finding(Group.SWATCH_FIRST, Saying("judging.openwork_possible", values), 4)
    return Finding(Group.NOT_FOR_THIS, Saying("judging.openwork_far", values), 8)


def _gauge_values(wanted: Figure, got: Figure) -> dict[str, float]:
    return {
        "yarn_st": got.value,
        "wanted_st": wanted.value,
        "off_st": abs(got.value - wanted.value),
    }


def _graded_gauge(ask: Ask, wanted: Figure, got: Figure, off: float) -> Finding:
    values, size = _gauge_values(wanted, got), abs(off)
    side = "finer" if off > 0 else "coarser"
    if size <= limit("gauge_close"):
        return Finding(Group.AS_IT_IS, Saying("judging.gauge_same", values), 2 - size)
    if size <= limit("gauge_near"):
        return Finding(Group.SWATCH_FIRST, Saying(f"judging.gauge_near_{side}", values), 6 + size)
    if size <= limit("gauge_reach"):
        tool = "smaller" if off < 0 else "larger"
        change = saying(f"judging.change_tool_{tool}")
        said = Saying(f"judging.gauge_reach_{side}", values)
        return Finding(
            Group.WITH_A_CHANGE, said, 6 + size, _change_of_size(ask, wanted, got) or change
        )
    return Finding(Group.NOT_FOR_THIS, Saying(f"judging.gauge_far_{side}", values), 6 + size)


def _change_of_size(ask: Ask, wanted: Figure, got: Figure) -> Saying | None:
    """The other remedy: knit at the yarn's own gauge and follow another size."""
    chest = ask.measurements.chest_cm
    if chest is None or ask.gauge is None:
        return None
    own = size_same_counts_cm(chest, wanted.value, got.value)
    code = "judging.change_tool_or_size_" + ("larger" if own < chest else "smaller")
    return saying(code, chest_cm=chest, own_cm=own)


def length_findings(target: Target, held: Held) -> list[Finding]:
    """Returns how length per 100 g compares, where both are known."""
    wanted, got = target.metres_per_100g, held.metres_per_100g
    if wanted is None or got is None:
        return []
    percent = (got.value / wanted.value - 1) * 100
    lengths = {"yarn_m": round(got.value), "wanted_m": round(wanted.value)}
    if round(abs(percent)) == 0:
        return [Finding(Group.AS_IT_IS, Saying("judging.length_same", lengths), 0.5)]
    code = "judging.length_more" if percent > 0 else "judging.length_less"
    values = {"off_percent": round(abs(percent)), **lengths}
    return [Finding(Group.AS_IT_IS, Saying(code, values), 0.5)]


def fabric_ratio(target: Target, held: Held) -> float | None:
    """Returns firmness of the fabric over the original's at one gauge; None if unknown.

    At one gauge the loop is the same, so volume cover goes with sqrt(tex/density).
    """
    wanted, density = target.metres_per_100g, target.density
    volume = held.volume_tex
    if wanted is None or density is None or volume is None:
        return None
    original = 100_000 / wanted.value / density.value
    return float((volume / original) ** 0.5)


def _fabric_findings(target: Target, held: Held) -> list[Finding]:
    ratio = fabric_ratio(target, held)
    if ratio is None:
        return []
    size, side = abs(ratio - 1), "firmer" if ratio > 1 else "looser"
    values = {"off_percent": round(size * 100)}
    if size <= limit("fabric_close"):
        return [Finding(Group.AS_IT_IS, Saying("judging.fabric_same", values), 0.4)]
    if size <= limit("fabric_reach"):
        return [Finding(Group.SWATCH_FIRST, Saying(f"judging.fabric_{side}", values), 5 + size)]
    return [Finding(Group.NOT_FOR_THIS, Saying(f"judging.fabric_too_{side}", values), 5 + size)]
