"""When Python looks for unreachable cycles of objects: seldom where nearly all stays in use."""

import atexit
import gc

SELDOM = 200_000
OFTEN = 10_000


def while_a_verb_runs() -> None:
    """Searches after so many new objects only, and not at the end, when all goes in any case.

    Python's own 700, and its search at the end, take a third of the time of a verb that ends.
    """
    gc.set_threshold(SELDOM)
    atexit.register(gc.freeze)


def while_pages_are_served() -> None:
    """Searches often enough for a process that goes on for days, and past what is there already."""
    gc.freeze()
    gc.set_threshold(OFTEN)
