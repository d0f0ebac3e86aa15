"""Swatches at the counter: from the slip's page to what the swatch says."""

import pytest
from sqlalchemy import Engine

from shopdesk.services.calibration import shop_calibration
from shopdesk.shop.shop import Shop
from tests.counter.asks import PULLOVER
from tests.counter.conftest import Counter
from tests.counter.test_choosing import first_colour, yarn_path
from tests.pages import read_page

SIZED = {
    **PULLOVER,
    "sizes": "S (M, L, XL)",
    "chosen_size": "M",
    "chests": "36 (40, 44, 48)",
    "chests_unit": "in",
}
NEW = "/swatches/new?slip=1"
LOOSE = {"stitches": "20", "rows": "27", "tool": "4", "washed": "yes"}


@pytest.fixture
def with_slip(demo_counter: Counter) -> Counter:
    """A counter with slip 1 of a pullover at 22 x 30, size M of 40 in."""
    path = yarn_path(demo_counter, SIZED)
    page = demo_counter.look(path)
    sent = demo_counter.fill(path, page, colour_0=first_colour(page), staff="MR")
    assert sent.status_code == 303
    return demo_counter


def test_the_slip_leads_to_its_swatch_and_back(with_slip: Counter) -> None:
    assert NEW in with_slip.look("/slips/1").links
    sent = with_slip.fill(NEW, **LOOSE)
    assert (sent.status_code, sent.headers["Location"]) == (303, "/swatches/1")
    assert "/slips/1" in with_slip.look("/swatches/1").links
    assert "/swatches/1" in with_slip.look("/slips/1").links


def test_what_a_loose_swatch_says(with_slip: Counter) -> None:
    with_slip.fill(NEW, **LOOSE)
    text = with_slip.look("/swatches/1").text
    # Worked textbook example: 22 against 20 turns 40 in (101.6 cm) into 44 in (111.8 cm).
    assert "101.6 cm comes out as 111.8 cm" in text
    assert "At this gauge size S comes out at 100.6 cm" in text
    assert "try a smaller tool next" in text
    assert "Rows shape this item" in text
    assert "the skeins still do" in text
    assert "Firmness of the fabric" in text


def test_inches_fractions_and_the_scale(with_slip: Counter) -> None:
    sent = with_slip.fill(
        NEW, stitches="11 1/4", over="2", over_unit="in", width="15", height="6",
        height_unit="in", mass="6",
    )  # fmt: skip
    assert sent.status_code == 303
    text = with_slip.look("/swatches/1").text
    # 11.25 stitches over 5.08 cm are 22.1 over 10 cm.
    assert "22.1 stitches" in text
    assert "Weight of a square metre" in text


WRONG_SWATCHES = [
    ("stitches", ""),
    ("stitches", "<b>22</b>"),
    ("over", "0"),
    ("rows", "x"),
    ("rows_over", "ten"),
    ("tool", "99"),
    ("mass", "-3"),
    ("hand", "x" * 80),
    ("staff", "x" * 20),
    ("washed", "perhaps"),
    ("stitch_pattern", "knots"),
]


@pytest.mark.parametrize(("box", "bad"), WRONG_SWATCHES)
def test_a_bad_box_comes_back_with_its_message_and_all_that_was_typed(
    with_slip: Counter, box: str, bad: str
) -> None:
    typed = {**LOOSE, "hand": "Ada", box: bad}
    answer = with_slip.fill(NEW, **typed)
    page = read_page(answer.text)
    assert answer.status_code == 422
    assert "To put right" in answer.text
    assert "<b>22" not in answer.text
    for name, value in typed.items():
        if name not in ("washed", "stitch_pattern"):
            assert page.held(name) == value
    assert with_slip.client.get("/swatches/1").status_code == 404


def test_a_form_sent_twice_keeps_one(with_slip: Counter) -> None:
    page = with_slip.look(NEW)
    for _ in range(2):
        assert with_slip.fill(NEW, page, **LOOSE).headers["Location"] == "/swatches/1"
    assert with_slip.client.get("/swatches/2").status_code == 404


def test_a_stale_form_keeps_what_was_typed(with_slip: Counter) -> None:
    answer = with_slip.fill(NEW, **LOOSE, csrf_token="old")
    assert answer.status_code == 400
    assert read_page(answer.text).held("rows") == "27"
    assert with_slip.client.get("/swatches/1").status_code == 404


def test_start_leads_to_the_slip_or_the_yarn(with_slip: Counter) -> None:
    client = with_slip.client
    assert client.get("/swatches?slip=1").headers["Location"] == NEW
    sent = client.get("/swatches?yarn=OY-3105&craft=crochet")
    assert sent.headers["Location"] == "/swatches/new?sku=OY-3105&craft=crochet"
    assert "single crochet" in client.get(sent.headers["Location"]).text


@pytest.mark.parametrize(
    ("asked", "box"),
    [("slip=9", "slip"), ("slip=x", "slip"), ("slip=99999999999", "slip"), ("yarn=no", "yarn")],
)
def test_what_is_not_there_is_said_at_its_box(with_slip: Counter, asked: str, box: str) -> None:
    answer = with_slip.client.get(f"/swatches?{asked}")
    assert answer.status_code == 422
    assert read_page(answer.text).message(box)


@pytest.mark.parametrize(
    "path",
    [
        "/swatches/new",
        "/swatches/new?slip=9",
        "/swatches/new?slip=-1",
        "/swatches/new?slip=99999999999999999999",
        "/swatches/new?sku=no",
        "/swatches/9",
        "/swatches/99999999999999999999",
    ],
)
def test_addresses_of_nothing_are_not_found(with_slip: Counter, path: str) -> None:
    assert with_slip.client.get(path).status_code == 404


def test_a_yarn_without_a_slip_takes_a_swatch(with_slip: Counter) -> None:
    sent = with_slip.fill("/swatches/new?sku=OY-3105&craft=knit", stitches="22", from_shop="y")
    text = with_slip.look(sent.headers["Location"]).text
    assert "evidence on the yarn itself" in text
    assert "with it" in text


def test_the_other_size_is_asked_for_with_its_own_chest(with_slip: Counter) -> None:
    with_slip.fill(NEW, **LOOSE)
    token = with_slip.look("/swatches/1").held("csrf_token")
    sent = with_slip.client.post("/slips/1/again", data={"csrf_token": token, "size": "S"})
    assert sent.status_code == 303
    told = with_slip.look(sent.headers["Location"]).text
    assert "Asked again for size S. Known for the old size only" in told
    assert "left open now: amount of yarn." in told
    form = with_slip.look("/?ask=" + sent.headers["Location"].rpartition("/")[2])
    assert (form.held("chosen_size"), form.held("chests")) == ("S", "36; 40; 44; 48")
    refused = with_slip.client.post("/slips/1/again", data={"csrf_token": token, "size": "<b>"})
    assert refused.status_code == 400
    assert "<b>" not in refused.text


def test_the_owner_sees_how_the_swatches_lay(with_slip: Counter, demo_shelf: Engine) -> None:
    assert "/calibration" in with_slip.look("/settings").links
    before = shop_calibration(Shop(demo_shelf)).asked
    assert "None yet that can be compared" in with_slip.look("/calibration").text
    with_slip.fill(NEW, **LOOSE, asked="y")
    with_slip.fill(NEW, **{**LOOSE, "stitches": "36", "rows": "46"}, hand="Bo")
    found = shop_calibration(Shop(demo_shelf))
    text = with_slip.look("/calibration").text
    asked, unasked = text.split("Came back by themselves")[:2]
    assert found.asked is not None
    assert found.asked.count == (before.count if before else 0) + 1
    assert f"{found.asked.count} swatches, {found.asked.inside} in the stated range" in asked
    assert f"{abs(found.asked.mean_share) * 100:.1f}" in asked
    assert "1 swatch, 0 in the stated range" in unasked
    assert "Bo" not in text
    drawn = with_slip.client.get("/calibration").text
    assert drawn.count('class="chart-unasked"') == 1
    assert "<circle" in drawn
