"""The mutants of a module and of a table: each a small fault that a test should notice."""

import ast
import csv
import io
import re
import tokenize
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from decimal import Decimal
from itertools import pairwise
from pathlib import Path

SWAPS = {
    ast.Lt: ("<", "<="), ast.LtE: ("<=", "<"), ast.Gt: (">", ">="), ast.GtE: (">=", ">"),
    ast.Eq: ("==", "!="), ast.NotEq: ("!=", "=="), ast.In: ("in", "not in"),
    ast.NotIn: ("not in", "in"), ast.Is: ("is", "is not"), ast.IsNot: ("is not", "is"),
    ast.Add: ("+", "-"), ast.Sub: ("-", "+"), ast.Mult: ("*", "/"), ast.Div: ("/", "*"),
    ast.FloorDiv: ("//", "/"), ast.Mod: ("%", "*"), ast.Pow: ("**", "*"),
    ast.And: ("and", "or"), ast.Or: ("or", "and"),
}  # fmt: skip
NOT_MUTATED = {"annotation", "returns", "decorator_list"}
FIGURE = re.compile(r"-?(0|[1-9]\d*)(\.\d+)?")
Edit = tuple[int, int, str]
"""Where in a file's text, up to where, and what stands there instead."""


@dataclass(frozen=True, slots=True)
class Mutant:
    """One planted fault; lines count from 1, and `statement` is the first and last of its own.

    `function` is the qualified name of the outermost function or method, empty at module
    level; of a table it is the first cell of the row.
    """

    path: Path
    line: int
    kind: str
    function: str
    statement: tuple[int, int]
    edits: tuple[Edit, ...]
    before: str
    after: str

    def applied(self, text: str) -> str:
        """Returns the file's text with the fault in it."""
        for start, end, new in sorted(self.edits, reverse=True):
            text = text[:start] + new + text[end:]
        return text

    @property
    def key(self) -> tuple[str, str, str, str]:
        """What names the fault when lines and rooms move."""
        return (self.path.name, self.function, self.before, self.after)


def mutants_of(path: Path, text: str) -> list[Mutant]:
    """Returns all mutants of a module or of a table, in the order of the text."""
    return list(_of_table(path, text) if path.suffix == ".csv" else _Module(path, text).mutants())


def functions_of(path: Path) -> dict[str, tuple[ast.stmt, str]]:
    """Returns by qualified name the functions and methods of a module, with their text."""
    text = path.read_text(encoding="utf-8")
    lines = text.splitlines()
    return {
        name: (node, "\n".join(lines[node.lineno - 1 : node.end_lineno]))
        for name, node in _functions(ast.parse(text))
    }


def _functions(tree: ast.AST, within: str = "") -> Iterator[tuple[str, ast.stmt]]:
    for node in ast.iter_child_nodes(tree):
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
            yield within + node.name, node
        elif isinstance(node, ast.ClassDef):
            yield from _functions(node, f"{within}{node.name}.")


def by_a_tenth(figure: Decimal) -> Decimal:
    """Returns the figure a tenth larger: a whole one by a whole number, nothing by 0.1."""
    if figure == figure.to_integral_value() and figure.as_tuple().exponent == 0:
        return figure + max(1, round(abs(figure) / 10))
    return figure * Decimal("1.1") or Decimal("0.1")


def _of_table(path: Path, text: str) -> Iterator[Mutant]:
    lines = text.splitlines(keepends=True)
    header, start = next(csv.reader(lines)), len(lines[0])
    for number, line in enumerate(lines[1:], 2):
        cells = next(csv.reader([line]))
        for at, (column, cell) in enumerate(zip(header, cells, strict=True)):
            if column not in {"source", "status"} and FIGURE.fullmatch(cell):
                changed = f"{by_a_tenth(Decimal(cell)).normalize():f}"
                row = io.StringIO()
                csv.writer(row, lineterminator="\n").writerow(
                    [*cells[:at], changed, *cells[at + 1 :]]
                )
                yield Mutant(
                    path, number, "table", cells[0], (number, number),
                    ((start, start + len(line), row.getvalue()),),
                    f"{column} {cell}", f"{column} {changed}",
                )  # fmt: skip
        start += len(line)


class _Module:
    def __init__(self, path: Path, text: str) -> None:
        self.path, self.text, self.tree = path, text, ast.parse(text)
        self.lines = text.splitlines(keepends=True)
        starts = [0]
        for line in self.lines:
            starts.append(starts[-1] + len(line))
        self.starts = starts
        self.tokens = [
            (starts[one.start[0] - 1] + one.start[1], one.string)
            for one in tokenize.generate_tokens(io.StringIO(text).readline)
            if one.type in {tokenize.OP, tokenize.NAME}
        ]

    def mutants(self) -> Iterator[Mutant]:
        functions = {node: name for name, node in _functions(self.tree)}
        yield from self._within(self.tree, "", (1, 1), functions)

    def _within(
        self,
        node: ast.AST,
        function: str,
        statement: tuple[int, int],
        functions: dict[ast.AST, str],
    ) -> Iterator[Mutant]:
        function = functions.get(node, function)
        if isinstance(node, ast.stmt):
            statement = _own_lines(node)
        if isinstance(node, ast.JoinedStr):
            return  # Where its parts stand is not known before Python 3.12.
        for kind, edits in self._edits(node):
            yield self._mutant(kind, function, statement, edits)
        for name, value in ast.iter_fields(node):
            for child in value if isinstance(value, list) else [value]:
                if isinstance(child, ast.AST) and name not in NOT_MUTATED:
                    yield from self._within(child, function, statement, functions)

    def _mutant(
        self, kind: str, function: str, statement: tuple[int, int], edits: list[Edit]
    ) -> Mutant:
        line = self.text.count("\n", 0, edits[0][0]) + 1
        bare = Mutant(self.path, line, kind, function, statement, tuple(edits), "", "")
        after = bare.applied(self.text).splitlines()[line - 1].strip()
        before = self.lines[line - 1].strip()
        return Mutant(self.path, line, kind, function, statement, tuple(edits), before, after)

    def _edits(self, node: ast.AST) -> Iterator[tuple[str, list[Edit]]]:
        """Yields the kinds of fault that this node itself can have, with what to change."""
        match node:
            case ast.Compare():
                sides = [node.left, *node.comparators]
                for (left, right), operator in zip(pairwise(sides), node.ops, strict=True):
                    yield "comparison", self._swap(left, right, operator)
            case ast.BinOp(left=left, right=right, op=operator):
                if type(operator) in SWAPS and not (_is_text(left) or _is_text(right)):
                    yield "arithmetic", self._swap(left, right, operator)
            case ast.AugAssign(target=left, value=right, op=operator):
                if type(operator) in SWAPS and not _is_text(right):
                    yield "arithmetic", self._swap(left, right, operator)
            case ast.BoolOp(op=operator, values=sides):
                pairs = pairwise(sides)
                yield "and/or", [edit for a, b in pairs for edit in self._swap(a, b, operator)]
            case ast.UnaryOp(op=ast.Not()):
                start = self._offset(node.lineno, node.col_offset)
                yield "not", [(start, start + len("not "), "")]
            case ast.Constant(value=int() | float() as value) if not isinstance(value, bool):
                larger = value + 1 if isinstance(value, int) else round(value * 1.1, 12) or 0.1
                yield "constant", [(*self._span(node), repr(larger))]
            case ast.Call(func=ast.Name(id="Decimal"), args=[ast.Constant(value=str(text)) as one]):
                if FIGURE.fullmatch(text):
                    yield "constant", [(*self._span(one), f'"{by_a_tenth(Decimal(text))}"')]

    def _swap(self, left: ast.expr, right: ast.AST, operator: ast.AST) -> list[Edit]:
        written, instead = SWAPS[type(operator)]
        first, *more = written.split()
        start, end = self._span(left)[1], self._span(right)[0]
        augmented = {first, f"{first}="}
        at, token = next((a, t) for a, t in self.tokens if start <= a < end and t in augmented)
        if more:
            last = next(a for a, t in self.tokens if at < a < end and t == more[0])
            return [(at, last + len(more[0]), instead)]
        return [(at, at + len(token), instead + token[len(first) :])]

    def _span(self, node: ast.AST) -> tuple[int, int]:
        return (
            self._offset(node.lineno, node.col_offset),
            self._offset(node.end_lineno, node.end_col_offset),
        )

    def _offset(self, line: int, column: int) -> int:
        """Returns where in the text a place stands that the parser counts in bytes."""
        return self.starts[line - 1] + len(self.lines[line - 1].encode()[:column].decode())


def _own_lines(node: ast.stmt) -> tuple[int, int]:
    """Returns the lines of a statement, of a compound one only those of its head."""
    body: Iterable[ast.AST] = getattr(node, "body", None) or getattr(node, "cases", None) or ()
    inner = [one for one in body if isinstance(one, ast.stmt)]
    if inner:
        return node.lineno, max(node.lineno, inner[0].lineno - 1)
    return node.lineno, node.lineno if isinstance(node, ast.Match) else node.end_lineno


def _is_text(node: ast.AST) -> bool:
    """Returns whether an operand is no number by its looks: text, a list, a sum of such."""
    if isinstance(node, ast.BinOp):
        return _is_text(node.left) or _is_text(node.right)
    if isinstance(node, ast.Constant):
        return isinstance(node.value, str | bytes)
    return isinstance(
        node, ast.JoinedStr | ast.List | ast.Tuple | ast.Dict | ast.ListComp | ast.Set
    )
