"""The label check: what a yarn's band says against what all the evidence says, worst first.

Also as JSON-ready data: units stand in the names, sentences are in words.
"""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Any

from shopdesk.answering.label.label_care import care_findings, fibre_findings
from shopdesk.answering.label.label_findings import (
    GRAVITY_WORDS,
    Gravity,
    LabelFinding,
    MeasureNext,
)
from shopdesk.answering.label.label_thickness import weight_findings
from shopdesk.answering.label.measure_next import measure_next
from shopdesk.answering.model.answer import Profile
from shopdesk.answering.profile.profile import shelf_profile
from shopdesk.craft.figures import Figure
from shopdesk.craft.messages import Message
from shopdesk.craft.yarn import ShelfYarn


@dataclass(frozen=True, slots=True)
class CheckedLabel:
    """One yarn's check: findings with the worst first, and what to measure to settle them."""

    yarn: ShelfYarn
    profile: Profile
    findings: tuple[LabelFinding, ...]
    measure: tuple[MeasureNext, ...]

    @property
    def gravity(self) -> Gravity | None:
        """The worst finding's gravity; None where there is nothing to say."""
        return self.findings[0].gravity if self.findings else None

    @property
    def contradicted(self) -> bool:
        """True if a measurement or the band itself speaks against what the band says."""
        return self.gravity in (Gravity.MEASURED, Gravity.BAND)


def check_label(yarn: ShelfYarn) -> CheckedLabel:
    """Returns the check of one yarn."""
    profile = shelf_profile(yarn)
    found = (
        *weight_findings(yarn, profile),
        *fibre_findings(yarn.label),
        *care_findings(yarn.label),
    )
    findings = tuple(sorted(found, key=lambda finding: (finding.gravity, -finding.apart)))
    return CheckedLabel(yarn, profile, findings, measure_next(yarn, profile, findings))


def check_labels(yarns: Iterable[ShelfYarn]) -> tuple[CheckedLabel, ...]:
    """Returns the check of every yarn, those with the worst findings first, by SKU among equals."""
    by_sku = sorted(map(check_label, yarns), key=lambda checked: checked.yarn.sku)
    return tuple(sorted(by_sku, key=_badness))


def _badness(checked: CheckedLabel) -> tuple[float, ...]:
    if not checked.findings:
        return (len(Gravity),)
    worst = checked.findings[0]
    return (worst.gravity, -worst.apart, -len(checked.findings))


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
