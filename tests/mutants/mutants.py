"""The mutants of a module and of a table: each a small fault that a test should notice."""

import ast
import csv
import io
import re
from collections.abc import Iterator
from copy import copy
from dataclasses import dataclass
from decimal import Decimal
from pathlib import Path
from typing import Any, NamedTuple

_PAIRS = (
    (ast.Lt, ast.LtE), (ast.Gt, ast.GtE), (ast.Eq, ast.NotEq), (ast.In, ast.NotIn),
    (ast.Is, ast.IsNot), (ast.Add, ast.Sub), (ast.Mult, ast.Div), (ast.And, ast.Or),
)  # fmt: skip
SWAPS = {a: b for pair in _PAIRS for a, b in (pair, pair[::-1])} | {
    ast.FloorDiv: ast.Div, ast.Mod: ast.Mult, ast.Pow: ast.Mult
}  # fmt: skip
NOT_MUTATED = {"annotation", "returns", "decorator_list"}
TEXT_LIKE = ast.JoinedStr | ast.List | ast.Tuple | ast.Dict | ast.ListComp | ast.Set
FIGURE = re.compile(r"-?(0|[1-9]\d*)(\.\d+)?")


@dataclass(frozen=True, slots=True)
class Mutant:
    """One planted fault; lines count from 1, and `statement` is the first and last of its own.

    `number` counts the faults of the file. `function` is the qualified name of the outermost
    function or method, empty at module level; of a table it is the first cell of the row.
    """

    path: Path
    number: int
    line: int
    kind: str
    function: str
    statement: tuple[int, int]
    before: str
    after: str

    @property
    def key(self) -> tuple[str, str, str, str]:
        """What names the fault when lines and rooms move."""
        return (self.path.name, self.function, self.before, self.after)


class Place(NamedTuple):
    """Where in a tree a node hangs, with the statement and the function that it is in."""

    owner: ast.AST
    field: str
    at: int | None
    node: Any
    statement: Any
    function: str

    def put(self, node: Any) -> None:
        """Hangs another node there."""
        if self.at is None:
            setattr(self.owner, self.field, node)
        else:
            getattr(self.owner, self.field)[self.at] = node


def mutants_of(path: Path, text: str) -> list[Mutant]:
    """Returns all mutants of a module or of a table, in the order of the text."""
    return [mutant for mutant, _ in _with_texts(path, text, None)]


def mutated(mutant: Mutant, text: str) -> str:
    """Returns the file's text with the fault in it; a module loses its comments."""
    return next(new for one, new in _with_texts(mutant.path, text, mutant.number) if new)


def functions_of(path: Path) -> dict[str, tuple[Any, str]]:
    """Returns by qualified name the functions and methods of a module, with their text."""
    text = path.read_text(encoding="utf-8")
    lines = text.splitlines()
    return {
        name: (node, "\n".join(lines[node.lineno - 1 : node.end_lineno]))
        for name, node in _functions(ast.parse(text))
    }


def _functions(tree: ast.AST, within: str = "") -> Iterator[tuple[str, Any]]:
    for node in ast.iter_child_nodes(tree):
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
            yield within + node.name, node
        elif isinstance(node, ast.ClassDef):
            yield from _functions(node, f"{within}{node.name}.")


def _with_texts(path: Path, text: str, wanted: int | None) -> Iterator[tuple[Mutant, str]]:
    """Yields all mutants, the wanted one with the file's new text, the others with none."""
    if path.suffix == ".csv":
        yield from _of_table(path, text, wanted)
        return
    tree, number = ast.parse(text), 0
    functions = {node: name for name, node in _functions(tree)}
    for place in _places(tree, None, "", functions):
        for kind, node in _faults(place.node):
            heads = [_head(place.statement)]
            place.put(node)
            heads.append(_head(node if place.node is place.statement else place.statement))
            new = ast.unparse(tree) if number == wanted else ""
            place.put(place.node)
            lines = _own_lines(place.statement)
            line = place.node.lineno
            yield Mutant(path, number, line, kind, place.function, lines, *heads), new
            number += 1


def _of_table(path: Path, text: str, wanted: int | None) -> Iterator[tuple[Mutant, str]]:
    header, *rows = csv.reader(text.splitlines())
    number = 0
    for line, cells in enumerate(rows, 2):
        for at, (column, cell) in enumerate(zip(header, cells, strict=True)):
            if column in {"source", "status"} or not FIGURE.fullmatch(cell):
                continue
            changed = f"{by_a_tenth(Decimal(cell)).normalize():f}"
            written = io.StringIO()
            csv.writer(written).writerow([*cells[:at], changed, *cells[at + 1 :]])
            lines = text.splitlines()
            lines[line - 1] = written.getvalue().rstrip()
            words = (f"{column} {cell}", f"{column} {changed}")
            mutant = Mutant(path, number, line, "table", cells[0], (line, line), *words)
            yield mutant, "\n".join(lines) + "\n" if number == wanted else ""
            number += 1


def by_a_tenth(figure: Decimal) -> Decimal:
    """Returns the figure a tenth larger: a whole one by a whole number, nothing by 0.1."""
    if figure.as_tuple().exponent == 0:
        return figure + max(1, round(abs(figure) / 10))
    return figure * Decimal("1.1") or Decimal("0.1")


def _places(
    owner: ast.AST, statement: Any, function: str, functions: dict[Any, str]
) -> Iterator[Place]:
    for field, value in ast.iter_fields(owner):
        several = isinstance(value, list)
        for at, node in enumerate(value if several else [value]):
            if isinstance(node, ast.AST) and field not in NOT_MUTATED:
                own = node if isinstance(node, ast.stmt) else statement
                inside = functions.get(node, function)
                yield Place(owner, field, at if several else None, node, own, inside)
                yield from _places(node, own, inside, functions)


def _faults(node: Any) -> Iterator[tuple[str, ast.AST]]:
    """Yields the kinds of fault that a node itself can have, with what stands there then."""
    match node:
        case ast.Compare(left=left, ops=ops, comparators=others):
            for at, op in enumerate(ops):
                swapped = [*ops[:at], SWAPS[type(op)](), *ops[at + 1 :]]
                yield "comparison", ast.Compare(left, swapped, others)
        case ast.BinOp(left=left, right=right, op=op) if type(op) in SWAPS:
            if not (_is_text(left) or _is_text(right)):
                yield "arithmetic", ast.BinOp(left, SWAPS[type(op)](), right)
        case ast.AugAssign(target=left, value=right, op=op) if type(op) in SWAPS:
            if not _is_text(right):
                yield "arithmetic", ast.AugAssign(left, SWAPS[type(op)](), right)
        case ast.BoolOp(op=op, values=values):
            yield "and/or", ast.BoolOp(SWAPS[type(op)](), values)
        case ast.UnaryOp(op=ast.Not(), operand=operand):
            yield "not", operand
        case ast.Constant(value=int() | float() as value) if not isinstance(value, bool):
            grown = by_a_tenth(Decimal(repr(value)))
            yield "constant", ast.Constant(type(value)(grown))
        case ast.Call(func=ast.Name(id="Decimal") as name, args=[ast.Constant(value=str(text))]):
            if FIGURE.fullmatch(text):
                larger = ast.Constant(str(by_a_tenth(Decimal(text))))
                yield "constant", ast.Call(name, [larger], [])


def _is_text(node: ast.AST) -> bool:
    """Returns whether an operand is no number by its looks: text, a list, a sum of such."""
    if isinstance(node, ast.BinOp):
        return _is_text(node.left) or _is_text(node.right)
    if isinstance(node, ast.Constant):
        return isinstance(node.value, str | bytes)
    return isinstance(node, TEXT_LIKE)


def _head(statement: Any) -> str:
    """Returns a statement in one line, of a compound one only its head."""
    bare = copy(statement)
    for field in {"body", "orelse", "handlers", "finalbody", "cases", "decorator_list"}:
        if hasattr(bare, field):
            setattr(bare, field, [])
    return ast.unparse(bare).strip()


def _own_lines(statement: Any) -> tuple[int, int]:
    """Returns the lines of a statement, of a compound one only those of its head."""
    body = getattr(statement, "body", None)
    if body:
        return statement.lineno, max(statement.lineno, body[0].lineno - 1)
    return statement.lineno, statement.end_lineno
