"""The answer as a JSON document, with every sentence in words, and its JSON Schema."""

from collections.abc import Callable, Mapping
from dataclasses import fields
from decimal import Decimal
from enum import Enum
from functools import cache
from typing import Any

from shopdesk.answering.answer import Answer, Group
from shopdesk.craft.sayings import Saying

FORMAT = 1
_ALREADY_PLAIN = (str, int, bool, type(None))


def answer_document(answer: Answer, in_words: Callable[[Saying], str]) -> dict[str, Any]:
    """Returns plain JSON data; `in_words` puts a Saying into the reader's language and units."""
    document = {"format": FORMAT, **plain_data(answer, in_words)}
    candidates = document.pop("candidates")
    document["groups"] = {
        group.value: [c for c in candidates if c["group"] == group.value] for group in Group
    }
    return document


def plain_data(value: Any, in_words: Callable[[Saying], str]) -> Any:
    """Returns dataclasses, enums, decimals and Sayings as what JSON can hold.

    The same sentence stands in many places of an answer; it is put into words once.
    """
    return _plain(value, cache(in_words))


def _plain(value: Any, in_words: Callable[[Saying], str]) -> Any:
    kind: type = type(value)
    if kind in _ALREADY_PLAIN:
        return value
    if kind is float:
        return round(value, 6)
    if kind is Saying:
        return _plain_saying(value, in_words)
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


def _plain_saying(said: Saying, in_words: Callable[[Saying], str]) -> dict[str, Any]:
    return {"code": said.code, "text": in_words(said), "values": _values(said.values)}


def _values(values: Mapping[str, Any]) -> dict[str, Any]:
    return {name: _plain(value, _code_of) for name, value in values.items()}


def _code_of(said: Saying) -> str:
    return said.code


def answer_schema() -> dict[str, Any]:
    """Returns the JSON Schema (draft 2020-12) of the answer document."""
    from shopdesk.answering.answer_schema import schema

    return schema()
