"""The dry run of a table says the same on the page and by the command, and changes nothing."""

import json
import re
from collections.abc import Iterator
from html import unescape
from io import BytesIO
from pathlib import Path
from typing import Any

import pytest

from shopdesk.counter.views.importing import MOST_LINES
from shopdesk.exchange.reports import MOST_SHOWN
from shopdesk.wording.formatting import capital
from tests.counter.conftest import PATIENCE_SECONDS
from tests.services.slips_at_counter import stock_shelf
from tests.services.two_copies import Kept, TwoCopies, kept, two_copies

# T-1 is there with 20 skeins of lot M2231 of colour 14; 036000291452 is the worked example of
# the GS1 General Specifications.
TABLES = {
    "yarns": "sku;name;price;put up g;shelf\nT-1;Fell;4,50;50;A1\nT-2;Beck;6;100;A2\n;Tarn;5;;\n"
    "T-3;Gill;dear;heavy;\n",
    "colours": "sku,colour,name,family,gtin\nT-1,14,Moss & Fern,green,036000291452\n"
    "T-1,15,Rust,red,\nT-9,01,Sky,blue,\nT-1,16,Plum,plaid,036000291453\n",
    "stock": "sku,colour,lot,skeins\nT-1,14,M2231,7\nT-1,14,M2240,3\nT-1,14,N9,2\nT-1,14,N8,some\n"
    "T-1,99,N7,1\n",
    "deliveries": "sku,colour,lot,skeins,delivery\nT-1,14,M2231,4,D-1\nT-1,14,N9,-2,D-1\n",
}
REFUSED = {
    "no table of ours": ("stock", b"shop,till\n1,2\n"),
    "no table at all": ("yarns", b"%PDF-1.7"),
    "no lines": ("colours", b""),
}


@pytest.fixture
def copies(
    tmp_path: Path, empty_shelf_file: Path, monkeypatch: pytest.MonkeyPatch
) -> Iterator[TwoCopies]:
    monkeypatch.setattr("shopdesk.counter.views.importing.SECONDS_TO_WAIT", PATIENCE_SECONDS)
    made = two_copies(tmp_path, empty_shelf_file, stock_shelf)
    yield made
    made.page_shelf.dispose()
    made.command_shelf.dispose()


def looked_at(copies: TwoCopies, kind: str, content: bytes, **typed: str) -> tuple[int, str]:
    """Looks at a file on the page; returns the status and the text of what it shows."""
    client, token = copies.counter.client, copies.counter.look("/imports").held("csrf_token")
    sent = {"csrf_token": token, "kind": kind, "file": (BytesIO(content), "t.csv"), **typed}
    answer = client.get(client.post("/imports", data=sent).headers["Location"])
    return answer.status_code, answer.text


def words(html: str) -> str:
    return " ".join(unescape(re.sub(r"<[^>]*>", " ", html)).split())


def rows(page: str, caption: str) -> list[list[str]]:
    """Returns the cells of each row of the table of this caption, as words."""
    _, found, rest = page.partition(caption)
    body = rest.partition("</table>")[0] if found else ""
    return [
        [words(cell) for cell in re.findall(r"<t[hd][^>]*>(.*?)</t[hd]>", row, re.DOTALL)]
        for row in re.findall(r'<tr><th scope="row">.*?</tr>', body, re.DOTALL)
    ]


def changed(change: dict[str, Any]) -> list[str]:
    """Returns the row that a change of the command's report is on the page."""
    fields = [
        f"{one['field'].replace('_', ' ')}: "
        + ("" if change["new"] else f"{one['from'] or 'empty'} → ")
        + (one["to"] or "empty")
        for one in change["fields"]
    ]
    what = change["what"] + (" new" if change["new"] else "")
    return [f"Line {change['line']}", what, "; ".join(fields)]


def refused(one: dict[str, Any]) -> list[str]:
    """Returns the row that a refusal of the command's report is on the page."""
    said = [capital(one["wrong"]), capital(one["right"])]
    return [f"Line {one['line']}", one["column"], one["value"], *said]


def shelf_of(held: Kept) -> Kept:
    """Returns what is held but the uploads, which only a page has."""
    return {name: rows for name, rows in held.items() if name != "import_upload"}


def no_shelf_is_changed(copies: TwoCopies) -> bool:
    both = kept(copies.page_shelf), kept(copies.command_shelf)
    return all(shelf_of(one) == shelf_of(copies.first) for one in both)


def same_report(copies: TwoCopies, folder: Path, kind: str, branch: str) -> dict[str, Any]:
    """Looks at a table of a kind both ways, and returns the report that they agree on."""
    (folder / "t.csv").write_text(TABLES[kind], encoding="utf-8")
    status, page = looked_at(copies, kind, TABLES[kind].encode(), branch=branch)
    command = ("import", str(folder / "t.csv"), "--kind", kind, "--branch", branch)
    done = copies.command(*command, "--json")
    assert (status, done.exit_code) == (200, 1)
    report: dict[str, Any] = json.loads(done.stdout)
    assert rows(page, "Lines that change the shelf") == [changed(one) for one in report["changes"]]
    assert rows(page, "Lines that cannot be taken") == [refused(one) for one in report["refusals"]]
    counts = ", ".join(f"{report[n]} {n}" for n in ("new", "changed", "unchanged", "refused"))
    unused = [one["heading"] for one in report["columns"] if one["field"] is None]
    told = words(page)
    assert f"{capital(report['read_as'])}. {counts}." in told
    assert (f"Left out: {', '.join(unused)}." in told) is bool(unused)
    lines = copies.command(*command).stdout.splitlines()
    assert (lines[0], lines[-1]) == (f"t.csv: {report['read_as']}", counts)
    assert len(lines) == 2 + bool(unused) + len(report["changes"]) + len(report["refusals"])
    assert no_shelf_is_changed(copies)
    return report


@pytest.mark.compares("table_files.look_at_table")
@pytest.mark.parametrize(
    ("kind", "branch", "counts"),
    [
        # New, changed, unchanged and refused lines, counted by hand; what is delivered is new.
        ("yarns", "main", (1, 1, 0, 2)),
        ("colours", "main", (1, 1, 0, 2)),
        ("stock", "main", (1, 1, 1, 2)),
        ("stock", "north", (3, 0, 0, 2)),
        ("stock", "moon", (0, 0, 0, 5)),
        ("deliveries", "main", (1, 0, 0, 1)),
    ],
)
def test_a_table_is_looked_at_the_same(
    copies: TwoCopies, tmp_path: Path, kind: str, branch: str, counts: tuple[int, ...]
) -> None:
    report = same_report(copies, tmp_path, kind, branch)
    assert (report["new"], report["changed"], report["unchanged"], report["refused"]) == counts


@pytest.mark.compares("table_files.look_at_table")
def test_a_table_of_many_lines_is_counted_the_same(copies: TwoCopies, tmp_path: Path) -> None:
    count = MOST_SHOWN + 20
    text = "sku,name,price\n" + "".join(f"M-{n},Plain,5\n" for n in range(count))
    (tmp_path / "t.csv").write_text(text, encoding="utf-8")
    _, page = looked_at(copies, "yarns", text.encode())
    report = copies.said("import", str(tmp_path / "t.csv"), "--kind", "yarns", "--json")
    assert (report["new"], len(report["changes"])) == (count, MOST_SHOWN)
    shown = rows(page, "Lines that change the shelf")
    assert shown == [changed(one) for one in report["changes"][:MOST_LINES]]
    assert f"{count} new, 0 changed, 0 unchanged, 0 refused." in words(page)
    assert no_shelf_is_changed(copies)


@pytest.mark.compares("table_files.look_at_table")
@pytest.mark.parametrize("why", REFUSED)
def test_what_cannot_be_looked_at_is_refused_in_the_same_words(
    copies: TwoCopies, tmp_path: Path, why: str
) -> None:
    kind, content = REFUSED[why]
    (tmp_path / "t.csv").write_bytes(content)
    status, page = looked_at(copies, kind, content)
    done = copies.command("import", str(tmp_path / "t.csv"), "--kind", kind)
    told = done.stderr.strip().removeprefix("shopdesk: t.csv: ")
    assert (status, done.exit_code, done.stdout) == (422, 2, "")
    assert capital(told) in words(page)
    assert no_shelf_is_changed(copies)
