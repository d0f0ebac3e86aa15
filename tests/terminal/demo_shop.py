"""The demo shop in a folder of its own, and its verbs run in it."""

import json
import shutil
from collections.abc import Callable
from functools import cache
from pathlib import Path
from typing import Any

from click.testing import CliRunner, Result

from shopdesk.bundled import bundled
from shopdesk.shop.location import find_place
from shopdesk.terminal.main import main
from shopdesk.upkeep.setup import set_up_shop

Run = Callable[..., Result]


def demo_shop(folder: Path) -> Path:
    """Sets the demo shop up in a new folder, which is returned."""
    place = find_place(str(folder), {})
    set_up_shop(place, demo=True)[0].dispose()
    return folder


def copied(shop: Path, folder: Path) -> Path:
    """Returns a copy of a shop that nobody has open."""
    shutil.copytree(shop, folder)
    return folder


def runner(shop: Path) -> Run:
    """Returns what runs one verb in a shop."""

    def running(*arguments: str | Path, given: bytes | str = b"") -> Result:
        return CliRunner().invoke(main, ["--data", str(shop), *map(str, arguments)], input=given)

    return running


@cache
def demo_asks() -> tuple[Path, ...]:
    """Returns the files of the example asks."""
    return tuple(sorted(bundled("seed_catalog/asks").glob("*.json")))


def demo_ask(name: str) -> Path:
    """Returns one example ask."""
    return bundled("seed_catalog/asks") / f"{name}.json"


def candidates(document: dict[str, Any]) -> list[dict[str, Any]]:
    """Returns every yarn of an answer document, best group first."""
    return [candidate for group in document["groups"].values() for candidate in group]


def document_of(done: Result) -> dict[str, Any]:
    """Returns the JSON document that a verb printed."""
    document: dict[str, Any] = json.loads(done.stdout_bytes)
    return document
