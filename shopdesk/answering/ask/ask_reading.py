"""Reads a parsed JSON document into an Ask, or says every problem in it at its place."""

import re
from collections.abc import Iterable, Mapping
from decimal import Decimal
from typing import Any

from pydantic import BaseModel, ValidationError

from shopdesk.answering.ask.document import AskDoc, AskRefused
from shopdesk.answering.model.ask import Ask
from shopdesk.craft.errors import InputError, Path, Problem
from shopdesk.craft.messages import Message, MessageValue, message


def read_ask(document: object) -> Ask:
    """Returns the Ask of a parsed JSON document. Raises AskRefused with every problem found."""
    return check_document(document).read()


def check_document(document: object) -> AskDoc:
    """Returns the checked models of a parsed JSON document. Raises AskRefused."""
    if not isinstance(document, Mapping):
        right = message("problem_ask.write_object", example="{ ... }")
        raise AskRefused([Problem((), message("problem_ask.no_object"), right)])
    try:
        return AskDoc.model_validate(document)
    except ValidationError as refusal:
        raise AskRefused(_problem(error) for error in refusal.errors()) from None


def _problem(error: Any) -> Problem:
    path = _document_path(error["loc"])
    kind, context = error["type"], error.get("ctx", {})
    if kind == "missing":
        return Problem(path, message("problem_ask.missing"), _give(path))
    if kind == "extra_forbidden":
        return Problem(path, message("problem_ask.field_unknown"), _known_fields(path[:-1]))
    if kind == "value_error":
        refusal: InputError = context["error"]
        return Problem(path, refusal.problem.wrong, _give(path))
    return Problem(path, _of_model(kind, context, str(error["msg"])), _give(path))


OF_MODELS = frozenset({
    "greater_than", "greater_than_equal", "less_than_equal", "finite_number", "string_type",
    "string_too_short", "string_too_long", "literal_error", "enum", "bool_type", "bool_parsing",
    "int_type", "int_parsing", "int_parsing_size", "int_from_float", "list_type", "too_short",
    "too_long", "model_type", "model_attributes_type", "union_tag_invalid", "union_tag_not_found",
})  # fmt: skip
"""The kinds of faults that the models' own checks find in a document, each with a text."""


def _of_model(kind: str, context: Mapping[str, Any], said: str) -> Message:
    """What a check of the models says; one without a text is told in the models' own words."""
    if kind not in OF_MODELS:
        return message("problem_ask.by_models", text=said[:1].lower() + said[1:])
    values = {name: _value(value) for name, value in context.items()}
    for name in ("min_length", "max_length"):
        if name in values:
            values["count"] = values.pop(name)
    return Message(f"problem_ask.{kind}", values)


def _value(value: object) -> MessageValue:
    """A value that a check speaks of; a list of what was expected is said in the language."""
    if isinstance(value, int | float | Decimal):
        return value
    listed, parted, last = str(value).rpartition(" or ")
    return message("problem_ask.either", listed=listed, last=last) if parted else str(value)


_UNION_TAGS = ("length", "balls", "mass", "unknown")


def _document_path(loc: Iterable[str | int]) -> Path:
    """Drops the tag that the models put behind 'amount' to say which kind was read."""
    path: list[str | int] = []
    for step in loc:
        if path and path[-1] == "amount" and step in _UNION_TAGS and "tag" not in path:
            path.append("tag")
            continue
        path.append(step)
    return tuple(step for step in path if step != "tag")


def _models_at(path: Path) -> list[type[BaseModel]]:
    models: list[type[BaseModel]] = [AskDoc]
    for step in path:
        if isinstance(step, int):
            continue
        found: list[type[BaseModel]] = []
        for model in models:
            field = model.model_fields.get(step)
            if field is not None:
                found += _models_in(field.annotation)
        models = found
    return models


def _models_in(annotation: Any) -> list[type[BaseModel]]:
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return [annotation]
    arguments = getattr(annotation, "__args__", ())
    return [model for argument in arguments for model in _models_in(argument)]


def _names(path: Path) -> list[str]:
    return [step for step in path if isinstance(step, str)]


def _give(path: Path) -> Message:
    """Says to give what the description of the field at a path says."""
    names = _names(path)
    if not names:
        return message("problem_ask.give_all")
    *before, name = names
    found = [model for model in _models_at(tuple(before)) if name in model.model_fields]
    return message("problem_ask.give", what=field_help(found[0], name) if found else "")


def field_help(model: type[BaseModel], field: str) -> Message:
    """Returns what would be right for a field, as its description says it in English."""
    example = re.search(r"\{.*\}", model.model_fields[field].description or "")
    values = {"example": example[0]} if example else {}
    return Message(f"problem_ask_field.{model.__name__}.{field}", values)


def _known_fields(path: Path) -> Message:
    names = sorted({name for model in _models_at(path) for name in model.model_fields})
    return message("problem_ask.known_fields", fields=", ".join(names))
