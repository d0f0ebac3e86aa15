"""The shelf's pages: finding, a yarn's page, editing by two people at once, stock, measuring."""

import pytest

from tests.counter.conftest import Counter
from tests.pages import read_page

SKU = "OY-0101"
YARN = f"/shelf/yarn?sku={SKU}"
EDIT = f"/shelf/yarn/edit?sku={SKU}"
STOCK = f"/shelf/yarn/stock?sku={SKU}"
MEASURE = f"/shelf/yarn/measure?sku={SKU}"


def test_a_scanned_barcode_leads_to_its_yarn(demo_counter: Counter) -> None:
    for code in ("2100101000003", "02100101000003", SKU):
        answer = demo_counter.client.get("/shelf", query_string={"q": code})
        assert (answer.status_code, answer.headers["Location"]) == (303, YARN)


def test_first_letters_give_a_list(demo_counter: Counter) -> None:
    page = demo_counter.look("/shelf?q=ambre")
    assert YARN in page.links
    assert "Ambrethorn" in demo_counter.client.get("/shelf/suggest?q=ambr").text
    assert demo_counter.client.get("/shelf/suggest?q=").text.strip() == ""
    assert "No yarn was found" in demo_counter.look("/shelf?q=zzzz").text


def test_a_wrong_check_digit_is_said(demo_counter: Counter) -> None:
    assert "does not check" in demo_counter.look("/shelf?q=2100101000004").text


BAD_WISHES = ["abc", "0", "-1", "NaN", "1e9", "<b>", "9" * 300]


@pytest.mark.parametrize("box", ["gauge", "price_to"])
@pytest.mark.parametrize("bad", BAD_WISHES)
def test_a_bad_wish_comes_back_with_its_message(demo_counter: Counter, box: str, bad: str) -> None:
    answer = demo_counter.client.get("/shelf", query_string={box: bad})
    page = read_page(answer.text)
    assert answer.status_code == 422
    assert page.message(box)
    assert page.held(box) == bad


def test_wishes_narrow_the_list(demo_counter: Counter) -> None:
    everything = demo_counter.look("/shelf")
    some = demo_counter.look("/shelf?category=3&in_stock=y&fibre=wool&price_to=9.99")
    links = [link for link in some.links if "/shelf/yarn?sku=" in link]
    assert 0 < len(links) < len([one for one in everything.links if "/shelf/yarn?sku=" in one])


def test_a_yarns_page_says_what_is_known(demo_counter: Counter) -> None:
    text = demo_counter.look(YARN).text
    for words in ("Ambrethorn", "50 g / 400 m", "32.5 stitches", "6760", "shop measurement"):
        assert words in text


@pytest.mark.parametrize("path", ["/shelf/yarn", "/shelf/yarn/edit", "/shelf/yarn/stock",
                                  "/shelf/yarn/measure"])  # fmt: skip
@pytest.mark.parametrize("sku", ["", "nothing", "<b>", "x" * 500])
def test_no_such_yarn_is_not_found(demo_counter: Counter, path: str, sku: str) -> None:
    answer = demo_counter.client.get(path, query_string={"sku": sku})
    assert answer.status_code == 404
    assert "<b>" not in answer.text


def test_a_saved_yarn_is_as_it_was_typed(demo_counter: Counter) -> None:
    sent = demo_counter.fill(EDIT, name="Ambrethorn <i>Fine</i>", price="10,20", put_up_m="437 yd")
    assert sent.status_code == 303, read_page(sent.text).text
    page = demo_counter.look(EDIT)
    assert page.held("name") == "Ambrethorn <i>Fine</i>"
    assert page.held("price") == "10.20"
    # 1 yd is 0.9144 m exactly.
    assert float(page.held("put_up_m")) == pytest.approx(437 * 0.9144)
    assert YARN in demo_counter.look("/shelf?q=fine").links


WRONG_YARNS = [
    ("name", ""),
    ("price", ""),
    ("price", "-1"),
    ("price", "abc"),
    ("put_up_g", "0"),
    ("put_up_m", "NaN"),
    ("knit_stitches_low", "1e9"),
    ("fibres", "wool 75"),
    ("fibres", "merino 100"),
    ("gtin", "2100101000004"),
    ("plies", "3,5"),
    ("wash_c", "61"),
    ("construction", "magic"),
]


@pytest.mark.parametrize(("box", "bad"), WRONG_YARNS)
def test_a_wrong_box_changes_nothing(demo_counter: Counter, box: str, bad: str) -> None:
    before = demo_counter.look(EDIT).sent()
    answer = demo_counter.fill(EDIT, **{box: bad})
    page = read_page(answer.text)
    assert answer.status_code == 422
    assert page.message(box)
    after = demo_counter.look(EDIT).sent()
    assert {k: v for k, v in before.items() if k != "csrf_token"} == {
        k: v for k, v in after.items() if k != "csrf_token"
    }


def test_a_range_that_goes_down_is_refused(demo_counter: Counter) -> None:
    answer = demo_counter.fill(EDIT, knit_stitches_low="30", knit_stitches_high="20")
    assert answer.status_code == 422
    assert "from 30 down to 20" in answer.text


def test_two_editors_never_overwrite_each_other_silently(demo_counter: Counter) -> None:
    first, second = demo_counter.look(EDIT), demo_counter.look(EDIT)
    assert demo_counter.fill(EDIT, first, fibres="wool 90, silk 10").status_code == 303
    answer = demo_counter.fill(EDIT, second, notes="typed by the second")
    page = read_page(answer.text)
    assert answer.status_code == 409
    assert "wool 90, silk 10" in page.text
    assert page.held("notes") == "typed by the second"
    assert demo_counter.look(EDIT).held("notes") == ""
    assert demo_counter.fill(EDIT, page).status_code == 303
    kept = demo_counter.look(EDIT)
    assert (kept.held("notes"), kept.held("fibres")) == ("typed by the second", "wool 100")


def test_a_yarn_is_added_and_retired(demo_counter: Counter) -> None:
    facts = {"sku": "NEW-1", "name": "Fellside", "price": "4.50", "fibres": "wool 100"}
    assert demo_counter.fill("/shelf/yarn/new", **facts).status_code == 303
    assert "Fellside" in demo_counter.look("/shelf?q=fells").text
    taken = demo_counter.fill("/shelf/yarn/new", **facts)
    assert taken.status_code == 409
    assert read_page(taken.text).message("sku")
    assert demo_counter.fill("/shelf/yarn/edit?sku=NEW-1", retired="yes").status_code == 303
    assert "No yarn was found" in demo_counter.look("/shelf?q=fells").text
    assert "retired" in demo_counter.look("/shelf/yarn?sku=NEW-1").text


def test_stock_is_changed_once_however_often_it_is_sent(demo_counter: Counter) -> None:
    page = demo_counter.look(STOCK + "&colour=01&lot=6760")
    for _ in range(2):
        answer = demo_counter.fill(STOCK, page, skeins="17", staff="MB")
        assert answer.status_code == 303
    text = demo_counter.look(YARN).text
    assert text.count("+17") == 1


WRONG_CHANGES = [
    ({"skeins": "", "change": "receive"}, "Nothing is written"),
    ({"skeins": "2,5", "change": "receive"}, "whole"),
    ({"skeins": "9999", "change": "sell"}, "take at most"),
    ({"skeins": "-9999", "change": "correct", "note": "lost"}, "at most"),
    ({"skeins": "1", "change": "correct"}, "reason"),
    ({"skeins": "-1", "change": "count"}, "0 or more"),
    ({"skeins": "1", "change": "burn"}, "not one of the list"),
    ({"skeins": "1", "change": "receive", "colour": "99"}, "in colour 99"),
]


@pytest.mark.parametrize(("typed", "told"), WRONG_CHANGES)
def test_stock_that_cannot_be(demo_counter: Counter, typed: dict[str, str], told: str) -> None:
    before = demo_counter.look(YARN).text
    page = demo_counter.look(STOCK + "&colour=01&lot=6760")
    answer = demo_counter.fill(STOCK, page, **typed)
    assert answer.status_code == 422
    assert told in answer.text
    assert read_page(answer.text).held("skeins") == typed["skeins"]
    assert demo_counter.look(YARN).text == before


@pytest.mark.parametrize(
    ("typed", "found"),
    [
        ({"kind": "wraps", "wraps": "46", "over_inches": "2"}, "23 wraps per inch"),
        (
            {"kind": "swatch", "stitches": "33", "rows": "44", "tool": "2", "tool_system": "US"},
            "33 stitches, 44 rows over 10 cm on 2.75 mm",
        ),
        ({"kind": "length", "length": "10", "mass": "1.25"}, "10 m weigh 1.3 g"),
        ({"kind": "length", "length": "10", "length_unit": "yd", "mass": "1.25"}, "9.1 m weigh"),
    ],
)
def test_a_measurement_is_kept_beside_the_label(
    demo_counter: Counter, typed: dict[str, str], found: str
) -> None:
    answer = demo_counter.fill(MEASURE, **typed)
    assert answer.status_code == 303, read_page(answer.text).text
    text = demo_counter.look(YARN).text
    assert found in text
    assert "50 g / 400 m" in text


WRONG_MEASUREMENTS = [
    ({"kind": "wraps", "wraps": ""}, "wraps"),
    ({"kind": "wraps", "wraps": "0"}, "wraps"),
    ({"kind": "wraps", "wraps": "9", "over_inches": "abc"}, "over_inches"),
    ({"kind": "swatch", "stitches": "22", "tool": ""}, "tool"),
    ({"kind": "swatch", "stitches": "22", "tool": "99999"}, "tool"),
    ({"kind": "swatch", "stitches": "-3", "tool": "4"}, "stitches"),
    ({"kind": "length", "length": "10", "mass": "heavy"}, "mass"),
    ({"kind": "wraps", "wraps": "9", "on": "2999-01-01"}, "on"),
    ({"kind": "wraps", "wraps": "9", "on": "soon"}, "on"),
]


@pytest.mark.parametrize(("typed", "box"), WRONG_MEASUREMENTS)
def test_a_wrong_measurement_is_not_kept(
    demo_counter: Counter, typed: dict[str, str], box: str
) -> None:
    before = demo_counter.look(YARN).text
    answer = demo_counter.fill(MEASURE, **typed)
    assert answer.status_code == 422
    assert read_page(answer.text).message(box)
    assert demo_counter.look(YARN).text == before


def test_the_label_check_shows_the_picture_and_what_to_do(demo_counter: Counter) -> None:
    page = demo_counter.look("/shelf/check")
    assert "Hallowbeck" in page.text
    assert "To settle it" in page.text
    assert any(tag == "svg" and known.get("role") == "img" for tag, known in page.tags)


def test_a_form_without_its_token_changes_nothing(demo_counter: Counter) -> None:
    for path in (EDIT, STOCK, MEASURE, "/shelf/yarn/new"):
        assert demo_counter.client.post(path, data={"skeins": "1"}).status_code == 400


def test_a_yarn_without_a_label_is_guessed_with_its_basis(demo_counter: Counter) -> None:
    asked = "length=10&mass=4.4&whole=66&wraps=11,+12&fibres=wool+100"
    text = demo_counter.look(f"/shelf/unlabelled?{asked}").text
    for words in ("DK (3)", "150 m", "weighed", "estimate"):
        assert words in text
    assert "Left of it" not in demo_counter.look("/shelf/unlabelled").text


WRONG_UNLABELLED = [
    ({"length": "10", "mass": ""}, "mass"),
    ({"length": "abc", "mass": "4"}, "length"),
    ({"length": "", "mass": "", "wraps": ""}, "length"),
    ({"wraps": "eleven"}, "wraps"),
    ({"wraps": "0"}, "wraps"),
    ({"wraps": "11", "fibres": "wool 70"}, "fibres"),
    ({"wraps": "11", "fibres": "silk 50, silk 50"}, "fibres"),
    ({"wraps": "11", "whole": "-3 g"}, "whole"),
]


@pytest.mark.parametrize(("asked", "box"), WRONG_UNLABELLED)
def test_a_wrong_box_of_an_unlabelled_yarn(
    demo_counter: Counter, asked: dict[str, str], box: str
) -> None:
    answer = demo_counter.client.get("/shelf/unlabelled", query_string={"length": "", **asked})
    assert answer.status_code == 422
    assert read_page(answer.text).message(box)


def test_tickets_are_printed(demo_counter: Counter) -> None:
    answer = demo_counter.client.get(f"/shelf/tickets.pdf?sku={SKU}&paper=roll-80")
    assert (answer.status_code, answer.mimetype) == (200, "application/pdf")
    assert demo_counter.client.get(f"/shelf/tickets.pdf?sku={SKU}&paper=A0").status_code == 400
    assert demo_counter.client.get("/shelf/tickets.pdf?sku=nothing").status_code == 404
