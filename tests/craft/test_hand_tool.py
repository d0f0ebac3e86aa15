"""A knitter's hand: how far it moves the tool, and what is said of it."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopdesk.craft.gauge import tool_mm_for
from shopdesk.craft.hand_tool import hand_saying, tool_for_hand
from shopdesk.craft.messages import message
from shopdesk.craft.yarn import Craft


def test_a_hand_4_percent_tighter_takes_a_larger_needle() -> None:
    # Gauge goes with the root of the tool, as common practice has it: 1.04 squared is 1.0816.
    assert tool_for_hand(4.0, 4) == pytest.approx(4.0 * 1.0816)
    assert tool_for_hand(4.0, -4) == pytest.approx(4.0 * 0.96**2)
    assert tool_for_hand(4.0, 0) == pytest.approx(4.0)


@given(st.floats(2, 12), st.floats(-25, 25))
def test_a_swatch_of_that_hand_would_move_it_the_same(mm: float, hand: float) -> None:
    """As a swatch of 20 for which 20 and so many percent were counted on the tool."""
    assert tool_for_hand(mm, hand) == pytest.approx(
        tool_mm_for(mm, 20 * (1 + hand / 100), 20).value
    )


@pytest.mark.parametrize(
    ("mm", "hand", "code"),
    [
        # Made sizes beside 4 mm are 3.75 and 4.5: 8 % more is 4.33, 2 % more 4.08.
        (4.0, 4, "tool.hand_tighter"),
        (4.0, 1, "tool.hand_tighter_same"),
        (4.0, -4, "tool.hand_looser"),
        (4.0, -1, "tool.hand_looser_same"),
    ],
)
def test_what_the_hand_did_is_said(mm: float, hand: float, code: str) -> None:
    said = hand_saying(mm, tool_for_hand(mm, hand), hand, Craft.KNIT)
    assert said == message(code, hand_percent=abs(hand))
