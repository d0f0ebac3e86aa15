"""The label check: what a yarn's band says against what all the evidence says, worst first."""

from collections.abc import Iterable
from dataclasses import dataclass

from shopdesk.answering.label.label_care import care_findings, fibre_findings
from shopdesk.answering.label.label_findings import Gravity, LabelFinding, MeasureNext
from shopdesk.answering.label.label_thickness import weight_findings
from shopdesk.answering.label.measure_next import measure_next
from shopdesk.answering.model.answer import Profile
from shopdesk.answering.profile.profile import shelf_profile
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
    return tuple(sorted(map(check_label, yarns), key=_badness))


def _badness(checked: CheckedLabel) -> tuple[int, float, int, str]:
    if not checked.findings:
        return (len(Gravity), 0.0, 0, checked.yarn.sku)
    worst = checked.findings[0]
    return (worst.gravity, -worst.apart, -len(checked.findings), checked.yarn.sku)
