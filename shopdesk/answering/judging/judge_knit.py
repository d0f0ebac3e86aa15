"""Judges what is held on the needles against the target of a knitted pattern."""

from shopdesk.answering.judging.companions import StrandCombination
from shopdesk.answering.judging.grades import Grade, GradeStep, Reason, grade, step_at, steps
from shopdesk.answering.judging.requirements import gauge_tells
from shopdesk.answering.model.answer import Suitability, Target
from shopdesk.answering.model.ask import Ask
from shopdesk.answering.thresholds import threshold
from shopdesk.craft.figures import Basis, Figure
from shopdesk.craft.gauge import size_same_counts_cm
from shopdesk.craft.messages import Message, message
from shopdesk.craft.yarn import Craft


def knit_findings(ask: Ask, target: Target, held: StrandCombination) -> tuple[Reason, ...]:
    """Returns what gauge, length per mass and firmness say of the held yarn for this ask."""
    found = [
        *_gauge_findings(ask, target, held),
        *length_findings(target, held),
        *_fabric_findings(target, held),
    ]
    return tuple(found)


def gauge_off(target: Target, held: StrandCombination) -> float | None:
    """Returns how much finer (+) or coarser (-) the held yarn is, as a share of the target."""
    if target.natural_stitches is None or held.stitches is None:
        return None
    return held.stitches.value / target.natural_stitches.value - 1


def _gauge_findings(ask: Ask, target: Target, held: StrandCombination) -> list[Reason]:
    off = gauge_off(target, held)
    if off is None:
        return [_no_gauge(target, held)]
    assert target.natural_stitches is not None
    assert held.stitches is not None
    by_length = off_by_length(target, held)
    if by_length is not None:
        return [_graded_length(by_length, makes_the_fabric(target, held.stitches))]
    if pattern_says_little(ask, target):
        return [_openwork_finding(target.natural_stitches, held.stitches)]
    if target.natural_stitches.basis is not Basis.LABEL:
        return [_within_name_finding(target.natural_stitches, held.stitches)]
    fits = makes_the_fabric(target, held.stitches)
    found = [_graded_gauge(ask, target.natural_stitches, held.stitches, off, fits)]
    if held.stitches.basis is Basis.ESTIMATE:
        found.append(_graded("gauge_estimated", message("judging.gauge_estimated")))
    elif _half_width(held.stitches) > threshold("gauge_near"):
        found.append(_graded("gauge_uncertain", message("judging.gauge_uncertain")))
    return found


def off_by_length(target: Target, held: StrandCombination) -> float | None:
    """How much finer (+) or coarser (-) by length per mass, where gauge is no better than a guess.

    Gauge goes with the square root of length per mass (common practice).
    """
    wanted, got = target.metres_per_100g, held.metres_per_100g
    if wanted is None or got is None or target.natural_stitches is None or held.stitches is None:
        return None
    if target.natural_stitches.basis is not Basis.ESTIMATE:
        return None
    return float((got.value / wanted.value) ** 0.5 - 1)


def _graded(scale: str, said: Message) -> Reason:
    group, weight = grade(scale)
    return Reason(group, said, weight)


def makes_the_fabric(target: Target, got: Figure) -> bool:
    """True if a yarn of this usual gauge makes the pattern's fabric, so that a swatch will tell."""
    natural, fabric = target.natural_stitches, target.fabric_stitches
    beside = threshold("gauge_close")
    within = (
        fabric is not None
        and got.basis is not Basis.ESTIMATE
        and (fabric.low * (1 - beside) <= got.value <= fabric.high * (1 + beside))
    )
    banded = natural is not None and natural.basis is Basis.LABEL is got.basis
    return within or (banded and natural is not None and natural.overlaps(got))


def at_worst(scale: str, worst: str, off: float) -> GradeStep:
    """Returns the step of what is off by so much, or the step that it is at the worst."""
    at, last = step_at(scale, off), next(step for step in steps(scale) if step.name == worst)
    return last if at.name == "reach" else at


def _graded_length(off: float, fits: bool) -> Reason:
    step, side = step_at("gauge_by_length", abs(off)), "finer" if off > 0 else "coarser"
    if fits:
        step = at_worst("gauge_by_length", "near", abs(off))
    group, weight = step.grade(abs(off))
    if group is Suitability.AS_IT_IS:
        return Reason(group, message("judging.by_length_same"), weight)
    if group is Suitability.SWATCH_FIRST:
        return Reason(group, Message(f"judging.by_length_near_{side}"), weight)
    if group is Suitability.WITH_A_CHANGE:
        tool = "smaller" if off < 0 else "larger"
        change = message(f"judging.change_tool_{tool}")
        return Reason(group, Message(f"judging.by_length_reach_{side}"), weight, change)
    return Reason(group, Message(f"judging.by_length_far_{side}"), weight)


def outside_range(stitches: float, wanted: Figure) -> float:
    """Returns the share by which a gauge lies outside a range; below zero inside it."""
    return max(wanted.low / stitches, stitches / wanted.high) - 1


def grade_in_range(wanted: Figure, outside: float) -> Grade:
    """Returns the grade of a gauge by how far it lies outside a range, which may be a wide one.

    What lies within a range so wide that another tool would be needed at its ends is no promise.
    """
    group, weight = grade("weight_name", outside)
    if group is Suitability.AS_IT_IS and _half_width(wanted) > threshold("gauge_reach"):
        return grade("openwork", 0.0)
    return group, weight


def _within_name_finding(wanted: Figure, got: Figure) -> Reason:
    """The original's gauge is told from name, length or fabric: all in its range may do."""
    values = {"yarn_st": got.value, "low_st": wanted.low, "high_st": wanted.high}
    outside = max(0.0, outside_range(got.value, wanted))
    step = step_at("weight_name", outside)
    group, weight = grade_in_range(wanted, outside)
    if group is Suitability.NOT_FOR_THIS:
        return Reason(group, Message("judging.outside_names_range", values), weight)
    if group is Suitability.WITH_A_CHANGE:
        side = "smaller" if got.value < wanted.low else "larger"
        said = Message("judging.near_names_range", values)
        return Reason(group, said, weight, message(f"judging.change_tool_{side}"))
    code = "judging.in_names_range" if step.name == "in" else "judging.near_names_range"
    return Reason(group, Message(code, values), weight)


def pattern_says_little(ask: Ask, target: Target) -> bool:
    """True if all that is wanted is the gauge of a fabric that tells little of its yarn."""
    return not target.from_designer_yarn and not gauge_tells(ask.gauge, Craft.KNIT)


def _half_width(figure: Figure) -> float:
    return (figure.high - figure.low) / 2 / figure.value


def _no_gauge(target: Target, held: StrandCombination) -> Reason:
    if held.stitches is None and held.tex is None:
        return _graded("too_little_known", message("judging.too_little_known"))
    if held.stitches is None:
        return _graded("gauge_unknown", message("judging.gauge_unknown"))
    return _graded("gauge_unknown", message("judging.no_target_gauge"))


def _openwork_finding(wanted: Figure, got: Figure) -> Reason:
    values = _gauge_values(wanted, got)
    meets = wanted.overlaps(got)
    group, weight = grade("openwork", float(not meets))
    return Reason(
        group, Message(f"judging.openwork_{'possible' if meets else 'far'}", values), weight
    )


def _gauge_values(wanted: Figure, got: Figure) -> dict[str, float]:
    return {
        "yarn_st": got.value,
        "wanted_st": wanted.value,
        "off_st": abs(got.value - wanted.value),
    }


def _graded_gauge(ask: Ask, wanted: Figure, got: Figure, off: float, fits: bool) -> Reason:
    step = step_at("gauge", abs(off))
    if fits:
        step = at_worst("gauge", "near", abs(off))
    values, (group, weight) = _gauge_values(wanted, got), step.grade(abs(off))
    side = "finer" if off > 0 else "coarser"
    if group is Suitability.AS_IT_IS:
        return Reason(group, Message("judging.gauge_same", values), weight)
    if group is Suitability.SWATCH_FIRST:
        return Reason(group, Message(f"judging.gauge_near_{side}", values), weight)
    if group is Suitability.WITH_A_CHANGE:
        tool = "smaller" if off < 0 else "larger"
        change = message(f"judging.change_tool_{tool}")
        said = Message(f"judging.gauge_reach_{side}", values)
        return Reason(group, said, weight, _change_of_size(ask, wanted, got) or change)
    return Reason(group, Message(f"judging.gauge_far_{side}", values), weight)


def _change_of_size(ask: Ask, wanted: Figure, got: Figure) -> Message | None:
    """The other remedy: knit at the yarn's own gauge and follow another size."""
    chest = ask.measurements.chest_cm
    if chest is None or ask.gauge is None:
        return None
    own = size_same_counts_cm(chest, wanted.value, got.value)
    code = "judging.change_tool_or_size_" + ("larger" if own < chest else "smaller")
    return message(code, chest_cm=chest, own_cm=own)


def length_findings(target: Target, held: StrandCombination) -> list[Reason]:
    """Returns how length per 100 g compares, where both are known."""
    wanted, got = target.metres_per_100g, held.metres_per_100g
    if wanted is None or got is None:
        return []
    percent = (got.value / wanted.value - 1) * 100
    lengths = {"yarn_m": round(got.value), "wanted_m": round(wanted.value)}
    if round(abs(percent)) == 0:
        return [_graded("length", Message("judging.length_same", lengths))]
    code = "judging.length_more" if percent > 0 else "judging.length_less"
    values = {"off_percent": round(abs(percent)), **lengths}
    return [_graded("length", Message(code, values))]


def original_volume(target: Target) -> float | None:
    """Returns tex over density of what is wanted; None if unknown."""
    if target.metres_per_100g is None or target.density is None:
        return None
    return 100_000 / target.metres_per_100g.value / target.density.value


def fabric_ratio(target: Target, held: StrandCombination) -> float | None:
    """Returns firmness of the fabric over the original's at one gauge; None if unknown.

    At one gauge the loop is the same, so volume cover goes with sqrt(tex/density).
    """
    original, volume = original_volume(target), held.volume_tex
    if original is None or volume is None:
        return None
    return float((volume / original) ** 0.5)


def _fabric_findings(target: Target, held: StrandCombination) -> list[Reason]:
    ratio = fabric_ratio(target, held)
    if ratio is None or off_by_length(target, held) is not None:
        return []
    group, weight = grade("fabric", abs(ratio - 1))
    side = "firmer" if ratio > 1 else "looser"
    values = {"off_percent": round(abs(ratio - 1) * 100)}
    if group is Suitability.AS_IT_IS:
        return [Reason(group, Message("judging.fabric_same", values), weight)]
    if group is Suitability.WITH_A_CHANGE:
        change = message(f"judging.change_fabric_{side}")
        return [Reason(group, Message(f"judging.fabric_{side}", values), weight, change)]
    code = "too_" + side if group is Suitability.NOT_FOR_THIS else side
    return [Reason(group, Message(f"judging.fabric_{code}", values), weight)]
