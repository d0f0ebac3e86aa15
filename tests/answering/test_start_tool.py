"""The needle or hook to start with, by made sizes and numbers of the trade's charts."""

from dataclasses import replace
from typing import Any

import pytest

from shopdesk.answering.judging.companions import StrandCombination, held_alone
from shopdesk.answering.model.answer import StartTool
from shopdesk.answering.model.ask import Ask, PatternGauge, PatternTool, StitchPattern
from shopdesk.answering.profile.profile import shelf_profile
from shopdesk.answering.supply.start_tool import start_tool
from shopdesk.craft.messages import Message, message
from shopdesk.craft.yarn import BandGauge, Craft, ShelfYarn
from tests.answering.summaries import a_figure, on_the_needles
from tests.factories import a_band_gauge, a_label, a_swatch, a_yarn, an_ask

BAND, SWATCH = message("tool.from_band"), message("tool.from_swatch")
CATEGORY, PATTERN = message("tool.from_category"), message("tool.pattern_names")
TOOL = PatternTool(3.5, "mm 3.5")
LACE = PatternGauge(22, 30, StitchPattern.LACE)
SC = PatternGauge(14, 16, StitchPattern.SINGLE_CROCHET)


def a_banded(gauge: BandGauge | None = None, **facts: Any) -> ShelfYarn:
    return a_yarn(label=a_label(None, None, gauge=gauge), **facts)


def started(ask: Ask, yarn: ShelfYarn, held: StrandCombination | None = None) -> StartTool | None:
    profile = shelf_profile(yarn)
    return start_tool(ask, yarn, profile, held or held_alone(profile))


def tool(*given: Any) -> Any:
    found = started(*given)
    return found and (found.mm, found.why)


def moved(from_mm: float) -> Any:
    return message("tool.moved", from_mm=from_mm)


@pytest.mark.parametrize(
    ("wanted", "mm", "why"),
    [
        # Stitches go with mm to the power -0.5: 4 mm x (22 / wanted)^2. Within 0.125 mm it is the
        # same tool: 21.8 is 4.07 mm, 21.6 is 4.15 mm, of which the made one is 4 again.
        (22, 4.0, (BAND,)),
        (21.8, 4.0, (BAND,)),
        (22.2, 4.0, (BAND,)),
        (21.6, 4.0, (BAND,)),
        (22.4, 3.75, (BAND, moved(4.0))),
        (20, 5.0, (BAND, moved(4.0))),  # 4.84 mm
        (24, 3.25, (BAND, moved(4.0))),  # 3.36 mm
    ],
)
def test_the_bands_needle_is_moved_to_the_gauge_that_is_wanted(
    wanted: float, mm: float, why: Any
) -> None:
    assert tool(an_ask(wanted), a_banded(a_band_gauge(22))) == (mm, why)


def test_of_a_bands_ranges_the_middles_go_together() -> None:
    # 20 to 24 stitches on 3.5 to 5.5 mm: 22 on 4.5.
    band = BandGauge(20, 24, None, 3.5, 5.5)
    assert tool(an_ask(22), a_banded(band)) == (4.5, (BAND,))


def test_a_made_size_has_its_numbers() -> None:
    found = started(an_ask(22), a_banded(a_band_gauge(22)))
    assert found is not None
    # Trade charts: 4 mm is US 6 and old UK 8; a hook of 4 mm is US G-6.
    assert (found.mm, found.us, found.uk) == (4.0, "6", "8")
    hook = started(an_ask(craft=Craft.CROCHET, gauge=SC, tool=replace(TOOL, mm=4.0)), a_banded())
    assert hook is not None
    assert (hook.mm, hook.us, hook.uk) == (4.0, "G-6", None)


def test_the_shops_swatches_go_before_the_band() -> None:
    swatches = (a_swatch(20, mm=5.0), a_swatch(22, mm=4.5), a_swatch(27, mm=3.0))
    yarn = a_banded(a_band_gauge(24, mm=3.5), measurements=swatches)
    assert tool(an_ask(22), yarn) == (4.5, (SWATCH,))
    crocheted = a_swatch(12, mm=9.0, craft=Craft.CROCHET)
    yarn = a_banded(a_band_gauge(22), measurements=(crocheted,))
    assert tool(an_ask(22), yarn) == (4.0, (BAND,))


def test_without_band_or_swatch_the_category_of_its_gauge_tells() -> None:
    # Standard Yarn Weight System: 18 stitches are category 4, needles of 4.5 to 5.5 mm; 6 are
    # category 7, needles from 12.75 mm.
    assert tool(an_ask(18), a_banded(), on_the_needles(18)) == (5.0, (CATEGORY,))
    assert tool(an_ask(6), a_banded(), on_the_needles(6)) == (12.75, (CATEGORY,))
    # 5 mm x (18 / 20)^2 is 4.05 mm.
    assert tool(an_ask(20), a_banded(), on_the_needles(18)) == (4.0, (CATEGORY, moved(5.0)))
    assert tool(an_ask(18), a_banded(), on_the_needles()) is None
    no_tool = a_banded(a_band_gauge(18, mm=None))
    assert tool(an_ask(18), no_tool) == (5.0, (CATEGORY,))


@pytest.mark.parametrize(
    ("written", "mm", "craft", "doubt"),
    [
        # Charts: US 1½ is 2.5 mm where it is listed at all; hook K was 7 mm and is 6.5 today.
        ("US 1½", 2.5, Craft.KNIT, "tool.size_on_some_charts"),
        ("US K", 6.5, Craft.CROCHET, "tool.size_disputed"),
        ("UK 8", 4.0, Craft.CROCHET, "tool.size_from_memory"),
        ("US 6", 4.0, Craft.KNIT, None),
        ("mm 4", 4.0, Craft.KNIT, None),
        ("by hand", 4.0, Craft.KNIT, None),
    ],
)
def test_a_number_that_is_not_beyond_doubt_is_said_so(
    written: str, mm: float, craft: Craft, doubt: str | None
) -> None:
    ask = an_ask(None, tool=PatternTool(mm, written), craft=craft)
    found = started(ask, a_banded())
    assert found is not None
    assert found.mm == mm
    assert [said.code for said in found.why] == ["tool.pattern_names", *([doubt] if doubt else [])]


@pytest.mark.parametrize(
    ("hand", "mm", "said"),
    [
        # The band says 22 stitches on 4 mm; 4 % tighter asks for 1.04 squared of it, 4.33 mm.
        (0.0, 4.0, ()),
        (4.0, 4.5, (message("tool.hand_tighter", hand_percent=4.0),)),
        (1.0, 4.0, (message("tool.hand_tighter_same", hand_percent=1.0),)),
        (-4.0, 3.75, (message("tool.hand_looser", hand_percent=4.0),)),
    ],
)
def test_a_knitters_hand_moves_the_start_and_says_so(
    hand: float, mm: float, said: tuple[Message, ...]
) -> None:
    yarn = a_banded(a_band_gauge(22))
    assert tool(replace(an_ask(22), hand_percent=hand), yarn) == (mm, (BAND, *said))


def test_a_hand_moves_the_patterns_own_tool_and_a_hook_too() -> None:
    lace = replace(an_ask(gauge=LACE, tool=TOOL), hand_percent=8.0)
    # 3.5 mm by 1.08 squared is 4.08 mm.
    assert tool(lace, a_banded()) == (4.0, (PATTERN, message("tool.hand_tighter", hand_percent=8)))
    crocheted = an_ask(craft=Craft.CROCHET, gauge=SC, tool=replace(TOOL, mm=4.0))
    found = started(replace(crocheted, hand_percent=4.0), a_banded())
    assert found is not None
    # Hooks beside 4 mm: 3.75 and 4.5.
    assert found.mm == 4.5


def test_strands_together_start_by_their_gauge_and_not_by_the_band() -> None:
    yarn = a_banded(a_band_gauge(26, mm=3.25))
    assert tool(an_ask(18), yarn, on_the_needles(18, strands=2)) == (5.0, (CATEGORY,))
    assert tool(an_ask(18), yarn, on_the_needles(18)) != (5.0, (CATEGORY,))


@pytest.mark.parametrize(
    ("wanted", "own"),
    # Beyond 25 % of the yarn's own gauge the pattern's tool says more.
    [(25.1, 20), (14.9, 20)],
)
def test_a_fabric_far_from_the_yarns_own_gauge_takes_the_patterns_tool(
    wanted: float, own: float
) -> None:
    yarn = a_banded(a_band_gauge(own, mm=5.0))
    assert tool(an_ask(wanted, tool=TOOL), yarn) == (3.5, (PATTERN,))
    # Where the pattern names none, the yarn's own is where to start, unmoved.
    assert tool(an_ask(wanted), yarn) == (5.0, (BAND,))


def test_a_fabric_within_25_percent_takes_the_yarns_own_tool() -> None:
    yarn = a_banded(a_band_gauge(20, mm=5.0))
    for wanted in (25, 15):
        found = started(an_ask(wanted, tool=TOOL), yarn)
        assert found is not None
        assert found.why == (BAND, moved(5.0))


def test_openwork_takes_the_patterns_tool() -> None:
    yarn = a_banded(a_band_gauge(22))
    assert tool(an_ask(gauge=LACE, tool=TOOL), yarn) == (3.5, (PATTERN,))
    assert tool(an_ask(gauge=LACE), yarn) == (4.0, (BAND,))


def test_without_a_gauge_wanted_the_yarns_own_tool_stays() -> None:
    assert tool(an_ask(None, tool=TOOL), a_banded(a_band_gauge(22))) == (4.0, (BAND,))
    assert tool(an_ask(None), a_banded(), on_the_needles(a_figure(18))) == (5.0, (CATEGORY,))


def test_a_yarn_that_tells_nothing_leaves_the_patterns_tool() -> None:
    assert tool(an_ask(22, tool=TOOL), a_banded()) == (3.5, (PATTERN,))
    assert tool(an_ask(22), a_banded()) is None


def test_a_hook_is_the_bands_then_the_categorys_then_the_patterns() -> None:
    ask = an_ask(craft=Craft.CROCHET, gauge=SC)
    named = replace(ask, tool=TOOL)
    band = a_band_gauge(14, mm=5.0, craft=Craft.CROCHET)
    assert tool(named, a_yarn(label=a_label("DK", None, crochet_gauge=band))) == (5.0, (BAND,))
    # Standard Yarn Weight System: hooks of 5.5 to 6.5 mm for category 4, from 15 mm for 7.
    assert tool(named, a_yarn(label=a_label("worsted", None))) == (6.0, (CATEGORY,))
    assert tool(named, a_yarn(label=a_label("jumbo", None))) == (15.0, (CATEGORY,))
    assert tool(named, a_banded()) == (3.5, (PATTERN,))
    assert tool(ask, a_banded()) is None
