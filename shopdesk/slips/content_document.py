"""A slip's content as JSON and back, exactly: decimals, dates and Sayings keep their types."""

from collections.abc import Mapping
from dataclasses import fields, is_dataclass
from datetime import date
from decimal import Decimal
from enum import StrEnum
from functools import cache
from types import NoneType, UnionType
from typing import Any, get_args, get_origin, get_type_hints

from shopdesk.craft.sayings import Saying
from shopdesk.slips.content import SlipContent

VERSION = 1


def content_document(content: SlipContent) -> dict[str, Any]:
    """Returns the content as JSON-ready data, without the customer's name."""
    document = _plain(content)
    del document["customer_name"]
    return {"version": VERSION, **document}


def read_content(document: Mapping[str, Any]) -> SlipContent:
    """Returns the content of a stored document. Raises ValueError for another version's."""
    if document.get("version") != VERSION:
        raise ValueError(f"slip content of version {document.get('version')} is not known here")
    rest = {name: value for name, value in document.items() if name != "version"}
    content = _read(SlipContent, rest)
    assert isinstance(content, SlipContent)
    return content


def _plain(value: Any) -> Any:
    if isinstance(value, Saying):
        return {"code": value.code, "values": {k: _tagged(v) for k, v in value.values.items()}}
    if is_dataclass(value):
        return {field.name: _plain(getattr(value, field.name)) for field in fields(value)}
    if isinstance(value, tuple):
        return [_plain(item) for item in value]
    if isinstance(value, Decimal):
        return str(value)
    return value.isoformat() if isinstance(value, date) else value


def _tagged(value: Any) -> Any:
    if isinstance(value, Decimal):
        return {"decimal": str(value)}
    return list(value) if isinstance(value, tuple) else value


def _untagged(value: Any) -> Any:
    if isinstance(value, Mapping):
        return Decimal(value["decimal"])
    return tuple(value) if isinstance(value, list) else value


@cache
def _types(kind: type) -> dict[str, Any]:
    return get_type_hints(kind)


def _read(kind: Any, value: Any) -> Any:
    if value is None:
        return None
    if get_origin(kind) is UnionType:
        return _read(next(one for one in get_args(kind) if one is not NoneType), value)
    if get_origin(kind) is tuple:
        return tuple(_read(get_args(kind)[0], item) for item in value)
    if kind is Saying:
        return Saying(value["code"], {k: _untagged(v) for k, v in value["values"].items()})
    if isinstance(kind, type) and is_dataclass(kind):
        hints = _types(kind)
        return kind(**{name: _read(hints[name], item) for name, item in value.items()})
    if kind is date:
        return date.fromisoformat(value)
    return kind(value) if kind is Decimal or issubclass(kind, StrEnum) else value
