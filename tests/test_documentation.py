"""The README and DEVELOPERS.md against the code: what is there is documented, and the reverse."""

import re
import tomllib
from collections.abc import Iterator

import click
import pytest

from shopdesk.reference.languages import complete_languages
from shopdesk.slips.papers import papers
from shopdesk.store.settings import ShopSettings
from shopdesk.terminal.main import VERBS, main
from tests.test_architecture import PACKAGE, ROOT

README = (ROOT / "README.md").read_text(encoding="utf-8")
DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
VARIABLE = re.compile(r"SHOPDESK_[A-Z_]*[A-Z]")
OPTION = re.compile(r"`(--?[a-z][a-z-]*)")
COMMON_OPTIONS = {"--help", "-h", "--version"}


def commands() -> Iterator[tuple[str, click.Command]]:
    """Yields the command itself as '' and every verb by its name."""
    context = click.Context(main)
    yield "", main
    for verb in VERBS:
        command = main.get_command(context, verb)
        assert command is not None
        yield verb, command


def section_of(verb: str) -> str:
    """Returns what the README says of one verb, or of all of them for ''."""
    heading = f"### `shopdesk {verb}`" if verb else "## In the terminal"
    assert heading in README, f"README.md has no section {heading}"
    after = README.split(heading, 1)[1]
    return re.split(r"^##+ ", after, maxsplit=1, flags=re.MULTILINE)[0]


def options_of(command: click.Command) -> set[str]:
    """Returns every spelling of every option, those of a group's commands too."""
    options = [each for each in command.params if isinstance(each, click.Option)]
    own = {name for option in options for name in option.opts + option.secondary_opts}
    parts = command.commands.values() if isinstance(command, click.Group) else ()
    return own.union(*map(options_of, parts))


@pytest.mark.parametrize("verb", ["", *VERBS])
def test_every_option_of_a_verb_is_in_its_section(verb: str) -> None:
    section = section_of(verb)
    for name in options_of(dict(commands())[verb]) - COMMON_OPTIONS:
        assert f"`{name}" in section, f"{name} of `shopdesk {verb}` is not documented"


@pytest.mark.parametrize("verb", ["", *VERBS])
def test_every_option_in_a_section_exists(verb: str) -> None:
    known = options_of(dict(commands())[verb]) | COMMON_OPTIONS
    assert set(OPTION.findall(section_of(verb))) <= known | options_of(main)


def test_every_verb_in_the_readme_exists() -> None:
    named = set(re.findall(r"shopdesk ([a-z]+)", README))
    assert named == set(VERBS)


@pytest.mark.parametrize("verb", list(VERBS))
def test_every_option_has_help(verb: str) -> None:
    for option in dict(commands())[verb].params:
        assert not isinstance(option, click.Option) or option.help


def test_every_environment_variable_is_documented_and_exists() -> None:
    read = {
        name
        for path in PACKAGE.rglob("*.py")
        for name in VARIABLE.findall(path.read_text(encoding="utf-8"))
    }
    assert set(VARIABLE.findall(README)) == read


def test_every_dependency_has_its_reason() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    needed = [*project["dependencies"], *project["optional-dependencies"]["test"]]
    reasons = DEVELOPERS.split("## What we depend on, and why")[1].split("\n## ")[0].casefold()
    for requirement in needed:
        name = re.split(r"[\[<>= ]", requirement)[0].casefold()
        assert name in reasons or name.startswith("types-"), f"no reason is given for {name}"


def test_every_room_is_described() -> None:
    rooms = {path.parent.name for path in PACKAGE.glob("*/__init__.py")}
    described = set(re.findall(r"^\| `shopdesk/(\w+)/`", DEVELOPERS, flags=re.MULTILINE))
    assert described == rooms


def test_every_setting_is_documented_with_its_usual_value() -> None:
    rows = re.findall(r"^\| `(\w+)` \| ?(.*?) ?\|", README, flags=re.MULTILINE)
    documented = {name: value.strip() for name, value in rows if not name.isupper()}
    assert documented == ShopSettings().texts()


def test_every_list_of_papers_is_the_tables() -> None:
    lists = re.findall(r"^\| `(?:--)?paper` .*?(`A5`.*?) \|$", README, flags=re.MULTILINE)
    assert [re.findall(r"`([\w-]+)`", each) for each in lists] == 2 * [list(papers())]


def test_every_list_of_languages_is_the_tables() -> None:
    lists = re.findall(r"`en`, .*?(?= \||;| for)", README)
    assert len(lists) >= 4
    for each in lists:
        assert re.findall(r"`([\w-]+)`", each) == list(complete_languages())


def test_every_test_that_developers_are_pointed_to_exists() -> None:
    named = re.findall(r"`(tests/[\w/]+\.py)::(\w+)`", DEVELOPERS)
    assert len(named) > 20
    for file, function in named:
        assert f"def {function}(" in (ROOT / file).read_text(encoding="utf-8"), (file, function)
