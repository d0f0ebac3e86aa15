"""What a verb does not need is not loaded: a fresh process tells which packages it imported."""

import ast
import subprocess
import sys
from pathlib import Path

import pytest

from tests.terminal.demo_shop import demo_ask, demo_shop
from tests.terminal.running import shopdesk
from tests.test_architecture import PACKAGE

NEITHER_WEB_NOR_PAPER = {
    "PIL", "flask", "flask_wtf", "jinja2", "openpyxl", "pypdf", "reportlab", "waitress",
    "werkzeug", "wtforms",
}  # fmt: skip
NOT_FOR_AN_ANSWER = NEITHER_WEB_NOR_PAPER | {
    "alembic", "babel.messages", "jsonschema", "mako", "pint", "platformdirs", "psycopg", "stdnum",
}  # fmt: skip
TERMINAL = PACKAGE / "terminal"


def told_at_the_end(what: str, *arguments: str | Path) -> list[str]:
    """Runs one verb in a process of its own; returns what an expression is at its very end."""
    script = (
        "import atexit, gc, sys\n"
        f"atexit.register(lambda: print(*{what}, file=sys.stderr))\n"
        "from shopdesk.terminal.main import main\n"
        f"main({[str(argument) for argument in arguments]!r})"
    )
    ended = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True)
    assert ended.returncode == 0, ended.stderr
    return ended.stderr.split()


def loaded_by(*arguments: str | Path) -> set[str]:
    """Returns the names of all modules that one verb imported."""
    return set(told_at_the_end("sys.modules", *arguments))


@pytest.fixture(scope="module")
def shop(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return demo_shop(tmp_path_factory.mktemp("shop") / "demo")


def imports_inside(code: str) -> list[str]:
    """Returns the functions of a module that import something themselves."""
    return [
        function.name
        for function in ast.walk(ast.parse(code))
        if isinstance(function, ast.FunctionDef)
        and any(isinstance(node, ast.Import | ast.ImportFrom) for node in ast.walk(function))
    ]


def test_only_what_is_always_loaded_imports_inside_functions() -> None:
    room = {path.stem: path.read_text(encoding="utf-8") for path in TERMINAL.glob("*.py")}
    assert {"answer", "holds", "main"} < room.keys()
    assert {name for name, code in room.items() if imports_inside(code)} == {"boundary"}


def test_asking_for_the_version_loads_no_verb() -> None:
    loaded = loaded_by("--version")
    assert "click" in loaded
    assert not loaded & (NOT_FOR_AN_ANSWER | {"babel", "pydantic", "sqlalchemy"})


def test_the_list_of_verbs_loads_no_command() -> None:
    loaded = loaded_by("--help")
    ours = {name for name in loaded if name.startswith("shopdesk.")}
    room = "shopdesk.terminal"
    assert ours == {room, f"{room}.boundary", f"{room}.cycles", f"{room}.main"}
    assert not loaded & (NOT_FOR_AN_ANSWER | {"babel", "pydantic", "sqlalchemy"})


def test_an_answer_waits_for_nothing_but_its_own(shop: Path) -> None:
    loaded = loaded_by("--data", shop, "answer", demo_ask("plain-pullover"))
    assert {"babel.numbers", "pydantic", "sqlalchemy"} <= loaded
    assert not loaded & NOT_FOR_AN_ANSWER
    used = {
        "shopdesk.services" + name
        for name in ("", ".answers", ".asks", ".own_yarns", ".unmet_asks")
    }
    assert {name for name in loaded if name.startswith("shopdesk.services")} == used
    assert not [name for name in loaded if name.startswith("shopdesk.patterns")]
    room = {name for name in loaded if name.startswith("shopdesk.terminal.")}
    used = {"answer", "boundary", "cycles", "main", "streams", "visiting"}
    assert room == {f"shopdesk.terminal.{name}" for name in used}


def test_pint_is_loaded_where_a_unit_is_not_metric(shop: Path) -> None:
    """So that the check above could fail: the same verb, with a pattern in yards."""
    assert "pint" in loaded_by("--data", shop, "answer", demo_ask("long-viscose-cardigan"))


def test_a_look_at_the_shelf_waits_for_neither_web_nor_paper(shop: Path) -> None:
    loaded = loaded_by("--data", shop, "shelf", "show", "OY-3101")
    assert not loaded & NEITHER_WEB_NOR_PAPER


def test_an_answer_does_not_stop_to_look_for_cycles(shop: Path) -> None:
    """Python's own threshold makes it over 200 searches; all objects are frozen at the end."""
    told = told_at_the_end(
        "(sum(one['collections'] for one in gc.get_stats()), gc.get_freeze_count())",
        *("--data", shop, "answer", demo_ask("plain-pullover")),
    )
    searches, frozen = map(int, told)
    assert searches < 50
    assert frozen > 100_000


@pytest.mark.parametrize(
    ("words", "given", "told"),
    [
        (("answer", "-"), b"wool", "standard input: this is not JSON"),
        (("shelf", "show", "X-1"), b"", "there is no yarn X-1; `shopdesk shelf find`"),
        (("hold", "OY-3101", "--customer"), b"Ada\nno number\n", "this is no telephone number"),
        (("import", "-", "--kind", "stock"), b"a,b\n1,2\n", "standard input: no column holds sku"),
        (("import", "--undo"), b"", "there is no import to undo"),
        (("passphrase",), b"short\n", "too easy to guess; write"),
    ],
)
def test_a_refusal_is_in_words_however_little_is_loaded(
    shop: Path, words: tuple[str, ...], given: bytes, told: str
) -> None:
    ended = shopdesk("--data", shop, *words, given=given)
    assert ended.returncode in (1, 2)
    assert told in ended.stderr.decode()
    assert b"Message(" not in ended.stderr
