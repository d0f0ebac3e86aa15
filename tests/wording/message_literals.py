"""Finds, by syntax, every Message written out in the package: its code and its values' names."""

import ast
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import shopdesk

PACKAGE = Path(shopdesk.__file__).parent


@dataclass(frozen=True)
class Literal:
    """`names` is None where the call takes values that are not spelled out."""

    code: str
    names: frozenset[str] | None
    where: str


def literals() -> list[Literal]:
    found: list[Literal] = []
    for path in sorted(PACKAGE.rglob("*.py")):
        tree = ast.parse(path.read_text(encoding="utf-8"))
        place = path.relative_to(PACKAGE.parent).as_posix()
        found += [literal for node in ast.walk(tree) for literal in _of(node, place)]
    return found


def _of(node: ast.AST, place: str) -> Iterator[Literal]:
    if not isinstance(node, ast.Call) or not node.args:
        return
    name = node.func.id if isinstance(node.func, ast.Name) else getattr(node.func, "attr", "")
    if name not in ("message", "Message"):
        return
    names = _names(node, name)
    for code in _codes(node.args[0]):
        yield Literal(code, names, f"{place}:{node.lineno}")


def _codes(argument: ast.expr) -> Iterator[str]:
    if isinstance(argument, ast.Constant) and isinstance(argument.value, str):
        yield argument.value
    if isinstance(argument, ast.IfExp):
        yield from _codes(argument.body)
        yield from _codes(argument.orelse)


def _names(call: ast.Call, name: str) -> frozenset[str] | None:
    if name == "message":
        words = [keyword.arg for keyword in call.keywords]
        return None if None in words else frozenset(word for word in words if word)
    if len(call.args) == 1 and not call.keywords:
        return frozenset()
    values = call.args[1] if len(call.args) > 1 else call.keywords[0].value
    if not isinstance(values, ast.Dict):
        return None
    keys = [key.value for key in values.keys if isinstance(key, ast.Constant)]
    return frozenset(map(str, keys)) if len(keys) == len(values.keys) else None
