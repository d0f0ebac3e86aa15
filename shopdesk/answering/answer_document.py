"""The answer as a JSON document, with every sentence in words, and its JSON Schema."""

from collections.abc import Callable, Mapping
from dataclasses import fields, is_dataclass
from decimal import Decimal
from enum import Enum
from typing import Any

from shopdesk.answering.answer import Answer, Group
from shopdesk.craft.sayings import Saying

FORMAT = 1


def answer_document(answer: Answer, in_words: Callable[[Saying], str]) -> dict[str, Any]:
    """Returns plain JSON data; `in_words` puts a Saying into the reader's language and units."""
    document = {"format": FORMAT, **plain_data(answer, in_words)}
    candidates = document.pop("candidates")
    document["groups"] = {
        group.value: [c for c in candidates if c["group"] == group.value] for group in Group
    }
    return document


def plain_data(value: Any, in_words: Callable[[Saying], str]) -> Any:
    """Returns dataclasses, enums, decimals and Sayings as what JSON can hold."""
    if isinstance(value, Saying):
        return _plain_saying(value, in_words)
    if is_dataclass(value):
        return {f.name: plain_data(getattr(value, f.name), in_words) for f in fields(value)}
    if isinstance(value, tuple | list):
        return [plain_data(item, in_words) for item in value]
    if isinstance(value, Enum):
        return value.value
    if isinstance(value, Decimal):
        return str(value)
    if isinstance(value, float):
        return round(value, 6)
    return value


def _plain_saying(said: Saying, in_words: Callable[[Saying], str]) -> dict[str, Any]:
    return {"code": said.code, "text": in_words(said), "values": _values(said.values)}


def _values(values: Mapping[str, Any]) -> dict[str, Any]:
    return {name: plain_data(value, lambda said: said.code) for name, value in values.items()}


def answer_schema() -> dict[str, Any]:
    """Returns the JSON Schema (draft 2020-12) of the answer document."""
    from shopdesk.answering.answer_schema import schema

    return schema()
