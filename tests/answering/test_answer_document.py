"""The answer's JSON fits its schema, and both schemas are valid (jsonschema as the judge)."""

import json
from typing import Any

import jsonschema
import pytest
from hypothesis import given, settings

from shopdesk.answering.answer.answer_document import (
    answer_document,
    answer_schema,
    plain_data,
)
from shopdesk.answering.answer.whole_shelf import answer
from shopdesk.answering.ask.document import ask_schema
from shopdesk.craft.figures import Basis, Figure
from shopdesk.craft.yarn import ShelfYarn
from shopdesk.wording.translate import english
from tests.answering.shelves import shelves
from tests.ask_documents import a_designer_yarn, an_ask, an_ask_document
from tests.factories import shop_terms
from tests.machine import examples


@pytest.mark.parametrize("schema", [ask_schema(), answer_schema()])
def test_schema_is_valid(schema: dict[str, Any]) -> None:
    jsonschema.Draft202012Validator.check_schema(schema)


def test_ask_document_fits_its_schema_and_an_unknown_field_does_not() -> None:
    validator = jsonschema.Draft202012Validator(ask_schema())
    assert validator.is_valid(an_ask_document(designer_yarn=a_designer_yarn()))
    assert not validator.is_valid(an_ask_document(shape="round"))


@settings(max_examples=examples(25))
@given(shelves(4))
def test_answer_document_fits_its_schema(yarns: list[ShelfYarn]) -> None:
    found = answer(an_ask(designer_yarn=a_designer_yarn()), yarns, shop_terms())
    document = json.loads(json.dumps(answer_document(found, english)))
    jsonschema.Draft202012Validator(answer_schema()).validate(document)
    listed = [c["sku"] for group in document["groups"].values() for c in group]
    assert listed == [c.sku for c in found.candidates]


def test_every_sentence_is_in_words() -> None:
    found = answer(an_ask(), [], shop_terms())
    document = answer_document(found, english)
    assert document["unknown"]
    assert all(" " in said["text"] for said in document["unknown"])


def test_the_schema_describes_each_part_as_its_code_does() -> None:
    described = answer_schema()["$defs"]["Need"]["description"]
    assert described == (
        "Length needed of one part: plausible range, the allowance, and what to plan for."
    )


def test_numbers_are_given_to_a_millionth() -> None:
    figure = Figure(1 / 3, 0.0000004, 2 / 3, Basis.LABEL)
    found = plain_data(figure, english)
    assert (found["value"], found["low"], found["high"]) == (0.333333, 0.0, 0.666667)
