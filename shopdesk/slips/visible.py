"""Makes characters that would hide, reorder or break text visible as their code."""

import unicodedata

_SPACES = {"\t", "\n", "\r", "\v", "\f", "\x85", "\u2028", "\u2029"}
_HIDDEN = {"Cc", "Cf", "Cs", "Co", "Cn"}


def code_of(character: str) -> str:
    """Returns a character's code as it is shown in its place, such as '[U+202E]'."""
    return f"[U+{ord(character):04X}]"


def is_hidden(character: str) -> bool:
    """True for controls, direction and format marks, and numbers that are no character."""
    return unicodedata.category(character) in _HIDDEN


def visible(text: str) -> str:
    """Returns `text` on one line, composed, with control and direction marks shown as codes."""
    if text.isascii() and text.isprintable():
        return " ".join(text.split())
    return " ".join(_visible(word) for word in _composed(text).split(" ") if word)


def _composed(text: str) -> str:
    return "".join(
        " " if character in _SPACES else character
        for character in unicodedata.normalize("NFC", text)
    )


def _visible(word: str) -> str:
    return "".join(code_of(character) if is_hidden(character) else character for character in word)
