"""What the package imports is what it declares: an installation without the tests' extra runs."""

import re
import sys
import tomllib
from importlib.metadata import packages_distributions

from tests.test_architecture import PACKAGE, ROOT, imported_names

PARTS_OF_FLASK = {"jinja2", "markupsafe", "werkzeug"}


def normal(name: str) -> str:
    """Returns a distribution's name as indexes compare it."""
    return re.sub(r"[-_.]+", "-", name).lower()


def imported_distributions() -> dict[str, str]:
    """Returns every distribution that some module imports, with that module."""
    known = packages_distributions()
    found: dict[str, str] = {}
    for path in PACKAGE.rglob("*.py"):
        for name in imported_names(path):
            top = name.partition(".")[0]
            if top != "shopdesk" and top not in sys.stdlib_module_names:
                for distribution in known.get(top, [f"unknown: {top}"])[:1]:
                    found[normal(distribution)] = str(path.relative_to(ROOT))
    return found


def test_the_package_declares_all_that_it_imports() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    declared = {normal(re.split(r"[\[<>=!~ ]", line)[0]) for line in project["dependencies"]}
    assert declared >= {"flask", "pint", "reportlab", "sqlalchemy", "wtforms"}
    missing = {d: m for d, m in imported_distributions().items() if d not in declared}
    assert {d: m for d, m in missing.items() if d not in PARTS_OF_FLASK} == {}
