"""What is refused is said by its text, so that it can be said in every language."""

import ast
from collections.abc import Iterator
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
STILL_PLAIN = {"services", "counter"}
"""Rooms whose refusals are still said in plain English."""


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
    """Yields the lines in which a refusal or a problem is made of words in the code."""
    for node in ast.walk(tree):
        if not isinstance(node, ast.Call) or getattr(node.func, "id", "") not in kinds():
            continue
        filled = any(isinstance(each, ast.JoinedStr) for each in node.args)
        if filled or any(isinstance(getattr(each, "value", 0), str) for each in node.args[:2]):
            yield node.lineno


def test_every_kind_of_refusal_is_known() -> None:
    assert {"NumberRefused", "AskRefused", "LineProblem", "CautionsNotTold"} <= kinds()


def test_no_room_refuses_in_words_of_its_code() -> None:
    assert [
        f"{path.relative_to(PACKAGE)}:{line}"
        for path, tree in trees().items()
        if path.relative_to(PACKAGE).parts[0] not in STILL_PLAIN
        for line in plain_refusals(tree)
    ] == []


@pytest.mark.parametrize(
    "call",
    [
        'InputError("this is wrong", message("a.b"))',
        'InputError(message("a.b"), "do this")',
        'InputError(message("a.b"), f"do {this}")',
        'Problem(("field",), f"{n} is wrong", None)',
    ],
)
def test_a_refusal_in_words_is_found(call: str) -> None:
    assert list(plain_refusals(ast.parse(call))) == [1]


def test_the_field_of_a_refusal_is_no_word_of_it() -> None:
    call = 'InputError(message("a.b"), message("a.c"), "field")'
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
