"""Every reference table says where it is from, and no two of its values can change places."""

import csv
from collections.abc import Iterable, Iterator, Mapping
from importlib.resources import files
from pathlib import Path

import pytest

from shopdesk.reference import tables
from shopdesk.reference.tables import STATUSES, TableFault, table
from tests.reference.published import Published, Rows, Swap, fails, published_checks, swaps
from tests.reference.recorded import recorded, unpublished

FOLDER = Path(str(files("shopdesk.reference")))
NAMES = sorted(path.stem for path in FOLDER.glob("*.csv"))
CHECKS = published_checks()


@pytest.mark.parametrize("name", NAMES)
def test_every_row_has_its_source_and_status(name: str) -> None:
    text = (FOLDER / f"{name}.csv").read_text(encoding="utf-8")
    header, *lines = list(csv.reader(text.splitlines()))
    assert header[-2:] == ["source", "status"]
    assert len(set(header)) == len(header)
    assert lines
    for line in lines:
        assert len(line) == len(header), line
        assert line[-1] in STATUSES, line
        assert len(line[-2]) >= 2, line
        assert all(cell == cell.strip() for cell in line), line
    assert len({tuple(line) for line in lines}) == len(lines), "a row is there twice"


@pytest.mark.parametrize("name", NAMES)
def test_memory_and_practice_are_not_called_published(name: str) -> None:
    wrong = [
        row
        for row in table(name)
        if row["status"] == "S" and ("memory" in row["source"] or "no source" in row["source"])
    ]
    assert wrong == []


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: f"{check.table}-{check.name}")
def test_table_agrees_with_its_publication(check: Published) -> None:
    assert check.source
    check.check(table(check.table))


@pytest.mark.parametrize("name", NAMES)
def test_values_without_publication_are_as_recorded(name: str) -> None:
    if_meant = "if the change is meant: python -m tests.reference.recorded"
    assert unpublished(table(name)) == recorded(name), if_meant


def uncaught(rows: Rows, checks: list[Published], kept: str) -> list[str]:
    """Returns the swaps that no check finds; published values need a published check."""

    def caught(swap: Swap) -> bool:
        if any(fails(check.check, swap.rows) for check in checks):
            return True
        return not swap.seen and unpublished(swap.rows) != kept

    return [swap.what for swap in swaps(rows) if not caught(swap)]


@pytest.mark.parametrize("name", NAMES)
def test_swapping_any_two_values_makes_a_check_fail(name: str) -> None:
    checks = [check for check in CHECKS if check.table == name]
    assert uncaught(table(name), checks, recorded(name)) == []


def test_a_check_that_looks_at_nothing_catches_no_swap() -> None:
    rows = [
        {"key": "a", "value": "1", "source": "x", "status": "S"},
        {"key": "b", "value": "2", "source": "x", "status": "S"},
    ]
    blind = Published("blind", "made", "none", lambda rows: None)
    assert len(uncaught(rows, [blind], "")) == 4


def test_every_check_is_of_a_table_there_is() -> None:
    assert {check.table for check in CHECKS} <= set(NAMES)


@pytest.mark.parametrize(
    ("lines", "wrong"),
    [
        ("key,source,status\na,,S\n", "line 2"),
        ("key,source,status\na,book,S\nb,book,X\n", "line 3"),
        ("key,value\na,1\n", "line 2"),
    ],
)
def test_a_table_without_source_or_status_is_not_read(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, lines: str, wrong: str
) -> None:
    (tmp_path / "made.csv").write_text(lines, encoding="utf-8")
    monkeypatch.setattr(tables, "files", lambda package: tmp_path)
    with pytest.raises(TableFault, match=wrong):
        table("made")


def out_of_order(rows: Iterable[Mapping[str, str]]) -> Iterator[str]:
    """Yields what a row has that is below its own low end or above its high end."""
    for row in rows:
        middle = row.get("value") or row.get("multiplier") or row.get("factor") or ""
        if row.get("low") and not float(row["low"]) <= float(middle) <= float(row["high"]):
            yield f"{next(iter(row.values()))}: {middle}"
        for column in row:
            low, high = row[column], row.get(f"{column.removesuffix('_low')}_high", "")
            if column.endswith("_low") and low and high and float(low) > float(high):
                yield f"{next(iter(row.values()))}: {column} {low}"


@pytest.mark.parametrize("name", NAMES)
def test_a_value_lies_between_its_ends(name: str) -> None:
    assert list(out_of_order(table(name))) == []


@pytest.mark.parametrize(
    "row",
    [
        {"name": "a", "value": "0.15", "low": "0.165", "high": "0.15"},
        {"name": "a", "value": "0.165", "low": "0.15", "high": "0.15"},
        {"name": "a", "knit_low": "23", "knit_high": "21"},
    ],
)
def test_a_value_beside_its_ends_is_found(row: dict[str, str]) -> None:
    assert len(list(out_of_order([row]))) == 1
