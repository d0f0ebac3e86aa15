"""Reads lists as patterns print them: 'S (M, L)', '5 (6, 7, 9)', '3,5 (4; 4,5)'."""

import re

_BRACKETS = re.compile(r"[()\[\]{};]")
_NUMBER_GAP = re.compile(r"[()\[\]{};]|,(?![0-9])|(?<![0-9]),")


def names_listed(text: str) -> list[str]:
    """Returns the names in a list; any comma, semicolon or bracket parts them."""
    return [name.strip() for name in _BRACKETS.sub(",", text).split(",") if name.strip()]


def numbers_listed(text: str) -> list[str]:
    """Returns the numbers in a list, each as written.

    A comma between two digits is a decimal comma ('3,5'), any other comma parts two numbers.
    """
    return [number.strip() for number in _NUMBER_GAP.split(text) if number.strip()]
