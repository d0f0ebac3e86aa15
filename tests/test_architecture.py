"""The rooms of the house: which may import which, how large things may grow, what lies where."""

import ast
import re
import shutil
import subprocess
import sys
from collections.abc import Iterator
from graphlib import CycleError, TopologicalSorter
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent
PACKAGE = ROOT / "shopdesk"
VISIBLE = {
    "DEVELOPERS.md",
    "README.md",
    "pyproject.toml",
    "seed_catalog",
    "shopdesk",
    "static",
    "templates",
    "tests",
}
LONGEST_FUNCTION = 30
LONGEST_MODULE = 350
# What may be longer, each with its reason; keep it short.
LONGER: dict[str, str] = {}


def lint_imports(folder: Path) -> subprocess.CompletedProcess[str]:
    """Checks the contracts of pyproject.toml on the package that lies in `folder`."""
    command = (
        "import sys; sys.path.insert(0, '');"
        "from importlinter.cli import lint_imports_command; lint_imports_command()"
    )
    return subprocess.run(
        [sys.executable, "-c", command, "--config", str(ROOT / "pyproject.toml"), "--no-cache"],
        cwd=folder,
        capture_output=True,
        text=True,
        timeout=120,
    )


def test_imports_run_one_way() -> None:
    linted = lint_imports(ROOT)
    assert linted.returncode == 0, linted.stdout + linted.stderr


PLANTED = {
    "reference": "from shopdesk import craft",
    "craft": "import shopdesk.shelf\nfrom shopdesk.parsing import quantities",
    "parsing": "import shopdesk.answering",
    "answering/model": "from shopdesk.answering import supply",
    "answering/supply": "from shopdesk.store import types\ndef later():\n    import sqlalchemy",
    "patterns/tokens": "from shopdesk.patterns import phrases",
    "store": "from shopdesk import shop",
    "shelf": "from shopdesk import services\nimport reportlab",
    "slips": "from shopdesk import counter",
    "services": "import click",
    "counter": "from shopdesk import terminal\nfrom sqlalchemy.orm import Session",
    "counter/views": "from shopdesk.store import database",
    "terminal": "from shopdesk import counter\nfrom shopdesk.store.tables.yarns import Yarn",
}
FOUND = [
    "shopdesk.reference.planted -> shopdesk.craft",
    "shopdesk.craft.planted -> shopdesk.shelf",
    "shopdesk.craft.planted -> shopdesk.parsing.quantities",
    "shopdesk.parsing.planted -> shopdesk.answering",
    "shopdesk.answering.model.planted -> shopdesk.answering.supply",
    "shopdesk.answering.supply.planted -> shopdesk.store.types",
    "shopdesk.answering.supply.planted -> sqlalchemy",
    "shopdesk.patterns.tokens.planted -> shopdesk.patterns.phrases",
    "shopdesk.store.planted -> shopdesk.shop",
    "shopdesk.shelf.planted -> shopdesk.services",
    "shopdesk.shelf.planted -> reportlab",
    "shopdesk.slips.planted -> shopdesk.counter",
    "shopdesk.services.planted -> click",
    "shopdesk.counter.planted -> shopdesk.terminal",
    "shopdesk.counter.planted -> sqlalchemy",
    "shopdesk.counter.views.planted -> shopdesk.store.database",
    "shopdesk.terminal.planted -> shopdesk.counter",
    "shopdesk.terminal.planted -> shopdesk.store.tables.yarns",
]


@pytest.fixture(scope="module")
def told_of_planted_imports(tmp_path_factory: pytest.TempPathFactory) -> str:
    """What is told of a copy of the package in which some rooms import what they must not."""
    copy = tmp_path_factory.mktemp("planted")
    shutil.copytree(PACKAGE, copy / "shopdesk", ignore=shutil.ignore_patterns("__pycache__"))
    for room, lines in PLANTED.items():
        (copy / "shopdesk" / room / "planted.py").write_text(lines + "\n")
    linted = lint_imports(copy)
    assert linted.returncode == 1, linted.stdout + linted.stderr
    return linted.stdout


@pytest.mark.parametrize("found", FOUND)
def test_a_planted_import_is_found(told_of_planted_imports: str, found: str) -> None:
    assert f"{found} (l." in told_of_planted_imports


def test_a_new_room_needs_its_place(tmp_path: Path) -> None:
    shutil.copytree(PACKAGE, tmp_path / "shopdesk", ignore=shutil.ignore_patterns("__pycache__"))
    (tmp_path / "shopdesk" / "attic").mkdir()
    (tmp_path / "shopdesk" / "attic" / "__init__.py").write_text("")
    linted = lint_imports(tmp_path)
    assert linted.returncode == 1
    assert "shopdesk.attic" in linted.stdout


def imported_names(path: Path) -> Iterator[str]:
    """Yields the full name of every module that a file imports, wherever in it."""
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{path} has a relative import"
            yield from (f"{node.module}.{alias.name}" for alias in node.names)


def circle_of_imports(package: Path) -> list[str]:
    """Returns modules that import each other in a circle, wherever in them, or none."""
    names = {
        ".".join(path.relative_to(package.parent).with_suffix("").parts): path
        for path in sorted(package.rglob("*.py"))
        if path.name != "__init__.py"
    }
    needs = {
        name: {
            known
            for imported in imported_names(path)
            for known in (imported, imported.rpartition(".")[0])
            if known in names
        }
        for name, path in names.items()
    }
    try:
        TopologicalSorter(needs).prepare()
    except CycleError as error:
        return list(error.args[1])
    return []


def test_no_modules_import_each_other_in_a_circle() -> None:
    assert circle_of_imports(PACKAGE) == []


def test_a_circle_of_imports_is_found(tmp_path: Path) -> None:
    (tmp_path / "hall").mkdir()
    (tmp_path / "hall" / "door.py").write_text("def open():\n    from hall.lamp import light\n")
    (tmp_path / "hall" / "lamp.py").write_text("from hall import door\n")
    assert set(circle_of_imports(tmp_path / "hall")) == {"hall.door", "hall.lamp"}


WAYS_IN = ("counter", "terminal")


def takes_a_session(function: ast.FunctionDef) -> bool:
    """Returns whether a function is handed a database session."""
    given = (*function.args.posonlyargs, *function.args.args, *function.args.kwonlyargs)
    return any(getattr(each.annotation, "id", "") == "Session" for each in given)


def functions_of_sessions(package: Path) -> set[str]:
    """Returns the full names of all public functions that are handed a session."""
    return {
        f"{'.'.join((package.name, *path.relative_to(package).with_suffix('').parts))}.{node.name}"
        for path in package.rglob("*.py")
        for node in ast.parse(path.read_text(encoding="utf-8")).body
        if isinstance(node, ast.FunctionDef) and takes_a_session(node)
    }


def sessions_held(package: Path) -> Iterator[str]:
    """Yields where a page or a command opens a session, or imports what is handed one."""
    functions = functions_of_sessions(package)
    handed = {*functions, *(name.rpartition(".")[0] for name in functions)}
    for path in (each for room in WAYS_IN for each in sorted((package / room).rglob("*.py"))):
        place = path.relative_to(package)
        yield from (f"{place}: {name}" for name in imported_names(path) if name in handed)
        tree = ast.parse(path.read_text(encoding="utf-8"))
        entered = [
            item.context_expr
            for node in ast.walk(tree)
            if isinstance(node, ast.With | ast.AsyncWith)
            for item in node.items
        ]
        for node in ast.walk(tree):
            if isinstance(node, ast.Call) and opens_a_session(node, node in entered):
                yield f"{place}: {ast.unparse(node)}"


def opens_a_session(call: ast.Call, entered: bool) -> bool:
    """True for a call as of `Shop.write()`, by whatever name; a file is read by `read()` too."""
    if not isinstance(call.func, ast.Attribute) or call.args or call.keywords:
        return False
    if call.func.attr in ("write", "begin", "connect"):
        return True
    of_a_shop = re.search(r"(?<![a-z])shop(\(\))?\.read\(\)$", ast.unparse(call))
    return call.func.attr == "read" and (entered or of_a_shop is not None)


def test_pages_and_commands_hold_no_session() -> None:
    assert list(sessions_held(PACKAGE)) == []


def test_a_session_in_a_page_or_a_command_is_found(tmp_path: Path) -> None:
    copy = tmp_path / "shopdesk"
    shutil.copytree(PACKAGE, copy, ignore=shutil.ignore_patterns("__pycache__"))
    (copy / "counter" / "views" / "planted.py").write_text(
        "from shopdesk.shelf.stock import sell\n"
        "def view():\n    with shop().write() as session:\n        sell(session)\n"
        "def other():\n    here = shop()\n"
        "    with here.in_branch('b').read():\n        here.write()\n"
        "    with engine().begin():\n        pass\n    return stream.read()\n"
    )
    (copy / "terminal" / "planted.py").write_text(
        "from shopdesk.shelf import stock\n"
        "def command(shop):\n    from shopdesk.store.settings import save_settings\n"
        "    writing = shop.write()\n"
        "    with open_shop() as shop, shop.read() as session:\n        pass\n"
    )
    found = list(sessions_held(copy))
    assert sorted(found) == sorted(
        [
            "counter/views/planted.py: shopdesk.shelf.stock.sell",
            "counter/views/planted.py: shop().write()",
            "counter/views/planted.py: here.in_branch('b').read()",
            "counter/views/planted.py: here.write()",
            "counter/views/planted.py: engine().begin()",
            "terminal/planted.py: shopdesk.shelf.stock",
            "terminal/planted.py: shopdesk.store.settings.save_settings",
            "terminal/planted.py: shop.write()",
            "terminal/planted.py: shop.read()",
        ]
    )


@pytest.mark.parametrize(
    ("room", "ours"),
    [
        ("craft", ("shopdesk.craft", "shopdesk.reference")),
        ("reference", ("shopdesk.reference",)),
    ],
)
def test_the_core_needs_only_the_standard_library(room: str, ours: tuple[str, ...]) -> None:
    foreign = [
        f"{path.relative_to(ROOT)} imports {name}"
        for path in sorted((PACKAGE / room).rglob("*.py"))
        for name in imported_names(path)
        if name.split(".")[0] not in sys.stdlib_module_names and not name.startswith(ours)
    ]
    assert foreign == []


# What measures is no test.
MEASURES = ("bench/", "mutants/")


def clock_readers(folder: Path) -> list[str]:
    """Returns the files below a folder that could look at a clock."""
    return [
        path.relative_to(folder).as_posix()
        for path in sorted(folder.rglob("*.py"))
        if any(name.split(".")[0] in ("time", "timeit") for name in imported_names(path))
    ]


def test_no_test_looks_at_a_clock() -> None:
    found = clock_readers(ROOT / "tests")
    assert [name for name in found if not name.startswith(MEASURES)] == []
    assert "bench/page.py" in found


def test_the_top_level_holds_the_eight_entries() -> None:
    assert {name.split("/")[0] for name in our_files() if not name.startswith(".")} == VISIBLE


def our_files() -> list[str]:
    """Returns the names of the project's files: those git knows, or all in an unpacked archive."""
    if not (ROOT / ".git").exists():
        return [str(path.relative_to(ROOT)) for path in ROOT.rglob("*") if path.is_file()]
    listed = subprocess.run(
        ["git", "ls-files", "--cached", "--others", "--exclude-standard"],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=True,
    )
    return [name for name in listed.stdout.splitlines() if (ROOT / name).is_file()]


def own_lines(node: ast.FunctionDef | ast.AsyncFunctionDef) -> int:
    """Returns how many lines a function has besides its decorators and docstring."""
    assert node.end_lineno is not None
    lines = node.end_lineno - node.lineno + 1
    first = node.body[0]
    if ast.get_docstring(node, clean=False) is not None and first.end_lineno is not None:
        lines -= first.end_lineno - first.lineno + 1
    return lines


def too_long(folder: Path) -> Iterator[str]:
    """Yields the places that are longer than a person reads in one go."""
    for path in sorted(folder.rglob("*.py")):
        text = path.read_text(encoding="utf-8")
        place = path.relative_to(folder.parent).as_posix()
        if len(text.splitlines()) > LONGEST_MODULE:
            yield place
        for node in ast.walk(ast.parse(text)):
            function = isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef)
            if function and own_lines(node) > LONGEST_FUNCTION:
                yield f"{place}:{node.name}"


def test_functions_and_modules_stay_short() -> None:
    assert [place for place in too_long(PACKAGE) if place not in LONGER] == []


def test_a_long_function_and_a_long_module_are_found(tmp_path: Path) -> None:
    room = tmp_path / "room"
    room.mkdir()
    body = "\n".join(f"    x = {n}" for n in range(LONGEST_FUNCTION))
    (room / "long.py").write_text(f"def long():\n{body}\n")
    (room / "longer.py").write_text("x = 1\n" * (LONGEST_MODULE + 1))
    (room / "short.py").write_text('def short():\n    """One.\n\n    Two.\n    """\n    return 1\n')
    assert list(too_long(room)) == ["room/long.py:long", "room/longer.py"]


# Names of modules that stand in several rooms, with the rooms and the reason.
SHARED_NAMES: dict[str, str] = {
    **dict.fromkeys(
        (
            "answers",
            "branches",
            "calibration",
            "holds",
            "leftovers",
            "morning",
            "one_more",
            "slips",
            "swatches",
        ),
        "a view, or a module of commands, bears the name of the verbs that it calls",
    ),
    **dict.fromkeys(("answer", "swatch"), "a command's module bears the name of its verb"),
    "customers": "what is kept about a customer: the page and the command",
    "errors": "what is refused in the core, and how the web tells it",
    "importing": "the importer, and its page",
    "settings": "the shop's settings, their table, and their page",
    "stock": "the stock as changed, its tables, and the commands on it",
}


def rooms_by_name(package: Path) -> tuple[dict[str, set[str]], dict[str, set[str]]]:
    """Returns the rooms in which each module's name and each public class's name stands."""
    modules: dict[str, set[str]] = {}
    classes: dict[str, set[str]] = {}
    for path in sorted(package.rglob("*.py")):
        room = path.relative_to(package).parts[0]
        if path.name == "__init__.py" or room == path.name or "migrations" in path.parts:
            continue
        modules.setdefault(path.stem, set()).add(room)
        for node in ast.parse(path.read_text(encoding="utf-8")).body:
            if isinstance(node, ast.ClassDef) and not node.name.startswith("_"):
                classes.setdefault(node.name, set()).add(room)
    return modules, classes


def shared(rooms: dict[str, set[str]]) -> set[str]:
    """Returns the names that stand in more than one room."""
    return {name for name, where in rooms.items() if len(where) > 1}


def test_a_name_means_one_thing_in_all_rooms() -> None:
    modules, classes = rooms_by_name(PACKAGE)
    assert shared(classes) == set()
    assert shared(modules) == SHARED_NAMES.keys()


def test_a_name_of_two_rooms_is_found(tmp_path: Path) -> None:
    for room in ("kitchen", "hall"):
        (tmp_path / room).mkdir()
        (tmp_path / room / "lamps.py").write_text("class Lamp: ...\nclass _Bulb: ...\n")
    (tmp_path / "hall" / "coats.py").write_text("class Coat: ...\n")
    modules, classes = rooms_by_name(tmp_path)
    assert shared(modules) == {"lamps"}
    assert shared(classes) == {"Lamp"}


# Words that one thing was called by beside its own, and the word it has (DEVELOPERS.md, glossary).
RETIRED_WORDS = {
    "brief": "summary",
    "homeless": "form errors",
    "journal": "log",
    "keptask": "AskInVisit",
    "nature": "wear and care",
    "outlook": "sort key bound",
    "put by": "hold",
    "ring": "search window",
    "stockroom": "index search",
    "trouble": "penalty",
}
# Where such a word means something else, or is stored under its old name.
NAMED_SO_STILL = {
    ("shopdesk/store/tables/yarns.py", "nature"): "the column's name in shops that are in use",
    ("shopdesk/store/tables/yarns.py", "brief"): "the table's name in shops that are in use",
    ("shopdesk/store/database.py", "journal"): "SQLite's own word",
    ("shopdesk/upkeep/backup.py", "journal"): "SQLite's own word",
}


def retired_words(root: Path) -> set[tuple[str, str]]:
    """Returns which code, page or English text, but for migrations, uses which retired word."""
    any_of = {
        word: re.compile(rf"(?<![a-z]){word}s?(?![a-z])", re.IGNORECASE) for word in RETIRED_WORDS
    }
    return {
        (path.relative_to(root).as_posix(), word)
        for files in ("shopdesk/**/*.py", "shopdesk/**/*.en.po", "templates/**/*.html", "README.md")
        for path in sorted(root.glob(files))
        if "migrations" not in path.parts
        for word, pattern in any_of.items()
        if pattern.search(path.read_text(encoding="utf-8"))
    }


def test_each_thing_is_called_by_its_own_word() -> None:
    assert retired_words(ROOT) == NAMED_SO_STILL.keys()


def test_a_retired_word_is_found(tmp_path: Path) -> None:
    (tmp_path / "shopdesk").mkdir()
    (tmp_path / "shopdesk" / "hall.py").write_text(
        "def _write_briefs(): ...  # No KeptAsk, a string"
    )
    (tmp_path / "README.md").write_text("Skeins are put by.")
    assert retired_words(tmp_path) == {
        ("README.md", "put by"),
        ("shopdesk/hall.py", "brief"),
        ("shopdesk/hall.py", "keptask"),
    }


# A folder of somebody's machine, and the hosts that a link in our files may lead to.
MACHINE_PATH = re.compile(
    r"(?<![\w.])/(?:home|opt|root|work|farm|Users)/\w|[A-Z]:\\Users", re.ASCII
)
LINK = re.compile(r"https?://([\w.-]+)")
PUBLICATION_HOSTS = {"json-schema.org", "www.w3.org", "doi.org"}
LOCAL_HOSTS = re.compile(
    r"localhost|127\.0\.0\.1|0\.0\.0\.0|(?:[\w-]+\.)*(?:example|test|invalid)|(?:[\w-]+\.)?example\.(?:com|org|net)"
)


def strangers(text: str) -> Iterator[str]:
    """Yields the machine paths and foreign hosts that a text names."""
    yield from (match[0] for match in MACHINE_PATH.finditer(text))
    for match in LINK.finditer(text):
        host = match[1].rstrip(".")
        if host not in PUBLICATION_HOSTS and not LOCAL_HOSTS.fullmatch(host):
            yield match[0]


def test_files_name_no_machine_and_no_foreign_host() -> None:
    found = {}
    for name in our_files():
        content = (ROOT / name).read_bytes()
        if b"\0" in content or Path(name).parent == Path("static/fonts"):
            continue
        named = list(strangers(content.decode("utf-8")))
        if named:
            found[name] = named
    assert found == {}


def test_a_machine_path_and_a_foreign_host_are_found() -> None:
    home = "/" + "home/somebody"
    text = f"see {home}/x, https:" + "//tracker.net/x and http://127.0.0.1:8000/health"
    assert list(strangers(text)) == [home[:7], "https:" + "//tracker.net"]
