"""How a yarn's nature is written in one column: level by level, axis by axis."""

from functools import lru_cache

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
    levels, values = words[: len(TRAITS)], words[len(TRAITS) :]
    traits = {trait: Level(word) for trait, word in zip(TRAITS, levels, strict=True) if word}
    care = {axis: _value(axis, word) for axis, word in zip(AXES, values, strict=True) if word}
    return Nature(Traits(**traits), CareLabel(**care), bool(by_default))  # type: ignore[arg-type]


def _value(axis: str, word: str) -> str | int:
    return int(word) if axis in _NUMBERS else word
