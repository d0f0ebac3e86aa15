"""What the ask leaves unknown, and what knowing it would have changed."""

from shopdesk.answering.answer import Need, Target
from shopdesk.answering.ask import Ask, Washing, Wearer
from shopdesk.craft.sayings import Saying, saying
from shopdesk.craft.yarn import Craft


def unknowns_of(ask: Ask, target: Target, needs: tuple[Need, ...]) -> tuple[Saying, ...]:
    """Returns a sentence for each thing that is not known and matters."""
    checks = [
        (ask.gauge is None, "unknown.gauge"),
        (ask.gauge is not None and ask.gauge.rows is None, "unknown.rows"),
        (ask.gauge is not None and ask.gauge.after_washing is None, "unknown.after_washing"),
        (ask.designer_yarn is None, "unknown.designer_yarn"),
        (
            ask.designer_yarn is not None and target.metres_per_100g is None,
            "unknown.designer_length",
        ),
        (ask.designer_yarn is not None and not ask.designer_yarn.fibres, "unknown.designer_fibres"),
        (ask.craft is Craft.KNIT and target.natural_stitches is None, "unknown.target"),
        (any(need.pattern_m is None for need in needs), "unknown.amount"),
        (ask.wearer is Wearer.UNKNOWN, "unknown.wearer"),
        (ask.washing is Washing.UNKNOWN, "unknown.washing"),
    ]
    return tuple(saying(code) for found, code in checks if found)
