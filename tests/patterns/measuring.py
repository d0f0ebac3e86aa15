"""How well texts are read, field by field: precision where it was sure, and recall.

`python -m tests.patterns.measure` prints the table for the texts that are only measured with.
"""

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, field

from shopdesk.patterns.phrases.mentions import Sureness
from shopdesk.patterns.reading import read_pattern
from tests.patterns.corpus_files import Header, score


@dataclass
class Tally:
    """Counts by field: read right, read wrong, not read; each with how sure it was."""

    texts: int = 0
    right: Counter[str] = field(default_factory=Counter)
    sure_right: Counter[str] = field(default_factory=Counter)
    wrong: Counter[str] = field(default_factory=Counter)
    sure_wrong: Counter[str] = field(default_factory=Counter)
    missing: Counter[str] = field(default_factory=Counter)
    wrong_when_sure: list[str] = field(default_factory=list)

    @property
    def fields(self) -> list[str]:
        """Every field counted, in alphabetical order."""
        return sorted(self.right | self.wrong | self.missing)

    @property
    def recall(self) -> float:
        """The share of all expected readings that were read right."""
        right = self.right.total()
        return right / (right + self.missing.total() + self.wrong.total())

    @property
    def precision_when_sure(self) -> float:
        """The share of all sure readings that were right."""
        return self.sure_right.total() / (self.sure_right.total() + self.sure_wrong.total())

    @property
    def precision(self) -> float:
        """The share of all readings, sure or only likely, that were right."""
        return self.right.total() / (self.right.total() + self.wrong.total())


def tally(headers: Iterable[Header]) -> Tally:
    """Reads the texts and counts."""
    counts = Tally()
    for header in headers:
        counts.texts += 1
        result = score(header, read_pattern(header.text))
        for name, sure in result.right.items():
            counts.right[_kind(name)] += 1
            counts.sure_right[_kind(name)] += sure is Sureness.SURE
        for name, (sure, _, _) in result.wrong.items():
            counts.wrong[_kind(name)] += 1
            if sure is Sureness.SURE:
                counts.sure_wrong[_kind(name)] += 1
                counts.wrong_when_sure.append(f"{header.name}: {name}")
        counts.missing.update(_kind(name) for name in result.missing)
    return counts


def _kind(name: str) -> str:
    return name.split()[0]


def table(counts: Tally) -> str:
    """Returns the counts as a table of text."""
    head = f"{'field':<24}{'right':>6}{'wrong':>7}{'missed':>8}{'precision':>11}{'recall':>8}"
    lines = [f"{counts.texts} texts", "", head]
    for name in counts.fields:
        right, wrong, missing = counts.right[name], counts.wrong[name], counts.missing[name]
        precision = right / (right + wrong) if right + wrong else 0.0
        recall = right / (right + wrong + missing)
        lines.append(f"{name:<24}{right:>6}{wrong:>7}{missing:>8}{precision:>11.3f}{recall:>8.3f}")
    lines += [
        "",
        f"precision where it was sure: {counts.precision_when_sure:.4f} "
        f"({counts.sure_right.total()} right, {counts.sure_wrong.total()} wrong)",
        f"precision of all readings:   {counts.precision:.4f}",
        f"recall of all fields:        {counts.recall:.4f}",
    ]
    return "\n".join(lines)
