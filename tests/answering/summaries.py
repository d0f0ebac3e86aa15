"""Builders of what judging looks at: summaries of yarns, targets, and what is on the needles."""

from typing import Any

from shopdesk.answering.judging.companions import StrandCombination
from shopdesk.answering.judging.grades import Reason
from shopdesk.answering.judging.judge_knit import knit_findings
from shopdesk.answering.model.answer import Target
from shopdesk.answering.model.ask import Ask
from shopdesk.answering.profile.summary import WearAndCare, YarnSummary
from shopdesk.craft.behaviour import Traits
from shopdesk.craft.figures import Basis, Figure
from shopdesk.craft.yarn import CareLabel
from tests.factories import an_ask

ASK = an_ask(20)


def a_figure(
    value: float, low: float | None = None, high: float | None = None, basis: Basis = Basis.LABEL
) -> Figure:
    """Returns a figure without doubt unless an end is given."""
    return Figure(value, value if low is None else low, value if high is None else high, basis)


def known(value: float | Figure | None) -> Figure | None:
    """Returns a bare number as a figure without doubt."""
    return value if value is None or isinstance(value, Figure) else a_figure(value)


def tex_of(metres_per_100g: float | Figure | None) -> Figure | None:
    """Returns the tex, g per km, of a yarn without doubt: 100 m per 100 g are 1000 tex."""
    if metres_per_100g is None or isinstance(metres_per_100g, Figure):
        return metres_per_100g
    return a_figure(100_000 / metres_per_100g)


def a_target(
    stitches: float | Figure | None = None, metres: float | None = None, **facts: Any
) -> Target:
    """Returns what is wanted: the designer's yarn unless said otherwise, all else unknown."""
    facts.setdefault("from_designer_yarn", True)
    for name in ("thickness_mm", "density"):
        facts[name] = known(facts.get(name))
    return Target(
        natural_stitches=known(stitches),
        metres_per_100g=known(metres),
        categories=facts.pop("categories", ()),
        why=(),
        **facts,
    )


def a_summary(
    sku: str = "T-1",
    stitches: float | Figure | None = None,
    metres: float | Figure | None = None,
    density: float | None = None,
    **facts: Any,
) -> YarnSummary:
    """Returns the summary of a yarn; `metres` per 100 g, or its tex as a figure."""
    facts.setdefault("wear_and_care", WearAndCare(Traits(), CareLabel(), by_default=False))
    facts.setdefault("categories", ())
    facts.setdefault("doubts", ())
    return YarnSummary(
        sku=sku,
        name=f"Yarn {sku}",
        tex=tex_of(metres),
        natural_stitches=known(stitches),
        density=known(density),
        **facts,
    )


def on_the_needles(
    stitches: float | Figure | None = None,
    metres: float | None = None,
    density: float | None = None,
    strands: int = 1,
) -> StrandCombination:
    """Returns what is held: so many strands that together have these figures."""
    return StrandCombination(strands, None, tex_of(metres), known(stitches), density)


def the_finding(
    target: Target, stitches: Any = None, metres: float | None = None, ask: Ask = ASK
) -> Reason:
    """The first finding: the others are of length and fabric, or of the gauge's doubt."""
    return knit_findings(ask, target, on_the_needles(stitches, metres))[0]
