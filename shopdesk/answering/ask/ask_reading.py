"""Reads a parsed JSON document into an Ask, or says every problem in it at its place."""

from collections.abc import Iterable, Mapping
from typing import Any

from pydantic import BaseModel, ValidationError

from shopdesk.answering.ask.document import AskDoc, AskRefused
from shopdesk.answering.model.ask import Ask
from shopdesk.craft.errors import Path, Problem


def read_ask(document: object) -> Ask:
    """Returns the Ask of a parsed JSON document. Raises AskRefused with every problem found."""
    return check_document(document).read()


def check_document(document: object) -> AskDoc:
    """Returns the checked models of a parsed JSON document. Raises AskRefused."""
    if not isinstance(document, Mapping):
        raise AskRefused([Problem((), "this is not a JSON object", "write { ... }")])
    try:
        return AskDoc.model_validate(document)
    except ValidationError as refusal:
        raise AskRefused(_problem(error) for error in refusal.errors()) from None


def _problem(error: Any) -> Problem:
    path = _document_path(error["loc"])
    right = _right_at(path)
    kind, context = error["type"], error.get("ctx", {})
    if kind == "missing":
        return Problem(path, "this field is missing", f"give {right}")
    if kind == "extra_forbidden":
        return Problem(path, "this field is not known", _known_fields(path[:-1]))
    if kind == "value_error":
        return Problem(path, str(context["error"]), f"give {right}" if right else "correct it")
    message = str(error["msg"])
    return Problem(path, message[:1].lower() + message[1:], f"give {right}")


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


def _right_at(path: Path) -> str:
    names = [step for step in path if isinstance(step, str)]
    if not names:
        return "a gauge or a designer's weight, and an amount or 'unknown'"
    for model in _models_at(path[: len(path) - 1 - path[::-1].index(names[-1])]):
        field = model.model_fields.get(names[-1])
        if field is not None and field.description:
            return field.description
    return ""


def _known_fields(path: Path) -> str:
    names = sorted({name for model in _models_at(path) for name in model.model_fields})
    return "known here are " + ", ".join(names)
