"""What a substitute is measured against: the designer's yarn, else the pattern's gauge."""

from dataclasses import replace

from shopdesk.answering.judging.companions import held_alone, length_figure
from shopdesk.answering.model.answer import Profile, Target
from shopdesk.answering.model.ask import Ask, DesignerYarn, PatternGauge
from shopdesk.answering.profile.profile import designer_profile
from shopdesk.answering.thresholds import threshold
from shopdesk.craft.airy import air_of
from shopdesk.craft.fabric import pattern_fabric
from shopdesk.craft.figures import Basis, Figure, spread
from shopdesk.craft.joined_evidence import joined
from shopdesk.craft.messages import Message, message
from shopdesk.craft.tightness import natural_from_fabric
from shopdesk.craft.weights import (
    WeightCategory,
    categories,
    categories_by_gauge,
    categories_named,
    category,
)
from shopdesk.craft.yarn import Craft


def target_of(ask: Ask) -> Target:
    """Returns the target of one ask; an unknown figure stays None."""
    yarn = ask.designer_yarn
    if yarn is None:
        return _gauge_target(ask, None)
    yarn = replace(yarn, weight_names=_meant_names(ask, yarn.weight_names))
    profile = designer_profile(yarn)
    if profile.categories:
        return _designer_target(ask, profile, yarn)
    return _gauge_target(ask, profile)


def _meant_names(ask: Ask, names: tuple[str, ...]) -> tuple[str, ...]:
    """Returns the weight names as numbers where one has two meanings and the tool tells which.

    So '4-ply' on a 3 mm hook is not the old American one that means worsted.
    """
    numbers = sorted({number for name in names for number in categories_named(name)})
    if ask.tool is None or not numbers or numbers[-1] - numbers[0] < 2:
        return names
    apart = {number: _tool_apart(category(number), ask.craft, ask.tool.mm) for number in numbers}
    return tuple(str(number) for number in numbers if apart[number] == min(apart.values()))


def _tool_apart(one: WeightCategory, craft: Craft, mm: float) -> float:
    """Returns how far a tool lies outside a category's usual ones, in mm; 0 within them."""
    knit = craft is Craft.KNIT
    low, high = (
        (one.needle_mm_low, one.needle_mm_high) if knit else (one.hook_mm_low, one.hook_mm_high)
    )
    return max(0.0, (low or 0.0) - mm, mm - (high or mm))


def gauge_tells(gauge: PatternGauge | None, craft: Craft) -> bool:
    """True if the pattern's gauge is in a stitch that says much about its yarn."""
    if gauge is None:
        return False
    fabric = pattern_fabric(gauge.stitch_pattern)
    return fabric.tells_gauge and fabric.is_of(craft)


def _designer_target(ask: Ask, profile: Profile, yarn: DesignerYarn) -> Target:
    strands = yarn.strands
    held = held_alone(profile, strands)
    why = [message("judging.target_designer")]
    if strands > 1:
        why.append(message("judging.target_strands", count=strands))
    natural, categories = held.stitches, profile.categories
    if strands > 1:
        categories = categories_by_gauge(natural.low, natural.high) if natural else ()
    if _only_estimated(natural) and ask.gauge is not None and ask.craft is Craft.KNIT:
        fabric = _fabrics_natural(ask)
        pieces = [piece for piece in (natural, fabric) if piece is not None]
        natural = joined(pieces, Basis.ESTIMATE if natural else Basis.PATTERN) if pieces else None
        why.append(message("judging.target_gauge_beside_designer"))
    why += _unlike_its_yarn(ask, held.stitches)
    return Target(
        from_designer_yarn=True,
        natural_stitches=natural if ask.craft is Craft.KNIT else None,
        metres_per_100g=length_figure(held.tex),
        thickness_mm=profile.thickness_mm if strands == 1 else None,
        density=None if air_of(yarn.construction) else profile.density,
        categories=categories,
        why=tuple(why),
        fabric_stitches=_fabric_range(ask),
        usual_metres=None if held.tex else _usual_metres(categories),
    )


def _unlike_its_yarn(ask: Ask, stitches: Figure | None) -> list[Message]:
    """Says so where the pattern's gauge is none that its yarn is knitted at, as if mistyped."""
    fabric = _fabric_range(ask)
    if fabric is None or stitches is None or ask.gauge is None:
        return []
    beyond = 1 + threshold("mistyped_beyond")
    if stitches.low / beyond <= fabric.high and fabric.low / beyond <= stitches.high:
        return []
    values = {"wanted_st": ask.gauge.stitches, "low_st": stitches.low, "high_st": stitches.high}
    return [Message("judging.gauge_unlike_yarn", values)]


def _fabric_range(ask: Ask) -> Figure | None:
    """Returns the usual gauge of the yarns that make a knitted pattern's fabric, if that tells."""
    gauge = ask.gauge
    if ask.craft is not Craft.KNIT or gauge is None or not gauge_tells(gauge, Craft.KNIT):
        return None
    return natural_from_fabric(gauge.stitches, ask.item.value, gauge.stitch_pattern.value)


def _usual_metres(categories: tuple[int, ...]) -> float | None:
    """Returns the middle of the metres per 100 g that are usual for categories."""
    ranges = [(category(n).metres_low, category(n).metres_high) for n in categories]
    known = [(low * high) ** 0.5 for low, high in ranges if low is not None and high is not None]
    return sum(known) / len(known) if known else None


def _only_estimated(figure: Figure | None) -> bool:
    return figure is None or figure.basis is Basis.ESTIMATE


def _gauge_target(ask: Ask, profile: Profile | None) -> Target:
    natural = _fabrics_natural(ask) if ask.craft is Craft.KNIT else None
    categories: tuple[int, ...] = ()
    if ask.gauge is not None and gauge_tells(ask.gauge, ask.craft):
        stitches = ask.gauge.stitches
        categories = categories_by_gauge(stitches, stitches, craft=ask.craft)
    return Target(
        from_designer_yarn=False,
        natural_stitches=natural,
        metres_per_100g=profile.metres_per_100g if profile else None,
        thickness_mm=profile.thickness_mm if profile else None,
        density=profile.density if profile else None,
        categories=categories,
        why=(_why_gauge(ask),),
        usual_metres=None if categories or profile else _usual_metres(_by_the_hook(ask)),
    )


def _by_the_hook(ask: Ask) -> tuple[int, ...]:
    """Returns the weight categories that a crocheted pattern's hook is usual for.

    It is all that is known of a yarn in open crochet, and serves for the order alone.
    """
    if ask.craft is not Craft.CROCHET or ask.tool is None:
        return ()
    apart = {one.number: _tool_apart(one, ask.craft, ask.tool.mm) for one in categories()}
    return tuple(number for number in apart if apart[number] == min(apart.values()))


def _why_gauge(ask: Ask) -> Message:
    if gauge_tells(ask.gauge, ask.craft):
        return message("judging.target_pattern_gauge")
    return message("judging.target_openwork")


def _fabrics_natural(ask: Ask) -> Figure | None:
    """The natural gauge of a yarn that is known only by the fabric that the pattern wants."""
    gauge = ask.gauge
    if gauge is None or not pattern_fabric(gauge.stitch_pattern).is_of(Craft.KNIT):
        return None
    fabric = natural_from_fabric(gauge.stitches, ask.item.value, gauge.stitch_pattern.value)
    share = threshold(
        "pattern_gauge_spread" if gauge_tells(gauge, Craft.KNIT) else "openwork_gauge_spread"
    )
    around = spread(fabric.value, share, Basis.PATTERN)
    return replace(fabric, low=min(fabric.low, around.low), high=max(fabric.high, around.high))
