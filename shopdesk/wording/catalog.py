"""The texts, one PO file for each topic and language; a message's id is its code.

Of the PO format (GNU gettext) the part is read that the texts are written in.
"""

import json
import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from importlib.resources.abc import Traversable

_PO_LINE = re.compile(r'(?:(msgid|msgid_plural|msgstr)(?:\[(\d)\])?\s+)?(".*")\s*\Z')


class PoRefused(ValueError):
    """A line that is not of the part of the format that is read."""


def read_po(lines: Iterable[str]) -> dict[str, tuple[str, ...]]:
    """Returns the forms of each text by its msgid, the header too under ''. Raises PoRefused."""
    return dict(_quoted_text(entry) for entry in _entries(lines))


def _entries(lines: Iterable[str]) -> Iterator[dict[str, str]]:
    """Yields the strings of each text by their keywords; one without is added to the last."""
    entry: dict[str, str] = {}
    keyword = ""
    for number, line in enumerate(lines, 1):
        if not line.strip() or _is_comment(line):
            continue
        match = _PO_LINE.match(line)
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


def _quoted_text(entry: dict[str, str]) -> tuple[str, tuple[str, ...]]:
    if "msgid" not in entry:
        raise PoRefused("the first text has no msgid")
    forms = sorted(keyword for keyword in entry if keyword.startswith("msgstr"))
    return entry["msgid"], tuple(entry[keyword] for keyword in forms)


BASE_LANGUAGE = "en"
_PLURAL_ORDER = ("zero", "one", "two", "few", "many", "other")


class Untranslated(LookupError):
    """No text for `code` in `language`."""

    def __init__(self, code: str, language: str) -> None:
        super().__init__(f"no text for '{code}' in language '{language}'")
        self.code = code
        self.language = language


@dataclass(frozen=True, slots=True)
class Translation:
    """One text: a single form, or its plural forms in the language's order."""

    language: str
    forms: tuple[str, ...]

    def form(self, count: int | None) -> str:
        """Returns the form for `count` by the language's plural rule (CLDR)."""
        if count is None or len(self.forms) == 1:
            return self.forms[-1]
        return self.forms[min(_plural_index(self.language, count), len(self.forms) - 1)]


@cache
def _plural_index(language: str, count: int) -> int:
    from babel import Locale

    rule = Locale.parse(language).plural_form
    used = [tag for tag in _PLURAL_ORDER if tag in rule.tags or tag == "other"]
    return used.index(rule(count))


def text_files() -> Traversable:
    """Returns the folder of the PO files."""
    return files(__package__).joinpath("texts")


@cache
def topic_texts(topic: str, language: str) -> Mapping[str, Translation]:
    """Returns the texts of one topic by code; empty if there is no such file."""
    source = text_files().joinpath(f"{topic}.{language}.po")
    if not source.is_file():
        return {}
    read = read_po(source.read_text(encoding="utf-8").splitlines())
    return {
        code: Translation(language, forms) for code, forms in read.items() if code and all(forms)
    }


def text_of(code: str, language: str) -> Translation:
    """Returns the text of `code` in exactly this language. Raises Untranslated."""
    topic = code.split(".")[0]
    text = topic_texts(topic, language).get(code) if topic.isidentifier() else None
    if text is None:
        raise Untranslated(code, language)
    return text
