"""A label check as JSON-ready data: units stand in the names, sentences are in words."""

from collections.abc import Callable
from typing import Any

from shopdesk.answering.label.check import CheckedLabel
from shopdesk.answering.label.label_findings import GRAVITY_WORDS
from shopdesk.craft.figures import Figure
from shopdesk.craft.messages import Message


def label_document(checked: CheckedLabel, words: Callable[[Message], str]) -> dict[str, Any]:
    """Returns one yarn's check; `words` puts a Message into a sentence."""
    profile = checked.profile
    return {
        "sku": checked.yarn.sku,
        "name": checked.yarn.name,
        "weight_name": checked.yarn.label.weight_name,
        "contradicted": checked.contradicted,
        "categories": list(profile.categories),
        "metres_per_100g": _figure(profile.metres_per_100g),
        "stitches_per_10cm": _figure(profile.natural_stitches),
        "wraps_per_inch": _figure(profile.wraps_per_inch),
        "findings": [
            {
                "code": finding.message.code,
                "gravity": GRAVITY_WORDS[finding.gravity],
                "about": sorted(finding.facets),
                "text": words(finding.message),
            }
            for finding in checked.findings
        ],
        "measure_next": [
            {"kind": step.kind.value, "text": words(step.message)} for step in checked.measure
        ],
    }


def _figure(figure: Figure | None) -> dict[str, object] | None:
    if figure is None:
        return None
    value, low, high = (round(number, 2) for number in (figure.value, figure.low, figure.high))
    return {"value": value, "low": low, "high": high, "basis": figure.basis.value}
