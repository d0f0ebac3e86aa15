"""Puts a Saying into words: its text in the reader's language, its values in their units."""

import re
from collections.abc import Mapping
from datetime import date
from decimal import Decimal

from shopdesk.craft.sayings import Saying, SayingValue
from shopdesk.wording import shown
from shopdesk.wording.catalog import BASE_LANGUAGE, Text, Untranslated, text_of
from shopdesk.wording.voice import Voice

PLACEHOLDER = re.compile(r"\{([a-z][a-z0-9_]*)\}")
FREE_PLACEHOLDERS = frozenset({"over"})
"""Placeholders that every text may use: {over} is the length a gauge is counted over."""

fall_back = True
"""Whether a missing text falls back to English and then to its code; tests turn it off."""


def say(saying: Saying, voice: Voice) -> str:
    """Returns the sentence. Raises Untranslated for a missing text only if `fall_back` is off."""
    return _filled(_text(saying.code, voice), saying, voice)


def english(saying: Saying) -> str:
    """Returns the sentence in English with metric units."""
    return say(saying, Voice())


def term(code: str, voice: Voice) -> str:
    """Returns the text of a code that takes no values, such as a fibre's name."""
    return say(Saying(code), voice)


def _text(code: str, voice: Voice) -> Text:
    codes = (f"{code}@UK", code) if voice.crochet_terms == "UK" else (code,)
    languages = (voice.texts, BASE_LANGUAGE) if fall_back else (voice.texts,)
    for language in languages:
        for wanted in codes:
            try:
                return text_of(wanted, language)
            except Untranslated:
                continue
    if not fall_back:
        raise Untranslated(code, voice.texts)
    return Text(BASE_LANGUAGE, (code,))


def _filled(text: Text, saying: Saying, voice: Voice) -> str:
    """Fills the placeholders in one pass, so that no value is ever read as a text."""
    count = saying.values.get("count")
    template = text.form(count if isinstance(count, int) else None)

    def value_of(match: re.Match[str]) -> str:
        return _value(match[1], saying.values, voice)

    return PLACEHOLDER.sub(value_of, template)


def _value(name: str, values: Mapping[str, SayingValue], voice: Voice) -> str:
    if name not in values:
        return _unsaid(name, voice)
    value = values[name]
    if isinstance(value, tuple):
        words = [term(word, voice) if name.endswith("_terms") else word for word in value]
        return shown.list_of(words, voice)
    if isinstance(value, str):
        return _word(name, value, voice)
    if name.endswith("_price"):
        return shown.money(Decimal(str(value)), voice)
    ending = "_" + name.rpartition("_")[2]
    return shown.BY_SUFFIX.get(ending, shown.number)(value, voice)


def _unsaid(name: str, voice: Voice) -> str:
    if name in FREE_PLACEHOLDERS:
        return shown.over(voice)
    if not fall_back:
        raise KeyError(f"the text wants a value named '{name}'")
    return "?"


def _word(name: str, value: str, voice: Voice) -> str:
    if name.endswith("_term"):
        return term(value, voice)
    if name.endswith("_date"):
        return shown.day(date.fromisoformat(value), voice)
    return value
