"""The fabric a yarn makes at the pattern's gauge, beside the original's."""

from collections.abc import Callable

from shopdesk.answering.judging.companions import StrandCombination
from shopdesk.answering.model.answer import Fabric, Need, Profile, Target
from shopdesk.answering.model.ask import STOCKINETTE, Ask, PatternGauge
from shopdesk.craft.fabric import grams_per_m2, loop_mm, volume_cover
from shopdesk.craft.figures import Figure
from shopdesk.craft.gauge import rows_guess
from shopdesk.craft.messages import Message, message
from shopdesk.craft.yarn import Craft


def fabric_of(
    ask: Ask, target: Target, profile: Profile, held: StrandCombination, needs: tuple[Need, ...]
) -> Fabric:
    """Returns loop, firmness and mass of the fabric; figures that cannot be known stay None."""
    loop, rows = _loop(ask)
    stitches = ask.gauge.stitches if ask.gauge else None
    original_tex = _tex_of(target.metres_per_100g)
    area = None
    if loop is not None and rows is not None and stitches is not None and held.tex is not None:
        area = _scaled_by(held.tex, lambda tex: grams_per_m2(stitches, rows, loop, tex))
    path = _path_length(needs)
    return Fabric(
        loop_mm=loop,
        firmness=_firmness(held.tex, held.density, loop),
        reference_firmness=_reference(target, held, original_tex, loop),
        grams_per_m2=area,
        item_grams=_item_grams(path, held.tex),
        original_item_grams=_item_grams(path, original_tex),
        thickness_mm=_thickness(profile, held),
        original_thickness_mm=target.thickness_mm.value if target.thickness_mm else None,
        words=_words(ask, path, held.tex, original_tex),
    )


def _loop(ask: Ask) -> tuple[float | None, float | None]:
    """Loop length after Munden, for plain knitting only."""
    gauge = ask.gauge
    if gauge is None or not _is_plain(ask.craft, gauge):
        return None, None
    rows = gauge.rows if gauge.rows is not None else rows_guess(gauge.stitches).value
    return loop_mm(gauge.stitches, rows), rows


def _is_plain(craft: Craft, gauge: PatternGauge) -> bool:
    return craft is Craft.KNIT and gauge.stitch_pattern is STOCKINETTE


def _tex_of(length: Figure | None) -> Figure | None:
    if length is None:
        return None
    return Figure(100_000 / length.value, 100_000 / length.high, 100_000 / length.low, length.basis)


def _scaled_by(figure: Figure, at: Callable[[float], float]) -> Figure:
    return Figure(at(figure.value), at(figure.low), at(figure.high), figure.basis, figure.notes)


def _firmness(tex: Figure | None, density: float | None, loop: float | None) -> Figure | None:
    if tex is None or density is None or loop is None:
        return None
    return _scaled_by(tex, lambda value: volume_cover(value, density, loop))


def _reference(
    target: Target, held: StrandCombination, original_tex: Figure | None, loop: float | None
) -> Figure | None:
    """The original's firmness; without it, the yarn's own at its natural gauge."""
    if original_tex is not None and target.density is not None:
        return _firmness(original_tex, target.density.value, loop)
    if held.stitches is None or loop is None:
        return None
    rows = rows_guess(held.stitches.value).value
    return _firmness(held.tex, held.density, loop_mm(held.stitches.value, rows))


def _path_length(needs: tuple[Need, ...]) -> Figure | None:
    figures = [need.pattern_m for need in needs]
    known = [figure for figure in figures if figure is not None]
    if not known or len(known) != len(figures):
        return None
    total = known[0]
    for figure in known[1:]:
        total = Figure(
            total.value + figure.value,
            total.low + figure.low,
            total.high + figure.high,
            total.basis,
        )
    return total


def _item_grams(path: Figure | None, tex: Figure | None) -> Figure | None:
    if path is None or tex is None:
        return None
    basis = max((path.basis, tex.basis), key=list(type(tex.basis)).index)
    return Figure(
        path.value * tex.value / 1000,
        path.low * tex.low / 1000,
        path.high * tex.high / 1000,
        basis,
    )


def _thickness(profile: Profile, held: StrandCombination) -> float | None:
    if profile.thickness_mm is None or held.companion is not None:
        return None
    return float(profile.thickness_mm.value * held.strands**0.5)


def _words(
    ask: Ask, path: Figure | None, tex: Figure | None, original: Figure | None
) -> tuple[Message, ...]:
    words: list[Message] = []
    if ask.gauge is None or not _is_plain(ask.craft, ask.gauge):
        words.append(message("fabric.no_plain_model"))
    mine, theirs = _item_grams(path, tex), _item_grams(path, original)
    if mine is not None and theirs is not None:
        words.append(_heavier(mine.value - theirs.value))
    return tuple(words)


def _heavier(grams: float) -> Message:
    if grams >= 10:
        return message("fabric.heavier", off_g=grams)
    return message("fabric.lighter", off_g=-grams) if grams <= -10 else message("fabric.same_mass")
