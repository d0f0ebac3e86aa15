"""How a yarn's nature is written in one column: level by level, axis by axis."""

from functools import lru_cache
from typing import Any

from shopdesk.answering.nature import Nature
from shopdesk.craft.behaviour import TRAITS, Level, Traits
from shopdesk.craft.care import AXES
from shopdesk.craft.yarn import CareLabel

_NUMBERS = frozenset({"wash_c", "iron_c"})


def nature_text(nature: Nature) -> str:
    """Returns the text that `nature_of` reads back; equal natures have equal texts."""
    levels = [getattr(nature.traits, trait) for trait in TRAITS]
    values = [getattr(nature.care, axis) for axis in AXES]
    words = ["" if value is None else str(value) for value in (*levels, *values)]
    return "|".join([*words, "by default" if nature.by_default else ""])


@lru_cache(maxsize=20_000)
def nature_of(text: str) -> Nature:
    """Returns the nature that a text stands for."""
    *words, by_default = text.split("|")
    care = zip(AXES, words[len(TRAITS) :], strict=True)
    values: dict[str, Any] = {axis: _value(axis, word) for axis, word in care if word}
    return Nature(_traits(tuple(words[: len(TRAITS)])), CareLabel(**values), bool(by_default))


@lru_cache(maxsize=4096)
def _traits(levels: tuple[str, ...]) -> Traits:
    return Traits(**{t: Level(word) for t, word in zip(TRAITS, levels, strict=True) if word})


def _value(axis: str, word: str) -> str | int:
    return int(word) if axis in _NUMBERS else word
