"""The verbs, which of page and command call each, and which tests compare the two ways.

A verb is a public function of `services` that is handed the shop and that a page or a
command calls. A test that compares the two ways says which verbs it is about by
`@pytest.mark.compares("holds.hold_skeins")`, on the test or on one of its parameters; while it
runs, each of them must be called by both (`tests/conftest.py`).
"""

import ast
import sys
from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import contextmanager
from functools import wraps
from importlib import import_module
from pathlib import Path
from pkgutil import walk_packages
from typing import Any

import pytest

from tests.test_architecture import WAYS_IN, imported_names

SERVICES = "shopdesk.services."
BOTH = frozenset(WAYS_IN)

Ways = dict[str, set[str]]
"""The rooms that call a verb, by its name: its module and its own, such as holds.hold_skeins."""


def ways_of_verbs(package: Path) -> Ways:
    """Returns which of page and command call each verb, straight or through another function."""
    defined = dict(_defined(package))
    called = {room: _called(package / room, defined) for room in WAYS_IN}
    reached = {room: _reached(called[room], _uses(package, defined)) for room in WAYS_IN}
    return {
        verb: {room for room in WAYS_IN if verb in reached[room]}
        for verb in sorted(set[str]().union(*called.values()))
        if _is_verb(verb, defined[verb])
    }


def modules_imported_whole(package: Path) -> list[str]:
    """Returns where a page or a command imports a module of verbs instead of the verbs."""
    return [
        f"{path.relative_to(package)}: {name}"
        for room in WAYS_IN
        for path in sorted((package / room).rglob("*.py"))
        for name in imported_names(path)
        if name.startswith(SERVICES) and name.count(".") == SERVICES.count(".")
    ]


def comparisons(folder: Path) -> dict[str, set[str]]:
    """Returns the tests below a folder that compare page and command, by the verb that each names.

    A mark is read where it stands among the decorators of its test.
    """
    found: dict[str, set[str]] = {}
    for path in sorted(folder.rglob("test_*.py")):
        for test in ast.parse(path.read_text(encoding="utf-8")).body:
            if isinstance(test, ast.FunctionDef) and test.name.startswith("test_"):
                for verb in _marked(test):
                    found.setdefault(verb, set()).add(f"{path.relative_to(folder)}::{test.name}")
    return found


@contextmanager
def watching(*verbs: str) -> Iterator[Ways]:
    """Notes which of page and command call each of these verbs until the end of the block."""
    _load(WAYS_IN)
    seen: Ways = {verb: set() for verb in verbs}
    with pytest.MonkeyPatch.context() as patch:
        for verb, rooms in seen.items():
            module, _, name = verb.partition(".")
            function = getattr(import_module(SERVICES + module), name)
            for place, bound in list(_bindings(function)):
                patch.setattr(place, bound, _noting(function, rooms))
        yield seen


@contextmanager
def called_both_ways(*verbs: str) -> Iterator[None]:
    """Fails at the end of the block where page or command have not called one of these verbs."""
    with watching(*verbs) as ways:
        yield
    missed = [f"{verb}: not by {room}" for verb in verbs for room in sorted(BOTH - ways[verb])]
    assert missed == [], f"page and command did not both call {missed}"


def _defined(package: Path) -> Iterator[tuple[str, ast.FunctionDef | ast.ClassDef]]:
    for path in sorted((package / "services").glob("*.py")):
        for node in ast.parse(path.read_text(encoding="utf-8")).body:
            if isinstance(node, ast.FunctionDef | ast.ClassDef):
                yield f"{path.stem}.{node.name}", node


def _is_verb(name: str, node: ast.FunctionDef | ast.ClassDef) -> bool:
    if not isinstance(node, ast.FunctionDef) or name.partition(".")[2].startswith("_"):
        return False
    given = (*node.args.posonlyargs, *node.args.args, *node.args.kwonlyargs)
    return any(getattr(each.annotation, "id", "") == "Shop" for each in given)


def _called(room: Path, defined: Mapping[str, object]) -> set[str]:
    """Returns what a room imports of the services; ruff leaves no import that is not used."""
    names = (name for path in room.rglob("*.py") for name in imported_names(path))
    return {name.removeprefix(SERVICES) for name in names} & defined.keys()


def _uses(package: Path, defined: Mapping[str, ast.AST]) -> dict[str, set[str]]:
    """Returns which functions of the services each of them names."""
    uses: dict[str, set[str]] = {}
    for name, node in defined.items():
        module = name.partition(".")[0]
        imported = imported_names(package / "services" / f"{module}.py")
        known = {one.rpartition(".")[2]: one.removeprefix(SERVICES) for one in imported}
        known |= {one.partition(".")[2]: one for one in defined if one.startswith(f"{module}.")}
        named = {each.id for each in ast.walk(node) if isinstance(each, ast.Name)}
        uses[name] = {known[one] for one in named & known.keys()} & defined.keys()
    return uses


def _reached(called: Iterable[str], uses: Mapping[str, set[str]]) -> set[str]:
    reached, left = set[str](), list(called)
    while left:
        name = left.pop()
        if name not in reached:
            reached.add(name)
            left += uses[name]
    return reached


def _marked(test: ast.FunctionDef) -> Iterator[str]:
    for node in (each for decorator in test.decorator_list for each in ast.walk(decorator)):
        if isinstance(node, ast.Call) and ast.unparse(node.func) == "pytest.mark.compares":
            yield from (str(ast.literal_eval(name)) for name in node.args)


def _load(rooms: Iterable[str]) -> None:
    """Imports every module of these rooms, so that each has bound what it calls."""
    for room in rooms:
        package = import_module(f"shopdesk.{room}")
        for module in walk_packages(package.__path__, f"{package.__name__}."):
            import_module(module.name)


def _bindings(function: Callable[..., Any]) -> Iterator[tuple[Any, str]]:
    for name, module in list(sys.modules.items()):
        if name.startswith("shopdesk."):
            yield from ((module, bound) for bound, it in vars(module).items() if it is function)


def _noting(function: Callable[..., Any], rooms: set[str]) -> Callable[..., Any]:
    @wraps(function)
    def noted(*given: Any, **named: Any) -> Any:
        rooms.update(_room_that_calls())
        return function(*given, **named)

    return noted


def _room_that_calls() -> Iterator[str]:
    """Yields the room of the nearest page or command that the call comes from, if there is one."""
    frame = sys._getframe(1)
    while frame is not None:
        room = f"{frame.f_globals.get('__name__', '')}..".split(".")[1]
        if room in WAYS_IN:
            yield room
            return
        frame = frame.f_back  # type: ignore[assignment]
