"""Import and export in the counter: upload, columns, dry run, apply, undo, without JavaScript."""

import re
from io import BytesIO
from threading import Event

import pytest
from flask.testing import FlaskClient
from sqlalchemy import Engine
from werkzeug.test import TestResponse

from shopdesk.counter import application
from shopdesk.counter.jobs import Jobs, Progress
from shopdesk.counter.views import importing
from shopdesk.exchange.uploads import Upload
from shopdesk.shelf.branch_lots import LotAtBranch
from shopdesk.shelf.stock import available
from shopdesk.shelf.writing import writing
from shopdesk.shop.shop import Shop
from shopdesk.store.database import reading
from tests.counter.conftest import PATIENCE_SECONDS, Counter
from tests.exchange.import_files import exported, workbook
from tests.factories import a_lot
from tests.pages import read_page
from tests.shelf.rows import put_yarn

STOCK = "sku,colour,lot,skeins,shelf\nT-1,01,L1,7\n"


@pytest.fixture
def client(counter: Counter, shelf: Engine) -> FlaskClient:
    with writing(shelf) as session:
        put_yarn(session, "T-1", lots=(a_lot(10, "L1"),))
    return counter.client


def token_of(client: FlaskClient, path: str = "/imports") -> str:
    return read_page(client.get(path).text).held("csrf_token")


def sent(
    client: FlaskClient, content: str | bytes, name: str = "s.csv", kind: str = "stock", **more: str
) -> TestResponse:
    file = (BytesIO(content.encode() if isinstance(content, str) else content), name)
    data = {"csrf_token": token_of(client), "kind": kind, "file": file, **more}
    return client.post("/imports", data=data)


def do(client: FlaskClient, address: str, **boxes: str) -> TestResponse:
    token = token_of(client, address if address != "/imports/undo" else "/imports")
    return client.post(address, data={"csrf_token": token, **boxes}, follow_redirects=True)


def on_shelf(shelf: Engine) -> int:
    with reading(shelf) as session:
        return available(session, LotAtBranch("T-1", "01", "L1"))


def test_a_file_is_looked_at_taken_and_undone(client: FlaskClient, shelf: Engine) -> None:
    address = sent(client, STOCK).headers["Location"]
    looked = client.get(address).text
    assert "0 new, 1 changed, 0 unchanged, 0 refused" in looked
    assert "skeins: 10 → 7" in looked
    assert "Left out: shelf." in looked
    assert on_shelf(shelf) == 10
    done = do(client, address, do="apply")
    assert "Import 1 is done" in done.text
    assert on_shelf(shelf) == 7
    undone = do(client, "/imports/undo", number="1")
    assert "Import 1 of stock is undone." in undone.text
    assert on_shelf(shelf) == 10


@pytest.mark.parametrize("name", ["s.xlsx", "Bestand 2026", "s.csv"])
def test_a_workbook_is_looked_at_and_taken(client: FlaskClient, shelf: Engine, name: str) -> None:
    rows = workbook([("sku", "colour", "lot", "skeins"), ("T-1", "01", "L1", 7)])
    address = sent(client, rows, name).headers["Location"]
    looked = client.get(address)
    assert looked.status_code == 200, looked.text
    assert "skeins: 10 → 7" in looked.text
    assert "Import 1 is done" in do(client, address, do="apply").text
    assert on_shelf(shelf) == 7


def test_apply_sent_twice_imports_once(client: FlaskClient, shelf: Engine) -> None:
    delivery = "sku,colour,lot,skeins\nT-1,01,L1,7\n"
    address = sent(client, delivery, kind="deliveries", delivery="D-1").headers["Location"]
    token = token_of(client, address)
    for _ in range(3):
        data = {"csrf_token": token, "do": "apply"}
        answer = client.post(address, data=data, follow_redirects=True)
        assert "Import 1 is done" in answer.text
    assert on_shelf(shelf) == 17


def test_refused_lines_are_shown_and_may_be_left_out(client: FlaskClient, shelf: Engine) -> None:
    address = sent(client, STOCK + "T-1,01,L2,<b>x</b>\n").headers["Location"]
    page = client.get(address).text
    assert "&lt;b&gt;x&lt;/b&gt;" in page
    assert "<b>x</b>" not in page
    assert 'data-name="Right">Write' in page
    assert "Import all" not in page
    assert "Nothing was imported: lines are refused." in do(client, address, do="apply").text
    assert on_shelf(shelf) == 10
    assert "Import 1 is done" in do(client, address, do="apply-rest").text
    assert on_shelf(shelf) == 7


def test_columns_are_chosen_on_the_page(client: FlaskClient, shelf: Engine) -> None:
    text = "Nr;Ton;lot;Da\nT-1;01;L1;7\n"
    address = sent(client, text).headers["Location"]
    unknown = client.get(address)
    assert unknown.status_code == 422
    assert "No column holds sku or colour or skeins" in unknown.text
    chosen = {"column-0": "sku", "column-1": "colour", "column-2": "lot", "column-3": "skeins"}
    assert "1 changed" in do(client, address, do="columns", **chosen).text
    do(client, address, do="apply")
    assert on_shelf(shelf) == 7
    again = sent(client, text.replace(";7", ";8")).headers["Location"]
    assert "skeins: 7 → 8" in client.get(again).text


def test_no_file_and_an_ugly_file_are_told(client: FlaskClient) -> None:
    data = {"csrf_token": token_of(client), "kind": "stock"}
    nothing = client.post("/imports", data=data)
    assert nothing.status_code == 422
    assert "No file was chosen" in read_page(nothing.text).message("file")
    ugly = client.get(sent(client, "%PDF-1.7").headers["Location"])
    assert (ugly.status_code, "The file is a PDF" in ugly.text) == (422, True)


def test_a_form_without_its_token_changes_nothing(client: FlaskClient, shelf: Engine) -> None:
    address = sent(client, STOCK).headers["Location"]
    client.get(address)
    for path in ("/imports", address, "/imports/undo"):
        assert client.post(path, data={"do": "apply", "number": "1"}).status_code == 400
    assert on_shelf(shelf) == 10


def test_only_the_upload_may_be_big(client: FlaskClient, monkeypatch: pytest.MonkeyPatch) -> None:
    client.application.config["MAX_CONTENT_LENGTH"] = 20_000
    big = STOCK + " " * 30_000
    assert sent(client, big).status_code == 303
    assert client.post("/", data={"title": big}).status_code == 413
    monkeypatch.setattr(application, "BIGGEST_UPLOAD", 1000)
    assert sent(client, big).status_code == 413


def test_a_file_that_is_not_kept_is_a_page(client: FlaskClient) -> None:
    assert client.get("/imports/nothing").status_code == 404
    assert client.get("/exports/secrets.csv").status_code == 404


def test_exports_are_files(client: FlaskClient, shelf: Engine) -> None:
    answer = client.get("/exports/stock.csv")
    assert answer.headers["Content-Disposition"] == "attachment; filename=stock.csv"
    assert answer.text == "\ufeff" + exported(shelf, "stock")


def test_long_work_shows_how_far_it_is(
    client: FlaskClient, monkeypatch: pytest.MonkeyPatch
) -> None:
    shown, released = Event(), Event()
    monkeypatch.setattr(importing, "SECONDS_TO_WAIT", 0.0)

    def slowly(shop: Shop, found: Upload, show: Progress) -> None:
        show(50, 200)
        shown.set()
        released.wait(PATIENCE_SECONDS)

    monkeypatch.setattr(importing, "look_at_upload", slowly)
    address = sent(client, STOCK).headers["Location"]
    client.get(address)
    assert shown.wait(PATIENCE_SECONDS)
    page = client.get(address)
    assert "Line 50 of about 200." in page.text
    assert page.headers["Refresh"] == "1"
    assert re.search(r'<progress aria-label="Lines done" max="200" value="50">', page.text)
    released.set()


def test_a_job_is_begun_once() -> None:
    jobs: Jobs[int] = Jobs()
    runs: list[int] = []
    for _ in range(3):
        job = jobs.begin("one", lambda show: runs.append(1) or len(runs))
        assert job.ended(PATIENCE_SECONDS)
    assert (runs, job.result()) == ([1], 1)
