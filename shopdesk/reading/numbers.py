"""The strict reader of numbers that people type; its rules stand in craft/numerals.py."""

from shopdesk.craft.numerals import (
    LONGEST,
    NUMBER_PATTERN,
    RIGHT,
    VULGAR,
    WRITTEN_PATTERN,
    NumberRefused,
    read_number,
)

__all__ = [
    "LONGEST",
    "NUMBER_PATTERN",
    "RIGHT",
    "VULGAR",
    "WRITTEN_PATTERN",
    "NumberRefused",
    "read_number",
]
