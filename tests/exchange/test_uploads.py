"""Uploads: kept for a day under a random name, each with what is said of it."""

from datetime import UTC, datetime, timedelta

import pytest
from sqlalchemy import Engine, inspect, select

from shopdesk.exchange.lines import FileDefaults
from shopdesk.exchange.uploads import keep_upload, on_disk, say_of_upload, upload_of
from shopdesk.shelf.writing import writing
from shopdesk.store.database import reading
from shopdesk.store.models import ImportUpload

NOON = datetime(2026, 11, 25, 12, tzinfo=UTC)
NORTH = FileDefaults("north", "D-1")


def an_upload(shelf: Engine, name: str = "s.csv", content: bytes = b"sku\nA\n", **more: str) -> str:
    with writing(shelf) as session:
        return keep_upload(session, "stock", name, content, FileDefaults(**more))


def tokens(shelf: Engine) -> list[str]:
    with reading(shelf) as session:
        return list(session.scalars(select(ImportUpload.token).order_by(ImportUpload.uploaded_at)))


def test_an_upload_is_kept_for_a_day(shelf: Engine, monkeypatch: pytest.MonkeyPatch) -> None:
    def at(moment: datetime) -> str:
        monkeypatch.setattr("shopdesk.exchange.uploads.now", lambda: moment)
        return an_upload(shelf)

    day, instant = timedelta(days=1), timedelta(microseconds=1)
    first, second = at(NOON), at(NOON + instant)
    third = at(NOON + day)
    assert tokens(shelf) == [first, second, third]
    fourth = at(NOON + day + instant)
    assert tokens(shelf) == [second, third, fourth]


def test_a_token_cannot_be_guessed(shelf: Engine) -> None:
    """16 random bytes are 128 bits, in base64 of 6 bits a letter (RFC 4648) 22 letters."""
    first, second = an_upload(shelf), an_upload(shelf)
    assert first != second
    assert {len(first), len(second)} == {22}


def test_of_a_long_name_the_end_is_kept_that_its_column_holds(shelf: Engine) -> None:
    token = an_upload(shelf, "a" * 40 + "b" * 200)
    with reading(shelf) as session:
        kept = upload_of(session, token)
        (column,) = (
            each
            for each in inspect(session.connection()).get_columns("import_upload")
            if each["name"] == "file_name"
        )
    assert kept is not None
    assert kept.file_name == "b" * 200
    assert column["type"].length == 200  # type: ignore[attr-defined]


def test_each_upload_has_its_own_content_and_what_is_said_of_it(shelf: Engine) -> None:
    one = an_upload(shelf, content=b"one", branch="north", delivery="D-1")
    two = an_upload(shelf, "t.csv", content=b"two" * 1000, branch="")
    with writing(shelf) as session:
        say_of_upload(session, two, {"Nr.": "sku"}, FileDefaults("", "D-2"))
    with reading(shelf) as session:
        assert upload_of(session, "never") is None
        first, second = upload_of(session, one), upload_of(session, two)
    assert first is not None
    assert second is not None
    assert (first.kind, first.file_name, first.said, first.wishes) == ("stock", "s.csv", {}, NORTH)
    assert (second.said, second.wishes) == ({"Nr.": "sku"}, FileDefaults("main", "D-2"))
    for upload, content in ((first, b"one"), (second, b"two" * 1000)):
        with on_disk(shelf, upload) as source:
            assert source.path.read_bytes() == content
            assert (source.name, source.said) == (upload.file_name, upload.said)
            assert (source.kind, source.wishes) == ("stock", upload.wishes)
        assert not source.path.exists()
