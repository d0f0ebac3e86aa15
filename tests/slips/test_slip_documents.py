"""A slip's data through JSON and back, exactly."""

import json
from datetime import date
from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopdesk.craft.messages import Message, message
from shopdesk.slips.content import CautionNote
from shopdesk.slips.slip_documents import (
    DocumentUnknown,
    choice_document,
    content_document,
    read_choice,
    read_content,
    read_words,
    words_document,
)
from shopdesk.slips.slip_text import slip_text
from shopdesk.wording.formatting import ReaderPreferences
from tests.slip_factories import a_caution, a_choice, a_content, plain

VALUES = st.one_of(
    st.text(max_size=20),
    st.integers(-1000, 1000),
    st.floats(allow_nan=False, allow_infinity=False),
    st.decimals(allow_nan=False, allow_infinity=False, places=2),
    st.lists(st.text(max_size=8), max_size=3).map(tuple),
)
SAYINGS = st.builds(
    Message, st.just("slip.plain"), st.dictionaries(st.text("abc_", min_size=1), VALUES, max_size=4)
)


def through_json(document: dict[str, object]) -> dict[str, Any]:
    found: dict[str, Any] = json.loads(json.dumps(document))
    return found


def test_content_comes_back_as_it_was() -> None:
    content = a_content(
        cautions=(CautionNote(a_caution(law=True), told=True),),
        held_until=date(2026, 12, 9),
        unknown=(message("slip.plain", text="x", some_price=Decimal("1.10"), terms=("a", "b")),),
    )
    assert read_content(through_json(content_document(content))) == content


@given(st.lists(SAYINGS, max_size=4).map(tuple))
def test_sayings_keep_their_values_and_types(differences: tuple[Message, ...]) -> None:
    back = read_content(through_json(content_document(a_content(differences=differences))))
    assert back.differences == differences
    kinds = [[type(v) for v in one.values.values()] for one in back.differences]
    assert kinds == [[type(v) for v in one.values.values()] for one in differences]


def test_a_saying_within_a_saying_comes_back_as_it_was() -> None:
    within = message("washing.too_hot", need_c=60, stands_c=30)
    said = message("needs.own_caution", part="main", said=within)
    content = a_content(differences=(said,))
    assert read_content(through_json(content_document(content))).differences == (said,)


@pytest.mark.parametrize("language", ["en", "de", "fr"])
def test_words_come_back_as_they_were(language: str) -> None:
    words = slip_text(a_content(unknown=(plain("x"),)), ReaderPreferences(language))
    assert read_words(through_json(words_document(words))) == words


def test_a_choice_comes_back_as_it_was() -> None:
    choice = a_choice(lot=None, told=("b", "a"))
    assert read_choice(through_json(choice_document(choice))) == choice


def test_the_customers_name_is_in_no_document() -> None:
    content = a_content(customer_name="Mirabelle")
    words = slip_text(content, ReaderPreferences())
    assert "Mirabelle" in str(words)
    assert "Mirabelle" not in json.dumps([content_document(content), words_document(words)])


def test_what_a_slip_no_longer_keeps_is_read_past() -> None:
    document = through_json(content_document(a_content()))
    document["shop"] = {**document["shop"], "country": "IE"}
    document["lines"] = [{**line, "planned_m": 1140.0} for line in document["lines"]]
    assert read_content(document) == a_content()
    with pytest.raises(KeyError):
        read_content(document | {"planned_m": 1140.0})


def test_another_version_is_refused() -> None:
    document = content_document(a_content()) | {"version": 99}
    with pytest.raises(DocumentUnknown, match="99"):
        read_content(document)
