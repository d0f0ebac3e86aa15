"""A copy of the package whose tables and texts a test changes, and visits to a shop run with it."""

import csv
import json
import os
import shutil
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from tests.test_architecture import ROOT

PATIENCE_SECONDS = 180


@dataclass(frozen=True)
class ChangedCopy:
    """A checkout's package and folders in `root`, and a shop with the demo catalog in `shop`."""

    root: Path
    shop: Path

    def table(self, name: str) -> Path:
        """Returns the file of a reference table."""
        return self.root / f"shopdesk/reference/{name}.csv"

    def add_row(self, table: str, /, **cells: object) -> None:
        """Adds a row to a reference table; its source and status say that it is made up."""
        path = self.table(table)
        with path.open(encoding="utf-8", newline="") as file:
            header = next(csv.reader(file))
        row = {"source": "made up for a test", "status": "CP"} | cells
        assert set(row) <= set(header), set(row) - set(header)
        with path.open("a", encoding="utf-8", newline="") as file:
            csv.writer(file, lineterminator="\n").writerow(row.get(name, "") for name in header)

    def add_text(self, topic: str, language: str, code: str, text: str) -> None:
        """Adds a text to one of the texts' files."""
        path = self.root / f"shopdesk/wording/texts/{topic}.{language}.po"
        written = path.read_text(encoding="utf-8")
        path.write_text(f'{written}\nmsgid "{code}"\nmsgstr "{text}"\n', encoding="utf-8")

    def add_terms(self, code: str, en: str, de: str, fr: str) -> None:
        """Adds a word of the trade in the three languages."""
        for language, text in (("en", en), ("de", de), ("fr", fr)):
            self.add_text("terms", language, f"terms.{code}", text)

    def add_words(self, *lines: str) -> None:
        """Adds lines to the words that patterns are read by."""
        path = self.root / "shopdesk/patterns/tokens/words.csv"
        with path.open("a", encoding="utf-8") as file:
            file.writelines(f"{line}\n" for line in lines)

    def visit(self, **wanted: Any) -> dict[str, Any]:
        """Returns what page and command give for `wanted`; see tests/one_visit.py."""
        done = self.run("tests.one_visit", str(self.shop), given=json.dumps(wanted))
        assert done.returncode == 0, done.stderr
        told: dict[str, Any] = json.loads(done.stdout)
        return told

    def tests(self, *names: str) -> subprocess.CompletedProcess[str]:
        """Runs tests of the checkout on the copy."""
        return self.run("pytest", "-q", "-p", "no:cacheprovider", *names)

    def run(
        self, module: str, *arguments: str, given: str = ""
    ) -> subprocess.CompletedProcess[str]:
        """Runs a module with the copy's package before the checkout's."""
        return subprocess.run(
            [sys.executable, "-m", module, *arguments],
            cwd=self.root,
            env=os.environ | {"PYTHONPATH": str(self.root)},
            input=given,
            capture_output=True,
            text=True,
            timeout=PATIENCE_SECONDS,
        )


def changed_copy(folder: Path, shelf: Path) -> ChangedCopy:
    """Returns a copy in a new folder, and a shop whose shelf is a copy of `shelf`."""
    root, shop = folder / "copy", folder / "visited"
    root.mkdir()
    for name in ("shopdesk", "templates", "static", "seed_catalog", "tests"):
        shutil.copytree(ROOT / name, root / name, ignore=shutil.ignore_patterns("__pycache__"))
    shutil.copy2(ROOT / "pyproject.toml", root)
    shop.mkdir()
    shutil.copy(shelf, shop / "shopdesk.sqlite3")
    return ChangedCopy(root, shop)
