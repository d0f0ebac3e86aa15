"""Every route with every method and whatever may be typed: no fault, no change without a token.

Hypothesis makes addresses, forms, bodies and files. All in all more than 5,000 requests are sent,
in batches, so that several workers can share them.
"""

import hashlib
import shutil
import sqlite3
from collections.abc import Iterator
from contextlib import closing
from dataclasses import dataclass, field
from io import BytesIO
from pathlib import Path
from typing import Any

import pytest
from flask import Flask
from flask.testing import FlaskClient
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st
from sqlalchemy import Engine
from werkzeug.routing import Rule
from werkzeug.test import TestResponse

from shopdesk.counter.application import create_app
from shopdesk.store.database import open_shelf
from tests.counter.asks import BABY_CARDIGAN, PULLOVER, token_of_answer
from tests.counter.conftest import SECRET, Counter
from tests.machine import examples
from tests.pages import Page

pytestmark = pytest.mark.slow

SKU = "OY-3105"
BATCHES = range(4)
ROUNDS, FILLED, LOOKED_AT = 6, 50, 20
FEWEST_REQUESTS = 5000
METHODS = ("GET", "HEAD", "POST", "PUT", "PATCH", "DELETE", "OPTIONS", "TRACE", "WOOL")
PAGES = (
    "/", "/asks/{token}", "/asks/{token}/yarn?sku=" + SKU, "/branches", "/customers",
    "/holds", "/holds/1", "/holds/new?slip=1", "/holds/new?sku=" + SKU, "/imports", "/left-over",
    "/morning", "/one-more", "/pattern", "/settings", "/calibration", "/shelf",
    "/shelf/yarn?sku=" + SKU,
    "/shelf/yarn/edit?sku=" + SKU, "/shelf/yarn/measure?sku=" + SKU, "/shelf/yarn/new",
    "/shelf/yarn/stock?sku=" + SKU, "/slips", "/slips/1", "/slips/1/returns",
    "/swatches/new?slip=1", "/shelf/check", "/shelf/unlabelled", "/swatches",
)  # fmt: skip
AWKWARD = (
    "", " ", "0", "-1", "1", "12", "3,5", "1 1/2", "1e9", "1e999", "NaN", "sNaN", "Infinity",
    "9" * 400, str(2**31), str(2**63), "0x10", "٣", "½", "二", "abc", "<script>alert(1)</script>",
    "'; DROP TABLE slip; --", "%s%n", "{{ 7*7 }}", "../../etc/passwd", "\x00", "a\x00b", "\ud7ff",
    "\u202e", "\u0301", "é" * 300, "x" * 20_000, "2026-11-25", "2026-02-30", "9999-12-31",
    "0001-01-01", "y", "on", "main", "apply", "remove-parts-99", "add-part", "\r\nSet-Cookie: a=b",
    "\N{BALL OF YARN}", SKU, "de", "A5", "[]", "{}", "null", '[["a", "b"]]', "=1+1",
)  # fmt: skip
TEXTS = st.one_of(st.sampled_from(AWKWARD), st.text(max_size=30))
QUERY = (
    "sku", "slip", "ask", "colour", "lot", "branch", "language", "paper", "back", "barcode"
)  # fmt: skip


@dataclass
class Shop:
    """A counter with something in every table that pages show, and every form of its pages."""

    app: Flask
    engine: Engine
    client: FlaskClient
    forms: list[tuple[str, dict[str, list[str]]]] = field(default_factory=list)
    values: dict[str, list[str]] = field(default_factory=dict)

    def rows(self) -> str:
        """Returns what tells one state of the whole database from another."""
        assert self.engine.url.database is not None
        with closing(sqlite3.connect(self.engine.url.database)) as opened:
            return hashlib.sha256("\n".join(opened.iterdump()).encode()).hexdigest()


def require_well(answer: TestResponse, asked: object) -> None:
    """Fails unless the answer is a proper one, whatever was asked."""
    assert answer.status_code < 500, (answer.status_code, asked)
    assert "default-src 'none'" in answer.headers["Content-Security-Policy"], asked
    assert answer.headers["X-Content-Type-Options"] == "nosniff", asked
    body = answer.get_data()
    assert b"Traceback (most recent" not in body, asked
    assert b"<script>alert(1)" not in body, asked
    assert b"{{ 49 }}" not in body, asked
    answer.close()


@pytest.fixture
def shop(few_yarns_file: Path, tmp_path: Path) -> Iterator[Shop]:
    engine = open_shelf(f"sqlite:///{shutil.copy(few_yarns_file, tmp_path / 'shop.sqlite3')}")
    app = create_app(engine, SECRET)
    counter = Counter(app.test_client())
    token = token_of_answer(counter, PULLOVER)
    fill_shop(counter, token)
    made = Shop(app, engine, counter.client)
    made.values = {
        "token": [token, token_of_answer(counter, BABY_CARDIGAN)],
        "number": ["1", "2"],
        "kind": ["yarns", "stock"],
        "filename": ["shopdesk.css"],
    }
    for page in PAGES:
        path = page.format(token=token)
        made.forms += forms_of(counter.look(path), path)
    yield made
    engine.dispose()


def fill_shop(counter: Counter, token: str) -> None:
    """Makes a slip and a hold from it."""
    path = f"/asks/{token}/yarn?sku={SKU}"
    page = counter.look(path)
    colour = next(
        known["value"]
        for tag, known in page.tags
        if tag == "input" and known.get("name") == "colour_0"
    )
    assert counter.fill(path, page, colour_0=colour, staff="MR").status_code == 303
    page = counter.look("/holds/new?slip=1")
    assert counter.fill("/holds/new", page, staff="MR", skeins="1").status_code == 303


def forms_of(page: Page, path: str) -> list[tuple[str, dict[str, list[str]]]]:
    """Returns where each form of a page that changes something is sent, with the page's boxes."""
    return [
        (known.get("action") or path, page.sent())
        for tag, known in page.tags
        if tag == "form" and known.get("method", "").lower() == "post"
    ]


def routes(app: Flask) -> list[Rule]:
    return sorted(app.url_map.iter_rules(), key=lambda rule: (rule.rule, rule.endpoint))


def path_to(data: Any, shop: Shop, rule: Rule) -> str:
    """Returns a route's address with real or made-up parts."""
    path = rule.rule
    for name in sorted(rule.arguments):
        real = st.sampled_from(shop.values.get(name, ["1"]))
        made = st.one_of(st.sampled_from(["0", "-1", str(2**31), str(2**70), "x", "%00"]), TEXTS)
        part = data.draw(st.one_of(real, made)) or "x"
        start, end = path.index("<"), path.index(">") + 1
        path = (
            path[:start] + part.replace("/", "-").replace("?", "-").replace("#", "-") + path[end:]
        )
    return path


def test_more_than_five_thousand_requests_are_sent(shop: Shop) -> None:
    rules = routes(shop.app)
    pages = [rule for rule in rules if "GET" in (rule.methods or ())]
    by_method = ROUNDS * len(rules) * len(METHODS)
    assert by_method + FILLED * len(shop.forms) + LOOKED_AT * len(pages) > FEWEST_REQUESTS


def few(usual: int) -> Any:
    return settings(
        max_examples=examples(usual),
        deadline=None,
        derandomize=False,
        database=None,
        phases=[Phase.generate],
        suppress_health_check=list(HealthCheck),
    )


@pytest.mark.parametrize("batch", BATCHES)
def test_every_route_with_every_method_and_no_token_changes_nothing(shop: Shop, batch: int) -> None:
    before, sent = shop.rows(), 0
    rules = routes(shop.app)[batch :: len(BATCHES)]

    @few(ROUNDS)
    @given(st.data())
    def ask(data: Any) -> None:
        nonlocal sent
        for rule in rules:
            path = path_to(data, shop, rule)
            query = data.draw(st.dictionaries(st.sampled_from(QUERY), TEXTS, max_size=3))
            form = data.draw(st.dictionaries(TEXTS, TEXTS, max_size=4))
            for method in METHODS:
                answer = shop.client.open(
                    path, method=method, query_string=query, data=form if method != "GET" else None
                )
                require_well(answer, (method, path, query, form))
                sent += 1

    ask()
    assert sent >= ROUNDS * len(rules) * len(METHODS)
    assert shop.rows() == before


@pytest.mark.parametrize("batch", BATCHES)
def test_every_form_takes_whatever_is_typed(shop: Shop, batch: int) -> None:
    forms, sent = shop.forms[batch :: len(BATCHES)], 0
    assert len(shop.forms) >= 20

    @few(FILLED)
    @given(st.data())
    def fill(data: Any) -> None:
        nonlocal sent
        for path, boxes in forms:
            names = st.sampled_from([*sorted(set(boxes) - {"csrf_token"}), "do", "more"])
            typed = data.draw(
                st.dictionaries(names, st.lists(TEXTS, min_size=1, max_size=2), max_size=5)
            )
            require_well(shop.client.post(path, data=boxes | typed), (path, typed))
            sent += 1

    fill()
    assert sent >= FILLED * len(forms)
    assert shop.client.get("/").status_code == 200


@pytest.mark.parametrize("batch", BATCHES)
def test_every_page_takes_any_query(shop: Shop, batch: int) -> None:
    rules = [rule for rule in routes(shop.app) if "GET" in (rule.methods or ())]
    rules = rules[batch :: len(BATCHES)]
    before = shop.rows()

    @few(LOOKED_AT)
    @given(st.data())
    def ask(data: Any) -> None:
        for rule in rules:
            path = path_to(data, shop, rule)
            query = data.draw(st.dictionaries(st.sampled_from(QUERY), TEXTS, max_size=4))
            require_well(shop.client.get(path, query_string=query), (path, query))

    ask()
    assert shop.rows() == before


def test_files_of_any_content_are_taken_or_refused(shop: Shop) -> None:
    token = shop.forms[0][1]["csrf_token"]
    starts = st.sampled_from([b"", b"sku,name,price\n", b"PK\x03\x04", b"\xff\xfe", b"%PDF-1.7\n"])

    @few(100)
    @given(st.data())
    def upload(data: Any) -> None:
        content = data.draw(starts) + data.draw(st.binary(max_size=200))
        sent = {
            "csrf_token": token,
            "kind": data.draw(st.sampled_from(["yarns", "colours", "stock", "deliveries", "x"])),
            "file": (BytesIO(content), data.draw(TEXTS).replace("\x00", "") or "a.csv"),
        }
        path = data.draw(st.sampled_from(["/imports", "/pattern"]))
        answer = shop.client.post(path, data=sent, content_type="multipart/form-data")
        require_well(answer, (path, content))
        if answer.status_code == 303:
            require_well(shop.client.get(answer.headers["Location"]), content)

    upload()


def test_bodies_that_are_no_form_are_refused(shop: Shop) -> None:
    before = shop.rows()
    kinds = st.sampled_from(
        ["application/json", "text/plain", "multipart/form-data", "multipart/form-data; boundary=x",
         "application/x-www-form-urlencoded", "", "x"]
    )  # fmt: skip
    json_texts = st.recursive(
        st.none() | st.booleans() | st.integers() | st.floats() | TEXTS,
        lambda inner: st.lists(inner, max_size=3) | st.dictionaries(TEXTS, inner, max_size=3),
        max_leaves=8,
    ).map(lambda value: repr(value).encode(errors="replace"))

    @few(150)
    @given(kinds, st.one_of(st.binary(max_size=200), json_texts), st.data())
    def send(kind: str, body: bytes, data: Any) -> None:
        path = data.draw(st.sampled_from(shop.forms))[0]
        answer = shop.client.post(path, data=body, content_type=kind)
        require_well(answer, (path, kind, body))
        assert answer.status_code >= 400

    send()
    assert shop.rows() == before
