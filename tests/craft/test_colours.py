"""All by common practice, no source: what bleeds, and what to wash together before mixing."""

import pytest

from shopdesk.craft.behaviour import Level
from shopdesk.craft.colours import may_bleed, mixed_messages
from shopdesk.wording.translate import english


@pytest.mark.parametrize(
    ("family", "name", "hand_dyed", "bleeds"),
    [
        ("red", "Rowan berry", False, True),
        ("blue", "Navy", False, True),
        ("grau", "Schwarz-Weiß", False, True),
        ("", "noir profond", False, True),
        ("blue", "Ice", False, False),
        ("white", "Bored", False, False),
        ("white", "Chalk", True, True),
    ],
)
def test_red_navy_black_and_hand_dyed_may_bleed(family, name, hand_dyed, bleeds) -> None:
    said = may_bleed(family, name, hand_dyed)
    assert bool(said) == bleeds
    assert all("by itself the first time" in english(one) for one in said)


@pytest.mark.parametrize(
    ("darks", "felting", "codes"),
    [
        ([True, False], [None, None], ["dark_and_pale"]),
        ([True, True], [Level.NO, Level.NO], []),
        ([], [Level.YES, Level.NO], ["felting_and_not"]),
        ([], [Level.YES, None], ["felting_and_not"]),
        ([], [Level.YES, Level.YES], []),
        ([], [None], []),
    ],
)
def test_unlike_yarns_are_washed_together_first(darks, felting, codes) -> None:
    said = mixed_messages(darks, felting)
    assert [one.code for one in said] == [f"washing.{code}" for code in codes]
    assert all("swatch of both together" in english(one) for one in said)


def test_pattern_may_ask_for_light_beside_dark() -> None:
    assert [s.code for s in mixed_messages([], [], light_and_dark=True)] == [
        "washing.dark_and_pale"
    ]
