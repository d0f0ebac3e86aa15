"""Puts a Message into words: its text in the reader's language, its values in their units."""

import re
from collections.abc import Mapping
from datetime import date
from decimal import Decimal

from shopdesk.craft.errors import InputError, speak_by
from shopdesk.craft.messages import Message, MessageValue
from shopdesk.wording import formatting
from shopdesk.wording.catalog import BASE_LANGUAGE, Translation, Untranslated, text_of
from shopdesk.wording.formatting import ReaderPreferences

PLACEHOLDER = re.compile(r"\{([a-z][a-z0-9_]*)\}")
FREE_PLACEHOLDERS = frozenset({"over"})
"""Placeholders that every text may use: {over} is the length a gauge is counted over."""

fall_back = True
"""Whether a missing text falls back to English and then to its code; tests turn it off."""


def translate(message: Message, reader: ReaderPreferences) -> str:
    """Returns the sentence. Raises Untranslated for a missing text only if `fall_back` is off."""
    return _filled(_template(message, reader), message, reader)


def english(message: Message) -> str:
    """Returns the sentence in English with metric units."""
    return translate(message, ReaderPreferences())


def told(error: InputError, reader: ReaderPreferences) -> str:
    """Returns what an error says: of several problems a line each, with its place."""
    return "\n".join(translate(line, reader) for line in error.lines())


def is_as_given(message: Message, reader: ReaderPreferences) -> bool:
    """True where the sentence begins with a value that is shown just as it was given."""
    match = PLACEHOLDER.match(_template(message, reader))
    if match is None:
        return False
    value = message.values.get(match[1])
    if isinstance(value, Message):
        return is_as_given(value, reader)
    return isinstance(value, str) and not match[1].endswith(("_term", "_date"))


def term(code: str, reader: ReaderPreferences) -> str:
    """Returns the text of a code that takes no values, such as a fibre's name."""
    return translate(Message(code), reader)


def _text(code: str, reader: ReaderPreferences) -> Translation:
    codes = (f"{code}@UK", code) if reader.crochet_terms == "UK" else (code,)
    languages = (reader.texts, BASE_LANGUAGE) if fall_back else (reader.texts,)
    for language in languages:
        for wanted in codes:
            try:
                return text_of(wanted, language)
            except Untranslated:
                continue
    if not fall_back:
        raise Untranslated(code, reader.texts)
    return Translation(BASE_LANGUAGE, (code,))


def _template(message: Message, reader: ReaderPreferences) -> str:
    count = message.values.get("count")
    return _text(message.code, reader).form(count if isinstance(count, int) else None)


def _filled(template: str, message: Message, reader: ReaderPreferences) -> str:
    """Fills the placeholders in one pass, so that no value is ever read as a text."""

    def value_of(match: re.Match[str]) -> str:
        return _value(match[1], message.values, reader)

    return PLACEHOLDER.sub(value_of, template)


def _value(name: str, values: Mapping[str, MessageValue], reader: ReaderPreferences) -> str:
    if name not in values:
        return _unsaid(name, reader)
    value = values[name]
    if isinstance(value, Message):
        return translate(value, reader)
    if isinstance(value, tuple):
        words = [term(word, reader) if name.endswith("_terms") else word for word in value]
        return formatting.list_of(words, reader)
    if isinstance(value, str):
        return _word(name, value, reader)
    if name.endswith("_price"):
        return formatting.money(Decimal(str(value)), reader)
    ending = "_" + name.rpartition("_")[2]
    return formatting.BY_SUFFIX.get(ending, formatting.number)(value, reader)


def _unsaid(name: str, reader: ReaderPreferences) -> str:
    if name in FREE_PLACEHOLDERS:
        return formatting.over(reader)
    if not fall_back:
        raise KeyError(f"the text wants a value named '{name}'")
    return "?"


def _word(name: str, value: str, reader: ReaderPreferences) -> str:
    if name.endswith("_term"):
        return term(value, reader)
    if name.endswith("_date"):
        return formatting.day(date.fromisoformat(value), reader)
    return value


speak_by(english)
