"""What is refused is said by its text, so that it can be said in every language."""

import ast
from collections.abc import Iterator, Sequence
from decimal import Decimal
from functools import cache
from pathlib import Path

import pytest

import shopdesk
from shopdesk.craft.errors import InputError
from shopdesk.exchange.cells import mass
from shopdesk.exchange.files import read_table
from shopdesk.shelf.mapping import to_minor
from shopdesk.store.settings import read_settings
from shopdesk.wording.formatting import ReaderPreferences
from shopdesk.wording.translate import told

PACKAGE = Path(shopdesk.__file__).parent
VALIDATION = ("ValidationError", "StopValidation")
"""How a validator of a form refuses: its words come first."""
ENDING = ("abort", "problem_page")
"""What ends a request with a page: a status, then words."""


@cache
def trees() -> dict[Path, ast.Module]:
    """Returns every module of the package as it is written."""
    paths = sorted(path for path in PACKAGE.rglob("*.py") if "migrations" not in path.parts)
    return {path: ast.parse(path.read_text(encoding="utf-8")) for path in paths}


@cache
def kinds() -> frozenset[str]:
    """Returns the names of a problem, of InputError and of every class made from it."""
    nodes = (node for tree in trees().values() for node in ast.walk(tree))
    classes = [node for node in nodes if isinstance(node, ast.ClassDef)]
    found, before = {"Problem", "InputError"}, 0
    while len(found) > before:
        before = len(found)
        found |= {one.name for one in classes if found & {getattr(b, "id", "") for b in one.bases}}
    return frozenset(found)


def plain_refusals(tree: ast.Module) -> Iterator[int]:
    """Yields the lines in which words of the code are refused with or put beside a box."""
    of_kinds = {
        id(node)
        for each in ast.walk(tree)
        if isinstance(each, ast.ClassDef) and each.name in kinds()
        for node in ast.walk(each)
    }
    for node in ast.walk(tree):
        if isinstance(node, ast.Call):
            told = _words_of_call(node, id(node) in of_kinds)
        else:
            told = _words_beside_a_box(node)
        if any(map(_is_text, told)):
            yield node.lineno


def _words_of_call(call: ast.Call, in_a_kind: bool) -> Sequence[ast.expr]:
    """Returns the arguments of a call that say what is refused."""
    name = getattr(call.func, "id", "") or getattr(call.func, "attr", "")
    if name in kinds() or (in_a_kind and name == "__init__"):
        return call.args[:2]
    if name in VALIDATION:
        return call.args[:1]
    return call.args[1:2] if name in ENDING else ()


def _words_beside_a_box(node: ast.AST) -> Sequence[ast.expr]:
    """Returns what `box.errors = [...]` puts beside a box."""
    if not isinstance(node, ast.Assign):
        return ()
    beside = any(getattr(target, "attr", "") == "errors" for target in node.targets)
    return node.value.elts if beside and isinstance(node.value, ast.List | ast.Tuple) else ()


def _is_text(node: ast.expr) -> bool:
    """True for text in the code, whole, filled or put together."""
    if isinstance(node, ast.BinOp):
        return _is_text(node.left) or _is_text(node.right)
    if isinstance(node, ast.IfExp):
        return _is_text(node.body) or _is_text(node.orelse)
    if isinstance(node, ast.JoinedStr):
        return any(letter.isalpha() for letter in _fixed(node))
    return isinstance(node, ast.Constant) and isinstance(node.value, str)


def _fixed(node: ast.JoinedStr) -> str:
    """Returns what stands between the values of a filled text."""
    return "".join(str(each.value) for each in node.values if isinstance(each, ast.Constant))


def test_every_kind_of_refusal_is_known() -> None:
    assert {"NumberRefused", "AskRefused", "LineProblem", "CautionsNotTold"} <= kinds()


def test_no_room_refuses_in_words_of_its_code() -> None:
    assert [
        f"{path.relative_to(PACKAGE)}:{line}"
        for path, tree in trees().items()
        for line in plain_refusals(tree)
    ] == []


@pytest.mark.parametrize(
    "call",
    [
        'InputError("this is wrong", message("a.b"))',
        'InputError(message("a.b"), "do this")',
        'InputError(message("a.b"), f"do {this}")',
        'Problem(("field",), f"{n} is wrong", None)',
        'errors.InputError(message("a.b"), "do " + this)',
        'raise ValidationError("pick one")',
        'raise validators.StopValidation(f"{this} is wrong")',
        'abort(404, f"there is no {this}")',
        'box.errors = ["this is wrong"]',
        'box.errors = [said(refusal) if it else "this is wrong"]',
        'class SlipUnknown(InputError): made = super().__init__("no slip", None)',
    ],
)
def test_a_refusal_in_words_is_found(call: str) -> None:
    assert list(plain_refusals(ast.parse(call))) == [1]


@pytest.mark.parametrize(
    "call",
    [
        'InputError(message("a.b"), message("a.c"), "field")',
        'box.errors = [said(message("a.b"))]',
        'abort(409, f"{said_alone(refusal)}.")',
        "abort(404)",
    ],
)
def test_what_is_said_by_its_text_is_let_be(call: str) -> None:
    assert list(plain_refusals(ast.parse(call))) == []


def refused_of(given: str, path: Path) -> InputError:
    """Returns what one of several readers refuses."""
    path.write_bytes(b"%PDF-1.7")
    readers = {
        "settings": lambda: read_settings({"hold_days": "0", "currency": "XYZ"}),
        "file": lambda: read_table(path),
        "cell": lambda: mass("50 g / 9 oz", ""),
        "price": lambda: to_minor(Decimal("6.555"), "EUR"),
    }
    with pytest.raises(InputError) as refused:
        readers[given]()
    return refused.value


@pytest.mark.parametrize(
    ("given", "language", "words"),
    [
        (
            "settings",
            "de",
            "hold_days: 0 ist keine ganze Zahl von 1 bis 365; schreiben Sie eine ganze Zahl von "
            "Tagen von 1 bis 365\ncurrency: „XYZ“ ist kein Kürzel einer Währung; schreiben Sie "
            "ein Kürzel nach ISO 4217 wie EUR, GBP oder USD",
        ),
        (
            "file",
            "fr",
            "le fichier est un PDF\N{NO-BREAK SPACE}; enregistrez le tableau en .xlsx ou en CSV",
        ),
        # 9 oz is 255.1 g.
        ("cell", "de", "„50 g / 9 oz“ nennt 50 g und 255,1 g; lassen Sie das falsche weg"),
        (
            "price",
            "en",
            "6.555 is no price in EUR; write an amount from 0 with at most 2 decimals",
        ),
    ],
)
def test_refusals_of_several_rooms(given: str, language: str, words: str, tmp_path: Path) -> None:
    assert told(refused_of(given, tmp_path / "file"), ReaderPreferences(language)) == words
