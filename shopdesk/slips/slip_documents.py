"""A slip's content, its words and the choice as JSON and back, exactly as they were.

Decimals, dates and Messages keep their types. The customer's name is never in a document.
"""

from collections.abc import Mapping
from dataclasses import fields, is_dataclass, replace
from datetime import date
from decimal import Decimal
from enum import StrEnum
from functools import cache
from types import NoneType, UnionType
from typing import Any, TypeVar, get_args, get_origin, get_type_hints

from shopdesk.answering.model.answer import Selection
from shopdesk.craft.messages import Message
from shopdesk.slips.content import SlipContent, SlipLine, SlipShop
from shopdesk.slips.slip_words import SlipText

VERSION = 1
_NO_LONGER_KEPT: Mapping[type, frozenset[str]] = {
    SlipShop: frozenset({"country"}),
    SlipLine: frozenset({"planned_m"}),
}
"""What slips of former days have in their documents and nothing reads."""
Kind = TypeVar("Kind")


class DocumentUnknown(ValueError):
    """A stored document of a version that this program does not read."""


def content_document(content: SlipContent) -> dict[str, Any]:
    """Returns the content as JSON-ready data."""
    return _document(replace(content, customer_name=None))


def read_content(document: Mapping[str, Any]) -> SlipContent:
    """Returns the content of a stored document. Raises DocumentUnknown."""
    return _from(SlipContent, document)


def words_document(words: SlipText) -> dict[str, Any]:
    """Returns the words as JSON-ready data."""
    return _document(words.named(None))


def read_words(document: Mapping[str, Any]) -> SlipText:
    """Returns the words of a stored document. Raises DocumentUnknown."""
    return _from(SlipText, document)


def choice_document(choice: Selection) -> dict[str, Any]:
    """Returns the choice as JSON-ready data."""
    return _document(choice)


def read_choice(document: Mapping[str, Any]) -> Selection:
    """Returns the choice of a stored document. Raises DocumentUnknown."""
    return _from(Selection, document)


def _document(value: Any) -> dict[str, Any]:
    return {"version": VERSION, **_plain(value)}


def _from(kind: type[Kind], document: Mapping[str, Any]) -> Kind:
    if document.get("version") != VERSION:
        raise DocumentUnknown(f"a slip's data of version {document.get('version')} is not known")
    value = _read(kind, {k: v for k, v in document.items() if k != "version"})
    assert isinstance(value, kind)
    return value


def _plain(value: Any) -> Any:
    if isinstance(value, Message):
        return _plain_message(value)
    if is_dataclass(value):
        return {field.name: _plain(getattr(value, field.name)) for field in fields(value)}
    if isinstance(value, frozenset):
        return sorted(value)
    if isinstance(value, tuple):
        return [_plain(item) for item in value]
    if isinstance(value, Decimal):
        return str(value)
    return value.isoformat() if isinstance(value, date) else value


def _plain_message(said: Message) -> dict[str, Any]:
    return {"code": said.code, "values": {k: _tagged(v) for k, v in said.values.items()}}


def _message(document: Mapping[str, Any]) -> Message:
    values = {name: _untagged(value) for name, value in document["values"].items()}
    return Message(document["code"], values)


def _tagged(value: Any) -> Any:
    if isinstance(value, Message):
        return {"message": _plain_message(value)}
    if isinstance(value, Decimal):
        return {"decimal": str(value)}
    return list(value) if isinstance(value, tuple) else value


def _untagged(value: Any) -> Any:
    if isinstance(value, Mapping):
        return _message(value["message"]) if "message" in value else Decimal(value["decimal"])
    return tuple(value) if isinstance(value, list) else value


@cache
def _types(kind: type) -> dict[str, Any]:
    return get_type_hints(kind)


def _read(kind: Any, value: Any) -> Any:
    if value is None:
        return None
    if get_origin(kind) is UnionType:
        return _read(next(one for one in get_args(kind) if one is not NoneType), value)
    if get_origin(kind) in (tuple, frozenset):
        return get_origin(kind)(_read(get_args(kind)[0], item) for item in value)
    if kind is Message:
        return _message(value)
    if isinstance(kind, type) and is_dataclass(kind):
        hints = _types(kind)
        kept = value.keys() - _NO_LONGER_KEPT.get(kind, frozenset())
        return kind(**{name: _read(hints[name], value[name]) for name in kept})
    if kind is date:
        return date.fromisoformat(value)
    if kind is float:
        return float(value)
    return kind(value) if kind is Decimal or issubclass(kind, StrEnum) else value
