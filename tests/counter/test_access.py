"""Signing in: what is shown before, what a session may do, and how it ends."""

import hashlib
from pathlib import Path

import pytest
from flask import Flask
from sqlalchemy import Engine, func, select
from werkzeug.test import TestResponse

from shopdesk.counter.access import FREE_TRIES, Backoff, StaffAccess, path_within
from shopdesk.counter.application import create_app
from shopdesk.shop.location import DataLocation, find_place
from shopdesk.shop.passphrase import Passphrase, keep_passphrase, remove_passphrase
from shopdesk.store.database import reading
from shopdesk.store.models import Base
from tests.counter.clocks import Clock
from tests.counter.conftest import SECRET, Counter
from tests.pages import read_page

TYPED = "pleaseletmein"
# RFC 7914, section 12, third test vector.
KEPT = Passphrase(
    16384,
    8,
    1,
    "SodiumChloride",
    "7023bdcb3afd7348461c06cd81fd38ebfda8fbba904f8e3ea9b543f6545da1f2"
    "d5432955613f0fcf62d49705242a9af9e61e85dc0d651e40dfcf017b45575887",
)
NOT_SHUT = {"/static/<path:filename>", "/sign-in", "/health"}


@pytest.fixture
def place(tmp_path: Path) -> DataLocation:
    made = find_place(str(tmp_path / "shop"), {})
    keep_passphrase(made, KEPT)
    return made


@pytest.fixture
def shut(shelf: Engine, place: DataLocation) -> Flask:
    return create_app(shelf, SECRET, door=StaffAccess(place))


@pytest.fixture
def at_door(shut: Flask) -> Counter:
    return Counter(shut.test_client())


def sign_in(counter: Counter, typed: str = TYPED, path: str = "/sign-in") -> TestResponse:
    page = counter.look(path)
    return counter.fill("/sign-in", page, passphrase=typed)


def rows(engine: Engine) -> dict[str, int]:
    with reading(engine) as session:
        return {
            name: session.scalar(select(func.count()).select_from(table)) or 0
            for name, table in Base.metadata.tables.items()
        }


def test_every_page_but_three_wants_staff(shut: Flask, shelf: Engine) -> None:
    client, before = shut.test_client(), rows(shelf)
    asked = set()
    for rule in shut.url_map.iter_rules():
        if rule.rule in NOT_SHUT:
            continue
        values = dict.fromkeys(rule.arguments, "1")
        with shut.test_request_context():
            path = rule.build(values)[1]  # type: ignore[index]
        for method in (rule.methods or set()) - {"OPTIONS"}:
            answer = client.open(path, method=method)
            expected = 303 if method in ("GET", "HEAD") else 401
            assert answer.status_code == expected, (method, path)
            asked.add(rule.rule)
    assert len(asked) > 15
    assert rows(shelf) == before


def test_a_page_that_is_not_there_is_no_way_in(at_door: Counter) -> None:
    assert at_door.client.get("/nothing-here").status_code == 303


def test_the_right_passphrase_leads_to_the_wanted_page(at_door: Counter) -> None:
    wanted = at_door.client.get("/slips?x=1")
    assert wanted.location.startswith("/sign-in?back=")
    answer = sign_in(at_door, path=wanted.location)
    assert answer.status_code == 303
    assert answer.location == "/slips?x=1"
    assert at_door.look("/slips").text


def test_a_wrong_passphrase_is_told_beside_the_box_and_not_repeated(at_door: Counter) -> None:
    answer = sign_in(at_door, "not this one")
    assert answer.status_code == 422
    page = read_page(answer.text)
    assert "not the passphrase" in page.message("passphrase")
    assert "not this one" not in answer.text
    assert at_door.client.get("/").status_code == 303


def test_guessing_is_slowed_down_and_the_time_is_told(shelf: Engine, place: DataLocation) -> None:
    clock = Clock()
    shut = create_app(shelf, SECRET, door=StaffAccess(place, backoff=Backoff(clock)))
    at_door = Counter(shut.test_client())
    for _ in range(FREE_TRIES - 1):
        assert sign_in(at_door, "wrong").status_code == 422
    answer = sign_in(at_door, "wrong")
    assert answer.status_code == 429
    seconds = int(answer.headers["Retry-After"])
    assert seconds > 0
    assert "wait" in read_page(answer.text).message("passphrase")
    clock.now += seconds - 0.5
    assert sign_in(at_door).status_code == 429
    clock.now += 0.5
    assert sign_in(at_door).status_code == 303


def test_signing_in_without_a_form_token_is_refused(at_door: Counter) -> None:
    answer = at_door.client.post("/sign-in", data={"passphrase": TYPED})
    assert answer.status_code == 400
    assert at_door.client.get("/").status_code == 303


def test_signing_in_gives_a_new_session(at_door: Counter) -> None:
    at_door.look("/sign-in")
    with at_door.client.session_transaction() as before:
        token = before["csrf_token"]
    sign_in(at_door)
    at_door.look("/")
    with at_door.client.session_transaction() as after:
        assert after["csrf_token"] != token


def test_signing_out_ends_the_session_for_a_copied_cookie_too(at_door: Counter) -> None:
    sign_in(at_door)
    page = at_door.look("/")
    cookie = at_door.client.get_cookie("shopdesk")
    assert cookie is not None
    answer = at_door.client.post("/sign-out", data={"csrf_token": page.held("csrf_token")})
    assert answer.location == "/sign-in"
    at_door.client.set_cookie("shopdesk", cookie.value)
    assert at_door.client.get("/").status_code == 303


def test_a_session_ends_when_idle(shelf: Engine, place: DataLocation) -> None:
    counter = Counter(
        create_app(shelf, SECRET, door=StaffAccess(place, idle_minutes=0)).test_client()
    )
    assert sign_in(counter).status_code == 303
    assert counter.client.get("/").status_code == 303


def test_a_forged_cookie_opens_nothing(shelf: Engine, place: DataLocation, shut: Flask) -> None:
    other = create_app(
        shelf, b"another secret, also of 32 bytes", door=StaffAccess(place)
    ).test_client()
    sign_in(Counter(other))
    cookie = other.get_cookie("shopdesk")
    assert cookie is not None
    client = shut.test_client()
    client.set_cookie("shopdesk", cookie.value)
    assert client.get("/").status_code == 303


def test_what_was_typed_is_kept_when_the_session_ended(
    at_door: Counter, place: DataLocation
) -> None:
    sign_in(at_door)
    page = at_door.look("/")
    end_all_sessions(place)
    ended = at_door.fill("/", page, stitches="22", title="Tea & <cosy>")
    assert ended.status_code == 401
    again = at_door.fill("/sign-in", read_page(ended.text), passphrase=TYPED)
    kept = read_page(again.text)
    assert kept.held("title") == "Tea & <cosy>"
    answer = at_door.client.post("/", data=kept.sent())
    assert answer.status_code == 303
    assert answer.location.startswith("/asks/")


def end_all_sessions(place: DataLocation) -> None:
    """Keeps the same passphrase under another salt, as setting it anew would."""
    made = hashlib.scrypt(TYPED.encode(), salt=b"more", n=16, r=1, p=1, dklen=64).hex()
    keep_passphrase(place, Passphrase(16, 1, 1, "more", made))


def test_what_another_site_sent_is_not_kept(at_door: Counter) -> None:
    answer = at_door.client.post("/settings", data={"shop_name": "Taken over"})
    assert answer.status_code == 401
    assert "Taken over" not in answer.text


def test_without_a_passphrase_the_shop_s_own_computer_needs_none(
    shelf: Engine, place: DataLocation
) -> None:
    remove_passphrase(place)
    assert (
        create_app(shelf, SECRET, door=StaffAccess(place)).test_client().get("/").status_code == 200
    )


def test_a_counter_others_can_reach_stays_shut_without_a_passphrase(
    shelf: Engine, place: DataLocation
) -> None:
    remove_passphrase(place)
    counter = Counter(
        create_app(shelf, SECRET, door=StaffAccess(place, always_shut=True)).test_client()
    )
    assert counter.client.get("/").status_code == 303
    assert sign_in(counter, "").status_code == 422


def test_a_damaged_passphrase_file_shuts_and_says_so(at_door: Counter, place: DataLocation) -> None:
    (place.folder / "passphrase").write_text("nonsense")
    answer = at_door.client.get("/")
    assert answer.status_code == 503
    assert "set the passphrase anew" in answer.text


@pytest.mark.parametrize(
    ("address", "path"),
    [
        ("/slips", "/slips"),
        ("/?ask=1", "/?ask=1"),
        ("", "/"),
        ("//shop.example/", "/"),
        ("/\\shop.example", "/"),
        ("https://shop.example/", "/"),
        ("javascript:alert(1)", "/"),
        ("/\tshop", "/"),
        ("/x\r\nSet-Cookie: a=b", "/"),
        ("slips", "/"),
        ("http:/slips", "/"),
        ("/[", "/["),
        ("//[", "/"),
    ],
)
def test_signing_in_leads_to_pages_of_this_site_only(address: str, path: str) -> None:
    assert path_within(address) == path


def test_health_tells_that_it_works_and_nothing_else(at_door: Counter) -> None:
    answer = at_door.client.get("/health")
    assert (answer.status_code, answer.json) == (200, {"status": "ok"})


def test_health_tells_that_the_shelf_is_gone(shelf: Engine, shut: Flask) -> None:
    shelf.dispose()
    assert shelf.url.database is not None
    Path(shelf.url.database).write_bytes(b"no database" * 999)
    answer = shut.test_client().get("/health")
    assert answer.status_code == 503
    assert str(shelf.url.database) not in answer.text
