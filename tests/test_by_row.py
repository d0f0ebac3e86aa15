"""Additions that need rows and texts only: made on a copy, then asked for, shown and printed."""

import json
from pathlib import Path
from typing import Any

import pytest

from shopdesk.bundled import bundled
from tests.changed_copy import ChangedCopy, changed_copy


@pytest.fixture
def copy(tmp_path: Path, few_yarns_file: Path) -> ChangedCopy:
    return changed_copy(tmp_path, few_yarns_file)


def an_ask(example: str = "plain-pullover", **changed: Any) -> dict[str, Any]:
    path = bundled("seed_catalog/asks") / f"{example}.json"
    ask: dict[str, Any] = json.loads(path.read_text(encoding="utf-8"))
    return ask | changed


def test_a_paper_is_a_row(copy: ChangedCopy) -> None:
    # ISO 216: A4 is 210 mm by 297 mm, B5 is 176 mm by 250 mm.
    papers = copy.table("papers")
    lines = papers.read_text(encoding="utf-8").splitlines(keepends=True)
    papers.write_text("".join(line for line in lines if not line.startswith("A4,")))
    margins = {"side_mm": 12, "top_mm": 12, "foot_mm": 14}
    sheet = {"key": "A4", "name": "Large A4", "width_mm": 210, "height_mm": 297}
    copy.add_row("papers", **sheet, **margins, body_pt=9, **{"for": "both"})
    other = {"key": "B5", "name": "B5", "width_mm": 176, "height_mm": 250}
    copy.add_row("papers", **other, **margins, body_pt=8, **{"for": "slip"})
    told = copy.visit(ask=an_ask(), slip={"paper": "A4"}, settings={"paper": "B5"})
    for page in ("settings", "yarn", "slip"):
        assert {"A4", "B5"} <= set(told["forms"][page]["paper"])
    assert told["settings"][0] == 303
    assert told["pdf"]["size_mm"] == told["command"]["pdf"]["size_mm"] == [210, 297]
    assert "Breakwater pullover" in told["pdf"]["text"]
    assert "A4, B5" in " ".join(told["command"]["help"].split())
