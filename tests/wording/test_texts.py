"""Every sentence of the code has its text, every text its translations, and all fit together."""

import re
from importlib.resources import files

import pytest

from shopdesk.reference.languages import languages
from shopdesk.reference.tables import table
from shopdesk.wording.catalog import (
    BASE_LANGUAGE,
    Translation,
    text_files,
    text_of,
    topic_texts,
)
from shopdesk.wording.formatting import LANGUAGES
from shopdesk.wording.translate import FREE_PLACEHOLDERS
from tests.wording.message_literals import Literal, literals
from tests.wording.text_files import every_text, placeholders, topics

LITERALS = literals()
TRANSLATED = [language for language in LANGUAGES if language != BASE_LANGUAGE]
AS_IN_ENGLISH = re.compile(r'^#\. as in English\nmsgid "(.+)"$', re.MULTILINE)
"""Marks a text that is the same as in English, as names and units may be."""


def same_on_purpose(language: str) -> set[str]:
    written = (text_files().joinpath(f"{topic}.{language}.po") for topic in topics())
    return {code for file in written for code in AS_IN_ENGLISH.findall(file.read_text("utf-8"))}


def has_words(forms: tuple[str, ...]) -> bool:
    """True if a text says something beside its values."""
    return any(re.search(r"[^\W\d_]{2}", re.sub(r"\{\w+\}", "", form)) for form in forms)


def english_text(code: str, language: str) -> Translation:
    """Returns the English forms as a text of another language."""
    return Translation(language, topic_texts(code.split(".")[0], BASE_LANGUAGE)[code].forms)


@pytest.mark.parametrize("literal", LITERALS, ids=lambda literal: literal.code)
def test_saying_has_an_english_text_for_exactly_its_values(literal: Literal) -> None:
    named = placeholders(text_of(literal.code, "en").forms)
    if literal.names is None:
        return
    assert named - literal.names == set(), f"{literal.where} gives no such value"
    assert literal.names - named - {"count"} - FREE_PLACEHOLDERS == set(), (
        f"{literal.where}: unsaid"
    )


@pytest.mark.parametrize("topic", topics())
@pytest.mark.parametrize("language", TRANSLATED)
def test_topic_is_complete_in(language: str, topic: str) -> None:
    english, other = topic_texts(topic, "en"), topic_texts(topic, language)
    plain = {code for code in english if "@" not in code}
    assert plain - set(other) == set(), "not translated"
    assert set(other) - set(english) == set(), "translated, but not there in English"
    wrong = [c for c in plain if placeholders(english[c].forms) != placeholders(other[c].forms)]
    assert wrong == [], "placeholders differ"


@pytest.mark.parametrize("topic", topics())
@pytest.mark.parametrize("language", LANGUAGES)
def test_file_holds_each_code_once_and_under_its_topic(language: str, topic: str) -> None:
    written = text_files().joinpath(f"{topic}.{language}.po").read_text(encoding="utf-8")
    codes = re.findall(r'^msgid "(.+)"$', written, re.MULTILINE)
    assert len(codes) == len(set(codes)), sorted({c for c in codes if codes.count(c) > 1})
    assert [code for code in codes if not code.startswith(f"{topic}.")] == []
    assert set(codes) == set(topic_texts(topic, language)), "a text is empty or fuzzy"


@pytest.mark.parametrize("language", TRANSLATED)
def test_texts_are_translated_and_not_copied_into(language: str) -> None:
    said = {
        code: text
        for topic in topics()
        for code, text in topic_texts(topic, language).items()
        if has_words(text.forms)
    }
    copied = {code for code, text in said.items() if text == english_text(code, language)}
    assert copied == same_on_purpose(language)
    assert 20 * len(copied) < len(said), "more than one in twenty is as in English"


@pytest.mark.parametrize("language", TRANSLATED)
@pytest.mark.parametrize("other", TRANSLATED)
def test_no_language_is_a_copy_of_another(language: str, other: str) -> None:
    if language == other:
        return
    pairs = [
        (text.forms, topic_texts(topic, other)[code].forms)
        for topic in topics()
        for code, text in topic_texts(topic, language).items()
        if has_words(text.forms) and code in topic_texts(topic, other)
    ]
    assert 20 * sum(mine == theirs for mine, theirs in pairs) < len(pairs)


def test_every_file_is_of_a_language_of_the_table() -> None:
    names = {entry.name for entry in text_files().iterdir() if entry.name.endswith(".po")}
    complete, allowed = (
        {f"{topic}.{language}.po" for topic in topics() for language in known}
        for known in (LANGUAGES, languages())
    )
    assert complete <= names <= allowed


def test_braces_hold_placeholders_only() -> None:
    bad = [
        (language, code)
        for language, code, form in every_text()
        if re.search(r"[{}]", re.sub(r"\{[a-z][a-z0-9_]*\}", "", form))
    ]
    assert bad == []


def test_gauge_is_said_over_the_readers_length() -> None:
    bad = [
        (language, code)
        for language, code, form in every_text()
        if re.search(r"\{\w*_st\}", form) and re.search(r"\b(10.?cm|4.?in)\b", form)
    ]
    assert bad == [], "write {over}"


def text_codes_of_tables() -> list[str]:
    names = (entry.name for entry in files("shopdesk.reference").iterdir())
    tables = [table(name.removesuffix(".csv")) for name in names if name.endswith(".csv")]
    columns = ("text_code", "basis_code")
    rows = (row for rows in tables for row in rows)
    return sorted({row[column] for row in rows for column in columns if row.get(column)})


@pytest.mark.parametrize("code", text_codes_of_tables())
def test_code_named_in_a_table_has_an_english_text(code: str) -> None:
    assert text_of(code, "en").forms


def test_apostrophes_are_typographic() -> None:
    """English refusals keep the typed mark: they quote what was typed, in a terminal too."""
    assert [
        (language, code)
        for language, code, form in every_text()
        if "'" in form and not (language == "en" and code.startswith("problem"))
    ] == []


def test_french_marks_stand_behind_a_space_that_does_not_break() -> None:
    bad = [
        code
        for language, code, form in every_text()
        if language == "fr" and re.search(r"[^\u00a0\u202f][:;!?»](?!\w)|«[^\u00a0\u202f]", form)
    ]
    assert bad == []
