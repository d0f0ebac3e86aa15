"""The counter page: what is typed is answered, or comes back with a message beside the box."""

import pytest
from sqlalchemy import Engine

from shopdesk.services.asks import saved_ask
from shopdesk.shop.shop import Shop
from tests.counter.asks import PULLOVER
from tests.counter.conftest import Counter
from tests.pages import read_page

LONG = "7" * 300
BAD_NUMBERS = [
    "-3",
    "0",
    "abc",
    "1e9",
    "NaN",
    "sNaN",
    LONG,
    "٣",
    "<b>3</b>",
    "1,200",
    "1/0",
    "0x10",
]
NUMBER_BOXES = [
    "stitches",
    "rows",
    "over",
    "chest",
    "width",
    "length",
    "around",
    "foot",
    "designer-ball_mass",
    "designer-ball_length",
    "designer-band_stitches",
    "designer-band_stitches_high",
    "designer-band_rows",
    "designer-band_over",
    "designer-wraps",
    "designer-fibres-0-percent",
    "parts-0-count",
    "parts-0-ball_mass",
    "parts-0-ball_length",
    "parts-0-own_length",
    "parts-0-own_mass",
    "parts-0-own_percent",
    "parts-0-own_ball_mass",
    "parts-0-own_ball_length",
    "price_limit",
]
FULL = {
    "stitches": "22",
    "rows": "30",
    "chest": "96",
    "width": "50",
    "length": "60",
    "around": "50",
    "foot": "24",
    "designer-weight": "DK",
    "designer-ball_mass": "50",
    "designer-ball_length": "125",
    "designer-band_stitches": "22",
    "designer-band_stitches_high": "24",
    "designer-band_rows": "30",
    "designer-band_over": "10",
    "designer-wraps": "11",
    "designer-fibres-0-percent": "100",
    "designer-fibres-0-fibre": "wool",
    "parts-0-count": "9",
    "parts-0-counted_in": "balls",
    "parts-0-ball_mass": "50",
    "parts-0-ball_length": "125",
    "parts-0-own_length": "100",
    "parts-0-own_mass": "40",
    "parts-0-own_ball_mass": "50",
    "parts-0-own_ball_length": "125",
    "parts-0-own_strands": "2",
    "parts-0-own_percent": "100",
    "parts-0-own_fibre": "wool",
    "parts-0-own_attributes": "superwash",
    "parts-0-own_wash": "hand",
    "parts-0-own_wash_c": "30",
    "price_limit": "80",
}


def test_a_minimal_ask_goes_on_to_its_answer(counter: Counter, shelf: Engine) -> None:
    answer = counter.fill(stitches="22")
    assert answer.status_code == 303
    token = answer.headers["Location"].rpartition("/")[2]
    document = saved_ask(Shop(shelf), token)
    assert document is not None
    assert document["gauge"]["stitches"] == "22"


def test_a_full_form_is_taken(counter: Counter) -> None:
    assert counter.fill(**FULL).status_code == 303


def test_a_yarn_in_hand_that_the_shop_does_not_know_is_told_at_its_box(counter: Counter) -> None:
    answer = counter.fill(**{**FULL, "parts-0-own_sku": "NONE-1"})
    assert answer.status_code == 422
    assert "NONE-1" in read_page(answer.text).message("parts-0-own_sku")


@pytest.mark.parametrize("bad", BAD_NUMBERS)
def test_a_bad_number_comes_back_in_every_box_with_its_message(counter: Counter, bad: str) -> None:
    boxes = [box for box in NUMBER_BOXES if (box, bad) != ("price_limit", "0")]
    typed = {**FULL, **dict.fromkeys(boxes, bad)}
    answer = counter.fill(**typed)
    page = read_page(answer.text)
    assert answer.status_code == 422
    assert [box for box in boxes if not page.message(box)] == []
    assert [box for box in boxes if page.box_ids[box] not in page.invalid] == []
    assert [box for box in boxes if f"#{page.box_ids[box]}" not in page.links] == []
    assert {name: page.held(name) for name in typed} == typed


@pytest.mark.parametrize("box", NUMBER_BOXES)
def test_a_message_stands_at_its_own_box_only(counter: Counter, box: str) -> None:
    answer = counter.fill(**{**FULL, box: "abc"})
    page = read_page(answer.text)
    assert answer.status_code == 422
    assert page.invalid == {page.box_ids[box]}
    assert "'abc' is not a number" in page.message(box)


@pytest.mark.parametrize("good", ["7,5", "12 1/2", "9¾", "14½", " 17 ", "12.25"])
def test_a_number_may_be_written_as_people_write_it(counter: Counter, good: str) -> None:
    typed = {**FULL, **dict.fromkeys(NUMBER_BOXES, good)}
    typed["designer-fibres-0-percent"] = typed["parts-0-own_percent"] = " 100,0 "
    assert counter.fill(**typed).status_code == 303


def test_a_reversed_range_is_told_at_its_upper_end(counter: Counter) -> None:
    answer = counter.fill(**{**FULL, "designer-band_stitches_high": "20"})
    page = read_page(answer.text)
    assert answer.status_code == 422
    assert "reversed" in page.message("designer-band_stitches")


TEXT_BOXES = ["title", "tool", "designer-weight", "designer-count", "sizes", "avoid"]
ODD_TEXTS = ["<script>alert(1)</script>", "羊毛", "\u202eabc", "x" * 5000, "' OR 1=1 --", "{{7*7}}"]


@pytest.mark.parametrize("text", ODD_TEXTS)
def test_odd_text_comes_back_as_typed(counter: Counter, text: str) -> None:
    typed = {**FULL, **dict.fromkeys(TEXT_BOXES, text), "rows": "abc"}
    answer = counter.fill(**typed)
    page = read_page(answer.text)
    assert answer.status_code == 422
    assert {name: page.held(name) for name in typed} == typed
    assert not [tag for tag, known in page.tags if tag == "script" and "src" not in known]


def test_a_part_is_added_and_taken_out_with_all_else_kept(counter: Counter) -> None:
    more = counter.fill(**{**FULL, "do": "add-part"})
    page = read_page(more.text)
    assert more.status_code == 200
    assert page.held("parts-1-name") == "part 2"
    assert page.held("parts-0-count") == "9"
    again = counter.fill(page=page, **{"parts-1-count": "3", "do": "remove-parts-0"})
    page = read_page(again.text)
    assert page.held("parts-0-count") == "3"
    assert "parts-1-count" not in page.boxes


def test_parts_end_at_twelve(counter: Counter) -> None:
    page = counter.look()
    for _ in range(15):
        page = read_page(counter.fill(page=page, do="add-part").text)
    assert "parts-11-name" in page.boxes
    assert "parts-12-name" not in page.boxes


def test_a_kept_ask_fills_the_form_again(counter: Counter) -> None:
    token = counter.fill(**FULL).headers["Location"].rpartition("/")[2]
    page = counter.look(f"/?ask={token}")
    assert {name: page.held(name) for name in FULL} == FULL


def test_a_forgotten_ask_is_said_to_be_gone(counter: Counter) -> None:
    assert counter.client.get("/?ask=nothing-here").status_code == 404


def test_an_old_form_token_loses_nothing_typed(counter: Counter) -> None:
    page = counter.look()
    counter.client.delete_cookie("shopdesk")
    answer = counter.fill(page=page, **FULL)
    again = read_page(answer.text)
    assert answer.status_code == 400
    assert {name: again.held(name) for name in FULL} == FULL
    assert counter.fill(page=again).status_code == 303


def test_every_box_has_a_label_and_every_reference_an_element(counter: Counter) -> None:
    page = read_page(counter.fill(**{**FULL, "stitches": "abc", "do": "add-part"}).text)
    labelled = {known.get("for") for tag, known in page.tags if tag == "label"}
    for tag, known in page.tags:
        if tag in ("input", "select") and known.get("type") != "hidden":
            assert known["id"] in labelled, known
    references = [i for ids in page.described.values() for i in ids]
    assert set(references) <= set(page.ids)
    assert len(page.ids) == len(set(page.ids))


@pytest.mark.parametrize(
    ("address", "hand", "way"),
    [("/?hand=4.0", "4", "tighter"), ("/?hand=-2.5", "2.5", "looser"),
     ("/?hand=99", "", "tighter"), ("/?hand=x", "", "tighter"), ("/", "", "tighter")],
)  # fmt: skip
def test_a_kept_hand_stands_in_the_form(
    demo_counter: Counter, address: str, hand: str, way: str
) -> None:
    sent = demo_counter.look(address).sent()
    assert (sent["hand"], sent["hand_way"]) == ([hand], [way])


def test_a_hand_moves_the_needle_on_the_answer_which_says_so(demo_counter: Counter) -> None:
    plain = demo_counter.fill(**PULLOVER)
    moved = demo_counter.fill(**PULLOVER, hand="12")
    pages = [demo_counter.look(sent.headers["Location"]).text for sent in (plain, moved)]
    assert "a hand that works 12% tighter than usual" in pages[1]
    assert "a hand that works" not in pages[0]
