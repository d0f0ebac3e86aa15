"""The texts, one PO file for each topic and language; a message's id is its code.

`texts/care.de.po` holds the German of every code 'care.…'. A code may have a second text with
'@UK' behind it, for readers who want UK crochet terms. Files are read when first needed.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from importlib.resources.abc import Traversable

from shopdesk.wording.po import read_po

BASE_LANGUAGE = "en"
_PLURAL_ORDER = ("zero", "one", "two", "few", "many", "other")


class Untranslated(LookupError):
    """No text for `code` in `language`."""

    def __init__(self, code: str, language: str) -> None:
        super().__init__(f"no text for '{code}' in language '{language}'")
        self.code = code
        self.language = language


@dataclass(frozen=True, slots=True)
class Text:
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
def topic_texts(topic: str, language: str) -> Mapping[str, Text]:
    """Returns the texts of one topic by code; empty if there is no such file."""
    source = text_files().joinpath(f"{topic}.{language}.po")
    if not source.is_file():
        return {}
    read = read_po(source.read_text(encoding="utf-8").splitlines())
    return {code: Text(language, forms) for code, forms in read.items() if code and all(forms)}


def text_of(code: str, language: str) -> Text:
    """Returns the text of `code` in exactly this language. Raises Untranslated."""
    topic = code.split(".")[0]
    text = topic_texts(topic, language).get(code) if topic.isidentifier() else None
    if text is None:
        raise Untranslated(code, language)
    return text
