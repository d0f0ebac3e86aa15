"""The answer as a JSON document, with every sentence in words, and its JSON Schema."""

from collections.abc import Callable, Mapping
from dataclasses import fields, is_dataclass
from decimal import Decimal
from enum import Enum
from functools import cache
from types import NoneType, UnionType
from typing import Any, Union, get_args, get_origin, get_type_hints

from shopdesk.answering.model.answer import Answer, Candidate, Suitability
from shopdesk.craft.messages import Message

MESSAGE = {
    "type": "object",
    "description": "one sentence: its code, its English text, and the values in it",
    "required": ["code", "text", "values"],
    "additionalProperties": False,
    "properties": {
        "code": {"type": "string"},
        "text": {"type": "string"},
        "values": {
            "type": "object",
            "additionalProperties": {
                "anyOf": [
                    {"type": ["string", "number"]},
                    {"type": "array", "items": {"type": "string"}},
                ]
            },
        },
    },
}


def schema() -> dict[str, Any]:
    """Returns the schema; every dataclass of the answer becomes one definition."""
    definitions: dict[str, Any] = {"Message": MESSAGE}
    answer = _object(Answer, definitions)
    del answer["properties"]["candidates"]
    candidates = {"type": "array", "items": _of(Candidate, definitions)}
    answer["properties"] = {
        "format": {"const": 1},
        **answer["properties"],
        "groups": {
            "type": "object",
            "required": [group.value for group in Suitability],
            "additionalProperties": False,
            "properties": {group.value: candidates for group in Suitability},
        },
    }
    answer["required"] = list(answer["properties"])
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "Answer",
        **answer,
        "$defs": definitions,
    }


def _object(kind: type, definitions: dict[str, Any]) -> dict[str, Any]:
    hints = get_type_hints(kind)
    properties = {f.name: _of(hints[f.name], definitions) for f in fields(kind)}
    return {
        "type": "object",
        "description": (kind.__doc__ or "").split("\n")[0],
        "required": list(properties),
        "additionalProperties": False,
        "properties": properties,
    }


PLAIN = {
    str: {"type": "string"},
    bool: {"type": "boolean"},
    int: {"type": "integer"},
    float: {"type": "number"},
    Decimal: {"type": "string", "pattern": r"^-?[0-9]+(\.[0-9]+)?$"},
    NoneType: {"type": "null"},
}


def _of(kind: Any, definitions: dict[str, Any]) -> dict[str, Any]:
    if kind in PLAIN:
        return dict(PLAIN[kind])
    if kind is Message or is_dataclass(kind):
        return _reference(kind, definitions)
    if isinstance(kind, type) and issubclass(kind, Enum):
        return {"enum": [member.value for member in kind]}
    if get_origin(kind) in (Union, UnionType):
        return {"anyOf": [_of(argument, definitions) for argument in get_args(kind)]}
    return {"type": "array", "items": _of(get_args(kind)[0], definitions)}


def _reference(kind: Any, definitions: dict[str, Any]) -> dict[str, Any]:
    name = kind.__name__
    if name not in definitions:
        definitions[name] = {}
        definitions[name] = _object(kind, definitions)
    return {"$ref": f"#/$defs/{name}"}


FORMAT = 1
_ALREADY_PLAIN = (str, int, bool, type(None))


def answer_document(answer: Answer, in_words: Callable[[Message], str]) -> dict[str, Any]:
    """Returns plain JSON data; `in_words` puts a Message into the reader's language and units."""
    document = {"format": FORMAT, **plain_data(answer, in_words)}
    candidates = document.pop("candidates")
    document["groups"] = {
        group.value: [c for c in candidates if c["group"] == group.value] for group in Suitability
    }
    return document


def plain_data(value: Any, in_words: Callable[[Message], str]) -> Any:
    """Returns dataclasses, enums, decimals and Messages as what JSON can hold.

    The same sentence stands in many places of an answer; it is put into words once.
    """
    return _plain(value, cache(in_words))


def _plain(value: Any, in_words: Callable[[Message], str]) -> Any:
    kind: type = type(value)
    if kind in _ALREADY_PLAIN:
        return value
    if kind is float:
        return round(value, 6)
    if kind is Message:
        return _plain_message(value, in_words)
    if kind in (tuple, list):
        return [_plain(item, in_words) for item in value]
    if isinstance(value, Enum):
        return value.value
    if kind is Decimal:
        return str(value)
    return {name: _plain(getattr(value, name), in_words) for name in _field_names(kind)}


@cache
def _field_names(kind: type) -> tuple[str, ...]:
    return tuple(field.name for field in fields(kind))


def _plain_message(said: Message, in_words: Callable[[Message], str]) -> dict[str, Any]:
    return {"code": said.code, "text": in_words(said), "values": _values(said.values)}


def _values(values: Mapping[str, Any]) -> dict[str, Any]:
    """Returns a message's values; a message among them is told by its code, its words are in the
    text."""
    return {
        name: value.code if isinstance(value, Message) else _plain(value, _code_of)
        for name, value in values.items()
    }


def _code_of(said: Message) -> str:
    return said.code


def answer_schema() -> dict[str, Any]:
    """Returns the JSON Schema (draft 2020-12) of the answer document."""

    return schema()
