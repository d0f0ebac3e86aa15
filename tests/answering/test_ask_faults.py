"""Every fault that the ask's models find, and every field's help, has its text in the languages."""

import inspect
from typing import Any

import pytest

from shopdesk.answering.ask import document, yarn_document
from shopdesk.answering.ask.ask_reading import OF_MODELS, check_document, field_help
from shopdesk.answering.ask.document import AskRefused
from shopdesk.answering.ask.document_base import Document
from shopdesk.craft.messages import Message
from shopdesk.wording.formatting import LANGUAGES, ReaderPreferences
from shopdesk.wording.translate import english, told, translate
from tests.ask_documents import a_gauge, a_part, an_ask_document

MODELS = {
    model
    for module in (document, yarn_document)
    for model in vars(module).values()
    if inspect.isclass(model) and issubclass(model, Document) and model is not Document
}
FIELDS = [
    (model, field)
    for model in sorted(MODELS, key=lambda model: model.__name__)
    for field in model.model_fields
]


@pytest.mark.parametrize(("model", "field"), FIELDS)
def test_what_is_right_is_said_as_the_schema_says_it(model: type[Document], field: str) -> None:
    assert english(field_help(model, field)) == model.model_fields[field].description


# The English is what pydantic 2 documents for each of its errors, with a small first letter.
@pytest.mark.parametrize(
    ("fields", "kind", "words"),
    [
        ({"gauge": a_gauge(0)}, "greater_than", "input should be greater than 0"),
        (
            {"gauge": a_gauge(3000)},
            "less_than_equal",
            "input should be less than or equal to 2000",
        ),
        (
            {"wishes": {"price_limit": -1}},
            "greater_than_equal",
            "input should be greater than or equal to 0",
        ),
        ({"gauge": a_gauge(float("inf"))}, "finite_number", "input should be a finite number"),
        ({"title": 5}, "string_type", "input should be a valid string"),
        ({"title": " "}, "string_too_short", "string should have at least 1 character"),
        ({"title": "a" * 81}, "string_too_long", "string should have at most 80 characters"),
        ({"craft": "weave"}, "enum", "input should be 'knit' or 'crochet'"),
        (
            {"tool": {"size": "4", "system": "cm"}},
            "literal_error",
            "input should be 'mm', 'US', 'UK' or 'JP'",
        ),
        ({"wishes": {"one_lot_only": []}}, "bool_type", "input should be a valid boolean"),
        (
            {"wishes": {"one_lot_only": "so"}},
            "bool_parsing",
            "input should be a valid boolean, unable to interpret input",
        ),
        ({"designer_yarn": {"strands": []}}, "int_type", "input should be a valid integer"),
        (
            {"designer_yarn": {"strands": "two"}},
            "int_parsing",
            "input should be a valid integer, unable to parse string as an integer",
        ),
        (
            {"designer_yarn": {"strands": "1" * 5000}},
            "int_parsing_size",
            "unable to parse input string as an integer, exceeded maximum size",
        ),
        (
            {"designer_yarn": {"strands": 1.5}},
            "int_from_float",
            "input should be a valid integer, got a number with a fractional part",
        ),
        ({"parts": "one"}, "list_type", "input should be a valid list"),
        (
            {"parts": []},
            "too_short",
            "list should have at least 1 item after validation, not 0",
        ),
        (
            {"parts": [a_part(name=f"p{n}") for n in range(13)]},
            "too_long",
            "list should have at most 12 items after validation, not 13",
        ),
        (
            {"gauge": 5},
            "model_type",
            "input should be a valid dictionary or instance of GaugeDoc",
        ),
        (
            {"parts": [{"amount": 5}]},
            "model_attributes_type",
            "input should be a valid dictionary or object to extract fields from",
        ),
        (
            {"parts": [{"amount": {"kind": "hanks"}}]},
            "union_tag_invalid",
            "input tag 'hanks' found using 'kind' does not match any of the expected tags: "
            "'length', 'balls', 'mass', 'unknown'",
        ),
        (
            {"parts": [{"amount": {}}]},
            "union_tag_not_found",
            "unable to extract tag using discriminator 'kind'",
        ),
    ],
)
def test_a_fault_of_the_models_is_told(fields: dict[str, Any], kind: str, words: str) -> None:
    with pytest.raises(AskRefused) as refused:
        check_document(an_ask_document(**fields))
    assert (refused.value.problem.wrong.code, refused.value.wrong) == (f"problem_ask.{kind}", words)
    assert kind in OF_MODELS


@pytest.mark.parametrize("language", LANGUAGES)
def test_each_kind_of_fault_has_its_text(language: str) -> None:
    reader = ReaderPreferences(language)
    given = ("gt", "ge", "le", "expected", "class_name", "tag", "discriminator", "expected_tags")
    values = {**dict.fromkeys(given, "x"), "count": 1, "actual_length": 2}
    assert all(translate(Message(f"problem_ask.{kind}", values), reader) for kind in OF_MODELS)


def test_a_refused_ask_is_told_in_german() -> None:
    spoiled = an_ask_document(gauge=a_gauge("1,200"), craft="weave", colour="red")
    with pytest.raises(AskRefused) as refused:
        check_document(spoiled)
    lines = told(refused.value, ReaderPreferences("de")).splitlines()
    assert lines == [
        "craft: hier gehört 'knit' oder 'crochet' hin; geben Sie an: knit oder crochet",
        "gauge.stitches: „1,200“ lässt sich auf zwei Arten lesen (schreiben Sie 1200 oder 1.2); "
        "geben Sie an: eine Zahl von Maschen wie 22 oder 22.5",
        "colour: dieses Feld ist nicht bekannt; hier bekannt sind craft, designer_yarn, drying, "
        "gauge, hand, item, parts, sizes, title, tool, washing, wearer, wishes",
    ]
