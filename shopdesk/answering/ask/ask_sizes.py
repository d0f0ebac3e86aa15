"""The same ask for another size of its pattern."""

from collections.abc import Iterator, Mapping, Sequence
from copy import deepcopy
from dataclasses import dataclass
from typing import Any

from shopdesk.craft.errors import InputError
from shopdesk.craft.messages import Message, message


class SizeUnknown(InputError):
    """The ask has no size of this name."""


@dataclass(frozen=True, slots=True)
class SizedAsk:
    """An ask document for another size; `left_open` names what only the old size was known by."""

    document: dict[str, Any]
    left_open: tuple[str, ...] = ()


def for_size(document: Mapping[str, Any], size: str) -> SizedAsk:
    """Returns the ask document with another size chosen. Raises SizeUnknown.

    What the ask lists for each size, chest and yarn, becomes that of the new size. What was
    given for the old size alone is not known for the new one and is left open.
    """
    changed = deepcopy(dict(document))
    sizes = changed.get("sizes") or {}
    names = sizes.get("names", [])
    if size not in names:
        raise SizeUnknown(message("problem_ask.no_size", size=size), _one_of(names))
    if size == sizes["chosen"]:
        return SizedAsk(changed)
    sizes["chosen"] = size
    return SizedAsk(changed, (*_without_measurements(changed), *_without_amounts(changed)))


def _one_of(names: Sequence[str]) -> Message:
    if not names:
        return message("problem_ask.name_none")
    return message("problem_ask.name_one", sizes=", ".join(names))


def _without_measurements(document: dict[str, Any]) -> Iterator[str]:
    """Drops the old size's measurements; names those that the ask does not list by size."""
    item = document.get("item") or {}
    listed = {"chest"} if document["sizes"].get("chest") else set()
    for name, value in item.pop("measurements", {}).items():
        if value is not None and name not in listed:
            yield name


def _without_amounts(document: dict[str, Any]) -> Iterator[str]:
    """Drops amounts of yarn that are one number for all sizes; it was that of the old size."""
    alone = [part for part in document.get("parts", ()) if len(_values(part)) == 1]
    for part in alone:
        part["amount"] = {"kind": "unknown"}
    if alone:
        yield "amount of yarn"


def _values(part: Mapping[str, Any]) -> list[Any]:
    values: list[Any] = part["amount"].get("values", [])
    return values
