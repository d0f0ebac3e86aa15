"""What a substitute is measured against: the designer's yarn, else the pattern's gauge."""

from shopdesk.answering.judging.companions import held_alone, length_figure
from shopdesk.answering.model.answer import Profile, Target
from shopdesk.answering.model.ask import Ask, PatternGauge
from shopdesk.answering.profile.profile import designer_profile
from shopdesk.answering.thresholds import threshold
from shopdesk.craft.fabric import pattern_fabric
from shopdesk.craft.figures import Basis, Figure, spread
from shopdesk.craft.messages import Message, message
from shopdesk.craft.weights import categories_by_gauge
from shopdesk.craft.yarn import Craft


def target_of(ask: Ask) -> Target:
    """Returns the target of one ask; an unknown figure stays None."""
    yarn = ask.designer_yarn
    if yarn is None:
        return _gauge_target(ask, None)
    profile = designer_profile(yarn)
    if profile.categories:
        return _designer_target(ask, profile, yarn.strands)
    return _gauge_target(ask, profile)


def gauge_tells(gauge: PatternGauge | None, craft: Craft) -> bool:
    """True if the pattern's gauge is in a stitch that says much about its yarn."""
    if gauge is None:
        return False
    fabric = pattern_fabric(gauge.stitch_pattern)
    return fabric.tells_gauge and fabric.is_of(craft)


def _designer_target(ask: Ask, profile: Profile, strands: int) -> Target:
    held = held_alone(profile, strands)
    why = [message("judging.target_designer")]
    if strands > 1:
        why.append(message("judging.target_strands", count=strands))
    natural, categories = held.stitches, profile.categories
    if strands > 1:
        categories = categories_by_gauge(natural.low, natural.high) if natural else ()
    if _only_estimated(natural) and gauge_tells(ask.gauge, ask.craft) and ask.craft is Craft.KNIT:
        natural = _pattern_natural(ask.gauge)
        why.append(message("judging.target_gauge_beside_designer"))
    return Target(
        from_designer_yarn=True,
        natural_stitches=natural if ask.craft is Craft.KNIT else None,
        metres_per_100g=length_figure(held.tex),
        thickness_mm=profile.thickness_mm if strands == 1 else None,
        density=profile.density,
        categories=categories,
        why=tuple(why),
    )


def _only_estimated(figure: Figure | None) -> bool:
    return figure is None or figure.basis is Basis.ESTIMATE


def _gauge_target(ask: Ask, profile: Profile | None) -> Target:
    natural = _pattern_natural(ask.gauge) if ask.craft is Craft.KNIT else None
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
    )


def _why_gauge(ask: Ask) -> Message:
    if gauge_tells(ask.gauge, ask.craft):
        return message("judging.target_pattern_gauge")
    return message("judging.target_openwork")


def _pattern_natural(gauge: PatternGauge | None) -> Figure | None:
    """The natural gauge of a yarn that is known only by the gauge the pattern wants."""
    if gauge is None:
        return None
    tells = gauge_tells(gauge, Craft.KNIT)
    share = threshold("pattern_gauge_spread" if tells else "openwork_gauge_spread")
    return spread(gauge.stitches, share, Basis.PATTERN)
