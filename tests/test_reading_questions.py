"""What a newcomer asks is found by one search over the first sentences of the modules."""

import ast
from functools import cache
from pathlib import Path

import pytest

import shopdesk

PACKAGE = Path(shopdesk.__file__).parent
QUESTIONS = {
    "one size larger": "craft/swatch.py",
    "default allowance": "store/settings.py",
    "writes stock": "shelf/stock.py",
    "lot is taken": "craft/lots.py",
    "branch's stock": "services/answers.py",
    "not for this": "answering/judging/grades.py",
    "price limit": "answering/supply/wishes.py",
    "told first": "slips/composing.py",
    "margins": "slips/papers.py",
    "sent twice": "store/request_keys.py",
}
"""Where is it decided, which words one would search for, and the module that decides it."""


@cache
def first_sentences() -> dict[str, str]:
    """Returns the first paragraph of every module's docstring by the module's path."""
    found = {}
    for path in sorted(PACKAGE.rglob("*.py")):
        said = ast.get_docstring(ast.parse(path.read_text(encoding="utf-8"))) or ""
        found[path.relative_to(PACKAGE).as_posix()] = " ".join(said.partition("\n\n")[0].split())
    return found


@pytest.mark.parametrize("words", QUESTIONS)
def test_one_search_finds_the_one_module_that_decides(words: str) -> None:
    found = [path for path, said in first_sentences().items() if words in said.casefold()]
    assert found == [QUESTIONS[words]]


def test_every_module_says_in_a_sentence_what_it_is() -> None:
    silent = [
        path
        for path, said in first_sentences().items()
        if not said.endswith(".") and "migrations" not in path
    ]
    assert silent == []
