"""A swatch's result as JSON-ready data: units stand in the names, sentences are in words."""

from collections.abc import Callable
from typing import Any

from shopdesk.answering.answer_document import plain_data
from shopdesk.answering.swatch_reading import MeasuredSwatch
from shopdesk.answering.swatch_result import SwatchResult
from shopdesk.craft.sayings import Saying

FORMAT = 1


def swatch_document(
    swatch: MeasuredSwatch, result: SwatchResult, words: Callable[[Saying], str]
) -> dict[str, Any]:
    """Returns what was measured (all but the knitter) and what it says."""
    measured: dict[str, Any] = plain_data(swatch, words)
    measured.pop("hand")
    said: dict[str, Any] = plain_data(result, words)
    return {"format": FORMAT, "measured": measured, **said}
