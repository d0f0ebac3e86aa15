"""The swatch card: counts against worked examples, tools against the table of made sizes."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopdesk.answering.model.answer import StartTool
from shopdesk.answering.model.ask import Ask, PatternGauge, StitchPattern
from shopdesk.craft.items import Measurements
from shopdesk.craft.messages import message
from shopdesk.craft.yarn import Craft
from shopdesk.slips.content import SwatchCard
from shopdesk.slips.swatch_card import cast_on, swatch_card
from shopdesk.wording.formatting import ReaderPreferences
from shopdesk.wording.translate import translate
from tests.factories import an_ask
from tests.slip_factories import a_candidate


def card(ask: Ask, mm: float | None = 4.0) -> SwatchCard:
    tool = None if mm is None else StartTool(mm, None, None, ())
    return swatch_card(ask, a_candidate(start_tool=tool))


def said(card: SwatchCard, **reader: str) -> str:
    return " ".join(
        translate(one, ReaderPreferences(**reader)) for one in (*card.steps, *card.outcomes)
    )


# Common practice, no source: a swatch of about 15 cm, so 30 stitches for 20 to 10 cm.
@pytest.mark.parametrize(("per_10cm", "stitches"), [(20, 30), (22, 33), (21, 32), (4, 6)])
def test_cast_on_for_fifteen_centimetres(per_10cm: float, stitches: int) -> None:
    assert cast_on(per_10cm) == stitches


@given(st.floats(1, 80))
def test_the_swatch_is_fifteen_centimetres_to_half_a_stitch(per_10cm: float) -> None:
    assert abs(cast_on(per_10cm) * 10 / per_10cm - 15) <= 5.001 / per_10cm


def test_knitters_are_told_the_next_needles_that_are_made() -> None:
    words = said(card(an_ask(22, 30)))
    assert "More than 22 stitches: a thicker needle, 4.5 mm." in words
    assert "Fewer than 22: a thinner needle, 3.75 mm." in words


def test_without_a_tool_only_the_direction_is_told() -> None:
    words = said(card(an_ask(22, 30), None))
    assert "a thicker needle." in words
    assert " mm" not in words


def test_at_the_end_of_the_table_no_size_is_invented() -> None:
    words = said(card(an_ask(22, 30), 25.0))
    assert "a thicker needle." in words


def test_one_stitch_off_is_said_in_the_items_own_size() -> None:
    # 22 against 20 stitches turn 40 in into 44 in (textbook case): so 20 against 21, 100 -> 95.2.
    words = said(card(an_ask(20, 28, measurements=Measurements(chest_cm=100))))
    assert "turns 100 cm into about 95.2 cm; one too few, into 105.3 cm" in words


def test_rows_are_spoken_of_only_where_the_pattern_has_them() -> None:
    assert "rows not" in said(card(an_ask(22, 30)))
    assert "rows not" not in said(card(an_ask(22, None)))


@pytest.mark.parametrize(
    ("after_washing", "words"),
    [(False, "counts before washing"), (None, "does not say"), (True, "")],
)
def test_when_the_pattern_counts(after_washing: bool | None, words: str) -> None:
    gauge = PatternGauge(22, 30, after_washing=after_washing)
    made = said(card(an_ask(gauge=gauge, stitches=None)))
    assert words in made
    assert ("before" in made) == (after_washing is not True)


def test_without_a_gauge_the_yarns_own_is_the_measure() -> None:
    made = card(an_ask(None))
    assert made.stitches == 22
    assert made.rows is None
    assert "gives no gauge" in said(made)
    assert "thicker" not in said(made)


def test_crochet_has_a_hook_and_terms_by_the_voice() -> None:
    gauge = PatternGauge(16, 18, StitchPattern.SINGLE_CROCHET)
    made = card(an_ask(None, craft=Craft.CROCHET, gauge=gauge))
    assert "a thicker hook, 4.5 mm" in said(made)
    assert "single crochet" in said(made, crochet_terms="US")
    assert "double crochet" in said(made, crochet_terms="UK")
    assert "feste Maschen" in said(made, language="de", crochet_terms="UK")
    assert "mailles serrées" in said(made, language="fr") or "maille serrée" in said(
        made, language="fr"
    )


@pytest.mark.parametrize(
    ("language", "words"),
    [
        ("en", "a hand that works 4% tighter than usual"),
        ("de", "an eine Hand, die 4 % fester arbeitet"),
        ("fr", "plus serré que d’habitude"),
    ],
)
def test_a_tool_that_was_moved_for_a_hand_says_so(language: str, words: str) -> None:
    why = (message("tool.from_band"), message("tool.hand_tighter", hand_percent=4.0))
    tool = StartTool(4.5, "7", "7", why)
    made = swatch_card(an_ask(), a_candidate(start_tool=tool))
    assert made.steps[0] == why[1]
    assert words in said(made, language=language)
    assert "hand" not in said(card(an_ask()))
