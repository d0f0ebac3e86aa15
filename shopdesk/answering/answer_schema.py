"""The JSON Schema of the answer document, made from the answer's own types."""

from dataclasses import fields, is_dataclass
from decimal import Decimal
from enum import Enum
from types import NoneType, UnionType
from typing import Any, Union, get_args, get_origin, get_type_hints

from shopdesk.answering.answer import Answer, Candidate, Group
from shopdesk.craft.sayings import Saying

SAYING = {
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
    definitions: dict[str, Any] = {"Saying": SAYING}
    answer = _object(Answer, definitions)
    del answer["properties"]["candidates"]
    candidates = {"type": "array", "items": _of(Candidate, definitions)}
    answer["properties"] = {
        "format": {"const": 1},
        **answer["properties"],
        "groups": {
            "type": "object",
            "required": [group.value for group in Group],
            "additionalProperties": False,
            "properties": {group.value: candidates for group in Group},
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
    if kind is Saying or is_dataclass(kind):
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
