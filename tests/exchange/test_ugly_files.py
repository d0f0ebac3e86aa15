"""Every ugly file gets a clear answer, never a traceback, and never changes the shelf."""

import resource
from pathlib import Path

import pytest
from sqlalchemy import Engine

from shopdesk.exchange.problems import FileRefused
from shopdesk.shelf.writing import writing
from shopdesk.store.database import open_shelf
from tests.exchange.import_files import exported, looked_at
from tests.exchange.ugly_files import UGLY, Ugly
from tests.shelf.rows import put_yarn


@pytest.fixture
def shelf(empty_shelf_file: Path, tmp_path: Path) -> Engine:
    """A shelf on SQLite: reading a file does not depend on the database."""
    copied = tmp_path / "shelf.sqlite3"
    copied.write_bytes(empty_shelf_file.read_bytes())
    return open_shelf(f"sqlite:///{copied}")


@pytest.mark.parametrize("ugly", UGLY, ids=lambda ugly: ugly.name)
def test_an_ugly_file_is_told_clearly(shelf: Engine, tmp_path: Path, ugly: Ugly) -> None:
    if ugly.kind == "stock":
        with writing(shelf) as session:
            put_yarn(session, "U-1")
    path = tmp_path / ugly.name
    path.write_bytes(ugly.content())
    before = exported(shelf, "yarns")
    try:
        report = looked_at(shelf, path, ugly.kind)
        told = [str(refusal) for refusal in report.refusals]
    except FileRefused as refusal:
        told = [str(refusal)]
    assert ugly.said in " ".join(told), told
    assert bool(told) == bool(ugly.said), told
    assert all(line.isprintable() and len(line) < 1500 for line in told)
    assert exported(shelf, "yarns") == before
    shelf.dispose()


def test_a_line_of_50_mb_takes_little_memory(shelf: Engine, tmp_path: Path) -> None:
    path = tmp_path / "long.csv"
    with path.open("wb") as file:
        file.write(b"sku,name,price\n")
        for _ in range(50):
            file.write(b"x" * 1_000_000)
    before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    with pytest.raises(FileRefused, match="is longer than"):
        looked_at(shelf, path, "yarns")
    assert resource.getrusage(resource.RUSAGE_SELF).ru_maxrss - before < 10_000
    shelf.dispose()
