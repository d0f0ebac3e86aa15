"""Headers, cookies, host names, origins, and pages for what goes wrong."""

import pytest
from flask import Flask, request
from sqlalchemy import Engine

from shopdesk.counter.application import BIGGEST_REQUEST, create_app
from shopdesk.counter.security import host_name
from tests.counter.conftest import SECRET, Counter


@pytest.mark.parametrize("path", ["/", "/nothing-here", "/static/shopdesk.css"])
def test_every_answer_carries_the_headers(counter: Counter, path: str) -> None:
    with counter.client.get(path) as answer:
        headers = answer.headers
    policy = headers["Content-Security-Policy"]
    assert "default-src 'none'" in policy
    assert "frame-ancestors 'none'" in policy
    assert "unsafe" not in policy
    assert headers["X-Content-Type-Options"] == "nosniff"
    assert headers["Referrer-Policy"] == "same-origin"


def test_pages_are_not_stored_by_the_browser(counter: Counter) -> None:
    assert counter.client.get("/").headers["Cache-Control"] == "no-store"


def test_the_cookie_is_for_this_site_and_not_for_scripts(counter: Counter) -> None:
    cookie = counter.client.get("/").headers["Set-Cookie"]
    assert "HttpOnly" in cookie
    assert "SameSite=Strict" in cookie
    assert "Secure" not in cookie


def test_the_cookie_is_secure_under_tls(shelf: Engine) -> None:
    client = create_app(shelf, SECRET, over_tls=True).test_client()
    assert "Secure" in client.get("/").headers["Set-Cookie"]


@pytest.mark.parametrize("host", ["shop.example", "localhost.shop.example", "", "a b", "127.0.0.2"])
def test_a_foreign_host_name_is_refused(counter: Counter, host: str) -> None:
    assert counter.client.get("/", headers={"Host": host}).status_code == 400


@pytest.mark.parametrize("host", ["localhost", "LOCALHOST:5000", "127.0.0.1:80", "[::1]:8000"])
def test_the_loopback_names_are_answered(counter: Counter, host: str) -> None:
    assert counter.client.get("/", headers={"Host": host}).status_code == 200


@pytest.mark.parametrize(
    ("header", "name"), [("A.b:1", "a.b"), ("[::1]", "[::1]"), ("[::1]:5", "[::1]"), ("", "")]
)
def test_the_port_is_not_part_of_the_name(header: str, name: str) -> None:
    assert host_name(header) == name


def test_a_change_without_a_token_is_refused(counter: Counter) -> None:
    assert counter.client.post("/", data={"stitches": "22"}).status_code == 400


@pytest.mark.parametrize("origin", ["http://shop.example", "null", "http://localhost:1"])
def test_a_change_from_another_site_is_refused(counter: Counter, origin: str) -> None:
    sent = counter.look().sent()
    answer = counter.client.post("/", data=sent, headers={"Origin": origin})
    assert answer.status_code == 403


def test_a_change_from_this_site_is_taken(counter: Counter) -> None:
    sent = {**counter.look().sent(), "stitches": "22"}
    answer = counter.client.post("/", data=sent, headers={"Origin": "http://localhost"})
    assert answer.status_code == 303


def test_a_way_that_a_page_does_not_have_is_refused(counter: Counter) -> None:
    answer = counter.client.delete("/")
    assert answer.status_code == 405
    assert "GET" in answer.headers["Allow"]


def test_too_much_is_refused(counter: Counter) -> None:
    answer = counter.client.post("/", data={"title": "x" * (BIGGEST_REQUEST + 1)})
    assert answer.status_code == 413
    assert "too much" in answer.text


def test_a_fault_is_told_without_its_inside(app: Flask) -> None:
    @app.get("/fault")
    def fault() -> str:
        raise RuntimeError("a secret of the inside")

    answer = app.test_client().get("/fault")
    assert answer.status_code == 500
    assert "our side" in answer.text
    assert "secret" not in answer.text
    assert "Traceback" not in answer.text


def test_the_log_of_a_fault_has_no_values(app: Flask, caplog: pytest.LogCaptureFixture) -> None:
    @app.get("/fault")
    def fault() -> str:
        raise RuntimeError(f"Mrs {request.args['name']}")

    app.test_client().get("/fault?name=Weaver")
    assert "RuntimeError" in caplog.text
    assert "in fault" in caplog.text
    assert "Weaver" not in caplog.text


@pytest.mark.parametrize("kind", ["application/json", "text/plain", "application/xml"])
def test_a_body_that_is_no_form_is_refused(counter: Counter, kind: str) -> None:
    answer = counter.client.post("/holds/new", data=b"{", content_type=kind)
    assert answer.status_code == 415
    assert "cannot be read" in answer.text


def test_a_stale_form_about_a_yarn_that_is_not_there_is_told(counter: Counter) -> None:
    answer = counter.client.post("/swatches/new", data={"sku": "none"})
    assert answer.status_code == 404
    assert "no yarn" in answer.text
