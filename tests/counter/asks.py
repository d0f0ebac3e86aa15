"""Asks that counter tests put, as typed into the form, and the way to their answers."""

from typing import Any

from tests.counter.conftest import Counter

PULLOVER = {
    "title": "plain pullover",
    "item": "pullover",
    "stitches": "22",
    "rows": "30",
    "designer-weight": "DK",
    "designer-ball_mass": "50",
    "designer-ball_length": "120",
    "parts-0-count": "11",
    "parts-0-counted_in": "balls",
    "wearer": "adult",
    "washing": "hand",
}
BABY_CARDIGAN = {
    **PULLOVER,
    "title": "small cardigan",
    "item": "cardigan",
    "wearer": "baby under 12 months",
    "washing": "machine 40",
    "features": ["buttons"],
    "parts-0-count": "3",
}
NOBODY_HAS = {
    "stitches": "90",
    "designer-weight": "",
    "designer-ball_mass": "",
    "designer-ball_length": "",
    "parts-0-count": "500",
    "parts-0-counted_in": "m",
}


def token_of_answer(counter: Counter, typed: dict[str, Any]) -> str:
    """Sends an ask and returns the token of its answer."""
    answer = counter.fill(**typed)
    assert answer.status_code == 303, answer.text
    return answer.headers["Location"].rpartition("/")[2]
