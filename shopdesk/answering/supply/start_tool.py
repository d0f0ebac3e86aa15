"""The needle or hook to start the swatch with: from the shop's swatches or the band."""

from statistics import median

from shopdesk.answering.judging.companions import StrandCombination
from shopdesk.answering.judging.requirements import gauge_tells
from shopdesk.answering.model.answer import Profile, StartTool
from shopdesk.answering.model.ask import Ask, PatternTool
from shopdesk.answering.profile.profile import band_tool_mm
from shopdesk.answering.thresholds import threshold
from shopdesk.craft.figures import Figure
from shopdesk.craft.gauge import tool_mm_for
from shopdesk.craft.hand_tool import hand_saying, tool_for_hand
from shopdesk.craft.messages import Message, message
from shopdesk.craft.pooling import is_plain_swatch
from shopdesk.craft.tools import ToolRefused, named_size, nearest_made, tool_numbers
from shopdesk.craft.weights import categories_by_gauge, category
from shopdesk.craft.yarn import Craft, ShelfYarn

Found = tuple[float, tuple[Message, ...]]


def start_tool(
    ask: Ask, yarn: ShelfYarn, profile: Profile, held: StrandCombination
) -> StartTool | None:
    """Returns a tool to start with, or None where nothing says which. It is a start, no more."""
    if ask.craft is Craft.CROCHET:
        found = _hook_start(yarn, profile)
    elif _fabric_is_its_own(ask, held):
        found = None
    else:
        found = _knit_start(ask, yarn, held)
    if found is None and ask.tool is None and ask.craft is Craft.KNIT:
        found = _knit_start(ask, yarn, held)
    if found is None and ask.tool is not None:
        found = (ask.tool.mm, (message("tool.pattern_names"), *_doubts(ask.tool, ask.craft)))
    if found is None:
        return None
    started, why = _for_hand(ask, found)
    mm = nearest_made(started, ask.craft)
    us, uk = tool_numbers(mm, ask.craft)
    return StartTool(mm, us, uk, why)


def _for_hand(ask: Ask, found: Found) -> Found:
    """Moves the tool for the knitter's own hand, where one is given with the ask."""
    if not ask.hand_percent:
        return found
    mm, why = found
    moved = tool_for_hand(mm, ask.hand_percent)
    return moved, (*why, hand_saying(mm, moved, ask.hand_percent, ask.craft))


def _doubts(tool: PatternTool, craft: Craft) -> tuple[Message, ...]:
    """What is to be said of the pattern's own number, where its size is not beyond doubt."""
    system, _, size = tool.written.partition(" ")
    try:
        doubt = named_size(size, system, craft).doubt
    except ToolRefused:
        return ()
    return (doubt,) if doubt else ()


def _fabric_is_its_own(ask: Ask, held: StrandCombination) -> bool:
    """True where the pattern wants no plain fabric near the yarn's own gauge: lace, ribs, mesh.

    There the tool the pattern names says more than the yarn's own gauge does.
    """
    if ask.gauge is None or held.stitches is None:
        return False
    far = abs(ask.gauge.stitches / held.stitches.value - 1) > threshold("pattern_tool_beyond")
    return far or not gauge_tells(ask.gauge, ask.craft)


def _knit_start(ask: Ask, yarn: ShelfYarn, held: StrandCombination) -> Found | None:
    wanted = None if _fabric_is_its_own(ask, held) or ask.gauge is None else ask.gauge.stitches
    if held.total_strands > 1:
        return _by_category(held.stitches, wanted)
    swatch = _own_swatch(yarn)
    if swatch is not None:
        return _moved(*swatch, wanted, message("tool.from_swatch"))
    band = yarn.label.gauge
    mm = band_tool_mm(band)
    if band is not None and mm is not None:
        middle = (band.stitches_low + band.stitches_high) / 2
        return _moved(mm, middle, wanted, message("tool.from_band"))
    return _by_category(held.stitches, wanted)


def _own_swatch(yarn: ShelfYarn) -> tuple[float, float] | None:
    pairs = [
        (m.tool_mm, m.stitches)
        for m in yarn.measurements
        if m.tool_mm and m.stitches and is_plain_swatch(m, Craft.KNIT)
    ]
    if not pairs:
        return None
    return median(mm for mm, _ in pairs), median(stitches for _, stitches in pairs)


def _moved(mm: float, stitches: float, wanted: float | None, why: Message) -> Found:
    if wanted is None:
        return mm, (why,)
    figure = tool_mm_for(mm, stitches, wanted)
    if abs(figure.value - mm) < threshold("tool_same"):
        return mm, (why,)
    if nearest_made(figure.value, Craft.KNIT) == mm:
        return figure.value, (why,)
    return figure.value, (why, message("tool.moved", from_mm=mm))


def _by_category(stitches: Figure | None, wanted: float | None) -> Found | None:
    if stitches is None:
        return None
    numbers = categories_by_gauge(stitches.value, stitches.value)
    if not numbers:
        return None
    known = category(numbers[0])
    mm = _middle(known.needle_mm_low, known.needle_mm_high)
    if mm is None:
        return None
    return _moved(mm, stitches.value, wanted, message("tool.from_category"))


def _hook_start(yarn: ShelfYarn, profile: Profile) -> Found | None:
    mm = band_tool_mm(yarn.label.crochet_gauge)
    if mm is not None:
        return mm, (message("tool.from_band"),)
    if not profile.categories:
        return None
    known = category(profile.categories[0])
    mm = _middle(known.hook_mm_low, known.hook_mm_high)
    return (mm, (message("tool.from_category"),)) if mm is not None else None


def _middle(low: float | None, high: float | None) -> float | None:
    """The middle of a range; its one end where the other is open."""
    ends = [end for end in (low, high) if end is not None]
    return sum(ends) / len(ends) if ends else None
