"""Ties form fields to places in the ask document, so that one table serves both directions."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from enum import Enum
from typing import Any

from wtforms import Field

from shopdesk.craft.errors import Path
from shopdesk.craft.messages import Message
from shopdesk.parsing.quantities import names_listed, numbers_listed


class Way(Enum):
    """How a field's data becomes a value of the document."""

    TEXT = "text as typed; nothing typed leaves it out"
    NAMES = "one line of names, parted by commas"
    NUMBERS = "one line of numbers, parted as patterns print them"
    TICKED = "the ticked boxes"
    FLAG = "one tick box"
    YES_NO = "'yes', 'no', or '' for not said"


@dataclass(frozen=True, slots=True)
class Binding:
    """One field and its place. `right`, if given, says what would do on the page.

    A field that still holds its `usual` value does not by itself bring its object into the
    document. One that stands `beside` an object never does, and goes along only with that object:
    '10' and 'cm' alone are not a gauge.
    """

    path: Path
    field: str
    way: Way = Way.TEXT
    usual: str = ""
    beside: Path | None = None
    right: Message | None = None


def follows(path: Path, field: str, up: int = 1, **more: Any) -> Binding:
    """Returns a binding whose value goes along with the object `up` steps above it."""
    return Binding(path, field, beside=path[:-up], **more)


def quantity(path: Path, field: str, right: Message | None = None) -> tuple[Binding, Binding]:
    """Returns the bindings of a number box and the unit box beside it."""
    return (
        Binding((*path, "value"), field, right=right),
        follows((*path, "unit"), f"{field}_unit"),
    )


def document_value(binding: Binding, field: Field) -> Any:
    """Returns what a field says for the document, or None where it says nothing."""
    data = field.data
    if binding.way is Way.FLAG:
        return True if data else None
    if binding.way is Way.TICKED:
        return list(data or ()) or None
    text = str(data or "").strip()
    if binding.way is Way.YES_NO:
        return {"yes": True, "no": False}.get(text, text or None)
    if binding.way is Way.NAMES:
        return names_listed(text) or None
    if binding.way is Way.NUMBERS:
        return numbers_listed(text) or None
    return text or None


def field_data(binding: Binding, value: Any) -> Any:
    """Returns what a field holds so that it says this value of a document."""
    if binding.way is Way.FLAG:
        return bool(value)
    if binding.way is Way.TICKED:
        return list(value or ())
    if binding.way is Way.YES_NO:
        return {True: "yes", False: "no"}.get(value, "")
    if binding.way is Way.NAMES:
        return ", ".join(str(name) for name in value or ())
    if binding.way is Way.NUMBERS:
        return "; ".join(str(number) for number in value or ())
    return "" if value is None else str(value)


class Tree:
    """Collects values by their path; `document` holds only objects with something filled in."""

    def __init__(self) -> None:
        self._leaves: list[tuple[Path, Any, Path]] = []
        self._kept: set[Path] = {()}

    def put(self, path: Path, value: Any) -> None:
        """Adds a value that somebody filled in."""
        self._kept.update(path[:n] for n in range(len(path)))
        self.put_beside((), path, value)

    def put_beside(self, beside: Path, path: Path, value: Any) -> None:
        """Adds a value that goes along only where something of the object `beside` is filled in."""
        if value is not None:
            self._leaves.append((path, value, beside))

    def document(self) -> dict[str, Any]:
        """Returns the nested dicts and lists."""
        root: dict[str | int, Any] = {}
        for path, value, beside in self._leaves:
            if beside in self._kept:
                _place(root, path, value)
        closed = _closed(root)
        assert isinstance(closed, dict)
        return closed


def _place(root: dict[str | int, Any], path: Path, value: Any) -> None:
    for step in path[:-1]:
        root = root.setdefault(step, {})
    root[path[-1]] = value


def _closed(node: Any) -> Any:
    if not isinstance(node, dict):
        return node
    if node and all(isinstance(step, int) for step in node):
        return [_closed(node[step]) for step in sorted(node)]
    return {step: _closed(below) for step, below in node.items()}


def value_at(document: Any, path: Path) -> Any:
    """Returns the value at a path of a document, or None where the document has no such place."""
    for step in path:
        if isinstance(document, Mapping):
            document = document.get(step)
        elif isinstance(document, list) and isinstance(step, int) and step < len(document):
            document = document[step]
        else:
            return None
    return document


def nearest(bindings: Iterable[Binding], path: Path) -> Binding | None:
    """Returns the binding that a problem at `path` is shown at: the one that shares most of it.

    Of two that share as much, one that the path leads through comes before one inside it.
    """
    best: tuple[int, bool] = (0, False)
    found = None
    for binding in bindings:
        shared = _shared(binding.path, path)
        rank = (shared, shared == len(binding.path))
        if rank > best and shared:
            best, found = rank, binding
    return found


def _shared(one: Path, other: Path) -> int:
    pairs = zip(one, other, strict=False)
    return next((n for n, (a, b) in enumerate(pairs) if a != b), min(len(one), len(other)))
