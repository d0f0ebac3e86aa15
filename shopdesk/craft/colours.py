"""The families colours are sorted by, those that may bleed, and what to wash together first."""

import re
from collections.abc import Collection
from functools import cache, lru_cache

from shopdesk.craft.behaviour import Level
from shopdesk.craft.messages import Message, message
from shopdesk.reference.tables import table


def colour_families() -> tuple[str, ...]:
    """Returns the colour families in the order they are shown; common practice, no source."""
    return tuple(row["key"] for row in table("colour_families"))


@cache
def _bleeding_words() -> frozenset[str]:
    return frozenset(row["word"] for row in table("bleeding_colours"))


@lru_cache(maxsize=8192)
def may_bleed(colour_family: str, colour_name: str, hand_dyed: bool) -> tuple[Message, ...]:
    """Returns the warning for a colour that may bleed in the first wash; () for others.

    Hand-dyed yarn and red, navy and black (in English, German or French words; common practice).
    """
    if hand_dyed:
        return (message("washing.hand_dyed_may_bleed"),)
    words = re.findall(r"\w+", f"{colour_family} {colour_name}".casefold())
    return (message("washing.may_bleed"),) if _bleeding_words() & set(words) else ()


def mixed_messages(
    darks: Collection[bool], felting: Collection[Level | None], light_and_dark: bool = False
) -> tuple[Message, ...]:
    """Returns what to try before yarns are mixed in one item (common practice).

    `darks` says of each colour whether it is dark, `felting` what each yarn's traits say of
    felting; `light_and_dark` that the pattern itself puts light beside dark.
    """
    said = []
    if light_and_dark or len(set(darks)) > 1:
        said.append(message("washing.dark_and_pale"))
    if Level.YES in felting and set(felting) != {Level.YES}:
        said.append(message("washing.felting_and_not"))
    return tuple(said)
