from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopdesk.craft.errors import InputError, InputErrors, Problem
from shopdesk.craft.messages import Message, message
from shopdesk.wording import catalog, translate
from shopdesk.wording.catalog import Untranslated
from shopdesk.wording.formatting import ReaderPreferences
from shopdesk.wording.translate import english, term, told

TEXTS = {
    "en": {
        "made.length": "{need_m} of {name}",
        "made.fibre": "It is {fibre_term}.",
        "made.blend": "It is {fibre_terms}.",
        "made.wool": "wool",
        "made.silk": "silk",
        "made.gauge": "{own_st} stitches to {over}",
        "made.double": "double crochet",
        "made.double@UK": "treble crochet",
        "made.english_only": "only in English",
        "made.until": "until {until_date}",
    },
    "de": {
        "made.length": "{need_m} von {name}",
        "made.wool": "Wolle",
        "made.until": "{until_date}",
    },
    "fr": {"made.length": "{need_m} de {name}"},
}
PROBLEMS = {
    "en": {"problem.sentence": "{wrong}; {right}", "problem.placed": "{place}: {sentence}"},
    "de": {"problem.sentence": "{wrong} – {right}", "problem.placed": "{place} – {sentence}"},
}
PLURALS = {
    "en": ("{count} skein", "{count} skeins"),
    "de": ("{count} Knäuel", "{count} Knäuel!"),
    "fr": ("{count} pelote", "{count} pelotes"),
}


@pytest.fixture(autouse=True, scope="module")
def made_texts(tmp_path_factory: pytest.TempPathFactory):
    folder = tmp_path_factory.mktemp("texts")
    for language, texts in TEXTS.items():
        (folder / f"made.{language}.po").write_text(_po(language, texts), encoding="utf-8")
        problem = _po(language, PROBLEMS["en" if language == "en" else "de"])
        (folder / f"problem.{language}.po").write_text(problem, encoding="utf-8")
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(catalog, "text_files", lambda: Path(folder))
        catalog.topic_texts.cache_clear()
        yield
    catalog.topic_texts.cache_clear()


def _po(language: str, texts: dict[str, str]) -> str:
    head = 'msgid ""\nmsgstr "Content-Type: text/plain; charset=UTF-8\\n"\n\n'
    body = "".join(f'msgid "{code}"\nmsgstr "{text}"\n\n' for code, text in texts.items())
    one, more = PLURALS[language]
    plural = (
        f'msgid "made.skeins"\nmsgid_plural "made.skeins"\nmsgstr[0] "{one}"\nmsgstr[1] "{more}"\n'
    )
    return head + body + plural


@pytest.mark.parametrize(
    ("units", "words"),
    [("metric", "1200 m"), ("imperial", "1312 yd"), ("both", "1200 m (1312 yd)")],
)
def test_length_in_the_readers_units(units, words) -> None:
    reader = ReaderPreferences("en", units=units)
    assert (
        translate.translate(message("made.length", need_m=1200, name="it"), reader)
        == f"{words} of it"
    )


# CLDR plural rules: French takes the singular for 0 and 1, English and German only for 1.
@pytest.mark.parametrize(
    ("language", "count", "words"),
    [
        ("en", 0, "0 skeins"),
        ("en", 1, "1 skein"),
        ("en", 2, "2 skeins"),
        ("de", 1, "1 Knäuel"),
        ("de", 7, "7 Knäuel!"),
        ("fr", 0, "0 pelote"),
        ("fr", 1, "1 pelote"),
        ("fr", 2, "2 pelotes"),
        ("fr", 1_000_000, "1000000 pelotes"),
    ],
)
def test_count_picks_the_plural(language, count, words) -> None:
    assert (
        translate.translate(message("made.skeins", count=count), ReaderPreferences(language))
        == words
    )


def test_terms_are_looked_up_in_the_language() -> None:
    assert english(message("made.fibre", fibre_term="made.wool")) == "It is wool."
    both = message("made.blend", fibre_terms=("made.wool", "made.silk"))
    assert english(both) == "It is wool and silk."
    assert term("made.wool", ReaderPreferences("de-AT")) == "Wolle"


def test_gauge_is_counted_over_the_readers_length() -> None:
    gauge = message("made.gauge", own_st=20)
    assert english(gauge) == "20 stitches to 10 cm"
    # 20 per 10 cm is 20.32 per 4 in (101.6 mm)
    assert (
        translate.translate(gauge, ReaderPreferences(units="imperial")) == "20.3 stitches to 4 in"
    )


def test_crochet_terms_follow_the_voice() -> None:
    assert term("made.double", ReaderPreferences(crochet_terms="US")) == "double crochet"
    assert term("made.double", ReaderPreferences(crochet_terms="UK")) == "treble crochet"
    assert term("made.wool", ReaderPreferences(crochet_terms="UK")) == "wool"


def test_missing_text_is_an_error_in_tests_and_falls_back_at_run_time(monkeypatch) -> None:
    with pytest.raises(Untranslated, match=r"made\.english_only.*'de'"):
        term("made.english_only", ReaderPreferences("de"))
    monkeypatch.setattr(translate, "fall_back", True)
    assert term("made.english_only", ReaderPreferences("de")) == "only in English"
    assert term("made.nowhere", ReaderPreferences("de")) == "made.nowhere"
    assert term("../etc/passwd", ReaderPreferences("de")) == "../etc/passwd"
    assert translate.translate(message("made.length", name="it"), ReaderPreferences()) == "? of it"


def test_a_message_within_a_message_is_said_in_its_place() -> None:
    inner = message("made.length", need_m=1200, name="{name}")
    outer = message("made.length", need_m=5, name=inner)
    assert english(outer) == "5 m of 1200 m of {name}"
    german = ReaderPreferences("de", units="imperial")
    assert translate.translate(outer, german) == "5,5 yd von 1312 yd von {name}"


def test_an_error_is_told_in_the_readers_language() -> None:
    length = message("made.length", need_m=5, name="it")
    one = InputError(length, message("made.wool"), "yarn")
    assert told(one, ReaderPreferences("de")) == "5 m von it – Wolle"
    several = InputErrors([Problem(("yarn", 0), length, message("made.wool")), one.problem])
    assert told(several, ReaderPreferences("de")) == (
        "yarn[0] – 5 m von it – Wolle\nyarn – 5 m von it – Wolle"
    )
    assert str(several) == "yarn[0]: 5 m of it; wool\nyarn: 5 m of it; wool"


def test_date_in_the_readers_form() -> None:
    until = message("made.until", until_date="2026-12-09")
    assert translate.translate(until, ReaderPreferences("de")) == "09.12.2026"
    assert translate.translate(until, ReaderPreferences("en-GB")) == "until 9 Dec 2026"


@given(st.text(max_size=60))
def test_what_a_user_typed_is_never_read_as_a_text(typed: str) -> None:
    assert english(Message("made.length", {"need_m": 5, "name": typed})) == f"5 m of {typed}"


def test_placeholders_in_what_a_user_typed_stay_as_typed() -> None:
    typed = "{need_m} {0.__class__} %s {name!r}"
    assert english(message("made.length", need_m=5, name=typed)) == f"5 m of {typed}"
