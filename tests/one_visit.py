"""One visit by page and by command in a shop, as a process of its own: what each of them says.

`python -m tests.one_visit SHOP` reads what is wanted from standard input, as JSON, and prints what
came of it, as JSON. Started where another `shopdesk` comes first, it tries that one.
"""

import json
import sys
from collections.abc import Iterator
from dataclasses import replace
from html import unescape
from io import BytesIO
from pathlib import Path
from typing import Any
from urllib.parse import parse_qs, urlsplit

from click.testing import CliRunner
from pypdf import PdfReader
from sqlalchemy import Engine

from shopdesk.counter.application import create_app
from shopdesk.counter.forms.ask_form import ask_form_data
from shopdesk.shelf.writing import writing
from shopdesk.store.database import open_shelf
from shopdesk.store.settings import load_settings, save_settings
from shopdesk.terminal.main import main
from tests.counter.conftest import SECRET, Counter
from tests.pages import Page


def visit(shop: Path, wanted: dict[str, Any]) -> dict[str, Any]:
    """Returns what the pages and the commands gave for `wanted`: ask, slip, settings and text."""
    engine = open_shelf(f"sqlite:///{shop / 'shopdesk.sqlite3'}")
    counter = Counter(create_app(engine, SECRET).test_client())
    got: dict[str, Any] = {"forms": {}}
    if "stored" in wanted:
        _store(engine, wanted["stored"])
    if "settings" in wanted:
        got["forms"]["settings"] = _offered(counter, "/settings")
        answer = counter.fill("/settings", **wanted["settings"])
        got["settings"] = answer.status_code, unescape(answer.text)
    if "text" in wanted:
        got["read"] = _read(shop, wanted["text"])
    if "ask" in wanted:
        got |= _by_page(counter, wanted, got["forms"])
        if "refused" not in got:
            got["command"] = _by_command(shop, wanted, got["sku"])
    engine.dispose()
    return got


def _store(engine: Engine, values: dict[str, Any]) -> None:
    """Puts settings into the database that nobody checks, as an older shop may have them."""
    with writing(engine) as session:
        save_settings(session, replace(load_settings(session), **values))


def _by_page(counter: Counter, wanted: dict[str, Any], forms: dict[str, Any]) -> dict[str, Any]:
    forms["ask"] = _offered(counter, "/")
    typed = ask_form_data(wanted["ask"])
    told = counter.fill(**{name: typed.getlist(name) for name in typed})
    if told.status_code != 303:
        return {"refused": unescape(told.text)}
    ask = told.headers["Location"]
    answer = counter.look(ask)
    skus = [parse_qs(urlsplit(link).query)["sku"][0] for link in answer.links if "sku=" in link]
    for sku in skus:
        path = f"{ask}/yarn?sku={sku}"
        forms["yarn"] = _offered(counter, path)
        page = counter.look(path)
        sent = counter.fill(path, page, **_choice(page), **wanted.get("slip", {}))
        if sent.status_code == 303:
            slip = sent.headers["Location"]
            pdf = counter.client.get(f"{slip}.pdf").data
            return {
                "answer": answer.text,
                "sku": sku,
                "slip": counter.look(slip).text,
                "forms": forms | {"slip": _offered(counter, slip)},
                "pdf": _printed(pdf),
            }
    return {"answer": answer.text, "sku": skus[0], "slip": None, "last": unescape(sent.text)}


def _choice(page: Page) -> dict[str, Any]:
    boxes = [known for tag, known in page.tags if tag == "input"]
    colour = next(box["value"] for box in boxes if box.get("name") == "colour_0")
    told = [box["value"] for box in boxes if box.get("name") == "told"]
    return {"colour_0": colour, "staff": "MR", "told": told}


def _offered(counter: Counter, path: str) -> dict[str, list[str]]:
    """Returns what each drop-down of a page offers."""
    offered: dict[str, list[str]] = {}
    select = ""
    for tag, known in counter.look(path).tags:
        if tag == "select":
            select = known.get("name", "")
        if tag == "option":
            offered.setdefault(select, []).append(known.get("value", ""))
    return offered


def _by_command(shop: Path, wanted: dict[str, Any], sku: str) -> dict[str, Any]:
    ask, pdf = shop / "ask.json", shop / "slip.pdf"
    ask.write_text(json.dumps(wanted["ask"]), encoding="utf-8")
    answer = CliRunner().invoke(main, ["--data", str(shop), "answer", str(ask)])
    options = [f"--{name}={value}" for name, value in wanted.get("slip", {}).items()]
    arguments = ["slip", str(ask), "--yarn", sku, "--staff", "MR", "-o", str(pdf), *options]
    slip = CliRunner().invoke(main, ["--data", str(shop), *arguments, *_told(answer.stdout, sku)])
    return {
        "answer": answer.output,
        "slip": (slip.exit_code, slip.output),
        "pdf": _printed(pdf.read_bytes()) if pdf.exists() else None,
        "help": CliRunner().invoke(main, ["slip", "--help"]).output,
    }


def _told(answer: str, sku: str) -> Iterator[str]:
    """Yields the options that say that the yarn's flagged cautions were told."""
    groups = json.loads(answer)["groups"] if answer.startswith("{") else {}
    for candidate in (each for group in groups.values() for each in group):
        if candidate["sku"] == sku:
            yield from (f"--told={c['code']}" for c in candidate["cautions"] if c["flag"])


def _read(shop: Path, text: str) -> dict[str, Any]:
    pattern = shop / "pattern.txt"
    pattern.write_text(text, encoding="utf-8")
    done = CliRunner().invoke(main, ["--data", str(shop), "read", str(pattern)])
    return {"exit": done.exit_code, "output": done.output}


def _printed(pdf: bytes) -> dict[str, Any]:
    """Returns a PDF's words and the size of its first page in mm."""
    pages = PdfReader(BytesIO(pdf)).pages
    size = [round(float(side) / 72 * 25.4, 1) for side in pages[0].mediabox[2:]]
    return {"text": " ".join(page.extract_text() for page in pages), "size_mm": size}


if __name__ == "__main__":
    print(json.dumps(visit(Path(sys.argv[1]), json.load(sys.stdin))))
