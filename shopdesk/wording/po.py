"""Reads the part of the PO format (GNU gettext) that the texts are written in.

That is `msgid`, `msgid_plural`, `msgstr` and `msgstr[n]` with strings over one or more lines,
and comments. There are no contexts, no fuzzy or obsolete texts; a line of theirs is refused.
"""

import json
import re
from collections.abc import Iterable, Iterator

_LINE = re.compile(r'(?:(msgid|msgid_plural|msgstr)(?:\[(\d)\])?\s+)?(".*")\s*\Z')


class PoRefused(ValueError):
    """A line that is not of the part of the format that is read."""


def read_po(lines: Iterable[str]) -> dict[str, tuple[str, ...]]:
    """Returns the forms of each text by its msgid, the header too under ''. Raises PoRefused."""
    return dict(_text_of(entry) for entry in _entries(lines))


def _entries(lines: Iterable[str]) -> Iterator[dict[str, str]]:
    """Yields the strings of each text by their keywords; one without is added to the last."""
    entry: dict[str, str] = {}
    keyword = ""
    for number, line in enumerate(lines, 1):
        if not line.strip() or _is_comment(line):
            continue
        match = _LINE.match(line)
        if match is None or not (match[1] or keyword):
            raise PoRefused(f"line {number} is not read here: {line.strip()[:60]}")
        if match[1] == "msgid" and entry:
            yield entry
            entry = {}
        keyword = match[1] + (match[2] or "") if match[1] else keyword
        entry[keyword] = entry.get(keyword, "") + json.loads(match[3])
    if entry:
        yield entry


def _is_comment(line: str) -> bool:
    """True for a comment, or a flag that says nothing of whether the text is good."""
    if line.startswith("#,"):
        return "fuzzy" not in line
    return line.startswith("#") and not line.startswith("#~")


def _text_of(entry: dict[str, str]) -> tuple[str, tuple[str, ...]]:
    if "msgid" not in entry:
        raise PoRefused("the first text has no msgid")
    forms = sorted(keyword for keyword in entry if keyword.startswith("msgstr"))
    return entry["msgid"], tuple(entry[keyword] for keyword in forms)
