"""Cells that a spreadsheet would run as formulas: made harmless going out, restored coming in.

A text that begins with one of these signs gets an apostrophe before it, and so does one that
begins with such an apostrophe itself, so that nothing is lost either way.
"""

_RUN = "=+-@\t\r\n＝＋－＠"
_GUARD = "'"


def harmless(text: str) -> str:
    """Returns the text as it may stand in a file that a spreadsheet opens."""
    return _GUARD + text if (text[:1] and text[0] in _RUN) or _is_guarded(text) else text


def as_typed(text: str) -> str:
    """Returns the text that `harmless` was given."""
    return text[1:] if _is_guarded(text) else text


def _is_guarded(text: str) -> bool:
    rest = text.lstrip(_GUARD)
    return len(rest) < len(text) and rest[:1] != "" and rest[0] in _RUN
