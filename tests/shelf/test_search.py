"""Finding yarns by barcode, words and what they are, on both kinds of database."""

from decimal import Decimal

import pytest
from sqlalchemy import Engine, select

from shopdesk.services.holds import HoldOrder, hold_skeins
from shopdesk.shelf.branch_lots import LotAtBranch
from shopdesk.shelf.index_keeping import plain_words
from shopdesk.shelf.search import YarnQuery, _rarest_first, search_yarns, sku_of, suggest
from shopdesk.shelf.writing import writing
from shopdesk.shop.shop import Shop
from shopdesk.store.database import reading
from shopdesk.store.models import Yarn, YarnWord
from shopdesk.wording.translate import english
from tests.factories import a_band_gauge, a_care, a_label, a_lot
from tests.shelf.rows import put_yarn

# GS1 General Specifications: one article has the same number in fields of 8 to 14 digits, with
# leading zeros; 6291041500213 is its worked example of a check digit.
EAN_13 = "6291041500213"
UPC_12 = "036000291452"


@pytest.fixture
def stocked(shelf: Engine) -> Engine:
    with writing(shelf) as session:
        put_yarn(session, "OY-1", name="Mérrowfirth Sock", gtin=EAN_13)
        put_yarn(
            session,
            "OY-2",
            1200,
            name="Merry Tweed",
            label=a_label("aran", 165, gauge=a_band_gauge(18), care=a_care(30, "mild")),
            lots=(a_lot(0, gtin=UPC_12),),
        )
        put_yarn(session, "AB-3", name="Quarrendene", label=a_label(fibres="cotton 100"))
    return shelf


def skus(shelf: Engine, **wish: object) -> list[str]:
    with reading(shelf) as session:
        return [yarn.sku for yarn in search_yarns(session, YarnQuery(**wish)).yarns]  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("typed", "found"),
    [
        ("merr", ["OY-2", "OY-1"]),
        ("MÉRRO", ["OY-1"]),
        ("tweed", ["OY-2"]),
        ("tw mer", ["OY-2"]),
        ("oy", ["OY-2", "OY-1"]),
        ("OY-1", ["OY-1"]),
        ("firth", ["OY-1"]),
        ("nothing like it", []),
        (EAN_13, ["OY-1"]),
        ("0" + EAN_13, ["OY-1"]),
        ("6 291041 500213", ["OY-1"]),
        (UPC_12, ["OY-2"]),
        ("0" + UPC_12, ["OY-2"]),
        ("00" + UPC_12, ["OY-2"]),
        ("%", []),
    ],
)
def test_what_is_typed_or_scanned(stocked: Engine, typed: str, found: list[str]) -> None:
    assert sorted(skus(stocked, text=typed)) == sorted(found)


def test_a_scanned_colour_is_named(stocked: Engine) -> None:
    with reading(stocked) as session:
        (found,) = search_yarns(session, YarnQuery(UPC_12)).yarns
        assert (found.sku, found.colour_code) == ("OY-2", "01")
        assert sku_of(session, UPC_12) == "OY-2"
        assert sku_of(session, "AB-3") == "AB-3"
        assert sku_of(session, "merr") is None


def test_only_eight_digits_and_more_are_looked_at_as_a_barcode(stocked: Engine) -> None:
    """EAN-8 is the shortest (GS1); words, and fewer digits, are never told to be a wrong one."""
    with writing(stocked) as session:
        put_yarn(session, "E-8", gtin="20000011")
    assert skus(stocked, text="2000 0011") == ["E-8"]
    with reading(stocked) as session:
        assert sku_of(session, "20000011") == "E-8"
        for text in ("1234567", "merrowfirth", "ninety-nine words", "١٢٣٤٥٦٧٨"):
            assert search_yarns(session, YarnQuery(text)).note is None
        for text in ("12345678", "123456789"):
            assert search_yarns(session, YarnQuery(text)).note is not None


def test_a_barcode_of_two_yarns_names_neither(stocked: Engine) -> None:
    with writing(stocked) as session:
        put_yarn(session, "OY-9", gtin=EAN_13)
    with reading(stocked) as session:
        assert sku_of(session, EAN_13) is None
    assert skus(stocked, text=EAN_13) == ["OY-1", "OY-9"]


def test_a_wrong_check_digit_is_said(stocked: Engine) -> None:
    with reading(stocked) as session:
        found = search_yarns(session, YarnQuery("6291041500214"))
    assert found.yarns == ()
    assert found.note is not None
    assert "would be 3" in english(found.note)


@pytest.mark.parametrize(
    ("wish", "found"),
    [
        ({"fibre": "cotton"}, ["AB-3"]),
        ({"stitches_low": 17.0, "stitches_high": 19.0}, ["OY-2"]),
        ({"category": 4}, ["OY-2"]),
        ({"category": 3}, ["AB-3", "OY-1"]),
        ({"machine": True}, ["OY-2"]),
        ({"price_to": Decimal("6.50")}, ["AB-3", "OY-1"]),
        ({"price_to": Decimal("6.49")}, []),
        ({"stitches_low": 18.0}, ["OY-2"]),
        ({"stitches_low": 18.1}, []),
        ({"stitches_high": 18.0}, ["OY-2"]),
        ({"stitches_high": 17.9}, []),
        ({"fibre": "wool"}, ["OY-1", "OY-2"]),
        ({"in_stock": True}, ["AB-3", "OY-1"]),
        ({"text": "merr", "in_stock": True}, ["OY-1"]),
        ({}, ["AB-3", "OY-1", "OY-2"]),
    ],
)
def test_what_a_yarn_is(stocked: Engine, wish: dict[str, object], found: list[str]) -> None:
    assert sorted(skus(stocked, **wish)) == found


@pytest.mark.parametrize(
    ("low", "high", "found"),
    [
        (24, 24, {2, 3}),
        (21, 21, {3}),
        (25, 28, {1, 2}),
        (20.5, 20.5, set()),
        (6, 6, {7}),
        (1, 1, {7}),
        (40, 40, {0}),
    ],
)
def test_a_category_is_met_by_the_bands_gauge(
    shelf: Engine, low: float, high: float, found: set[int]
) -> None:
    """Craft Yarn Council: 2 is 23-26 stitches, 3 is 21-24, 1 is 27-32, 7 is 6 and fewer."""
    label = a_label(gauge=a_band_gauge(low, to=high))
    with writing(shelf) as session:
        put_yarn(session, "T-1", label=label)
    assert {number for number in range(8) if skus(shelf, category=number)} == found


@pytest.mark.parametrize(
    ("metres", "found"),
    [
        (220, {3, 4}),
        (200, {3, 4}),
        (199, {4}),
        (221, {3}),
        (1, {7}),
        (40, {6, 7}),
        (51, {6}),
        (480, {0, 1}),
        (2000, {0}),
    ],
)
def test_a_category_is_met_by_the_length_where_there_is_no_gauge(
    shelf: Engine, metres: float, found: set[int]
) -> None:
    """Metres in 100 g by common practice: 3 is 200 to 260, 4 is 130 to 220, 6 is 40 to 90."""
    with writing(shelf) as session:
        put_yarn(session, "T-1", label=a_label(None, metres))
    assert {number for number in range(8) if skus(shelf, category=number)} == found


def test_skeins_that_are_on_hold_are_in_no_stock(shelf: Engine) -> None:
    lot = LotAtBranch("T-1", "01", "L1")
    with writing(shelf) as session:
        put_yarn(session, "T-1", lots=(a_lot(2, "L1"), a_lot(0, "L2", "02")))
        put_yarn(session, "T-2", lots=())

    def found() -> list[tuple[str, int, bool]]:
        in_stock = skus(shelf, in_stock=True)
        with reading(shelf) as session:
            yarns = search_yarns(session, YarnQuery()).yarns
        return [(one.sku, one.skeins, one.sku in in_stock) for one in yarns]

    assert found() == [("T-1", 2, True), ("T-2", 0, False)]
    for left in (1, 0):
        hold_skeins(Shop(shelf), HoldOrder(((lot, 1),)))
        assert found() == [("T-1", left, left > 0), ("T-2", 0, False)]


@pytest.mark.parametrize("text", ["", "moor", "oo"])
def test_fifty_are_shown_and_it_is_told_whether_there_are_more(shelf: Engine, text: str) -> None:
    """Whether they are all of the shelf, found by a word, or by letters inside a name."""
    with writing(shelf) as session:
        for number in range(50):
            put_yarn(session, f"T-{number:02d}", name=f"Moor {number:02d}", lots=())
    with reading(shelf) as session:
        found = search_yarns(session, YarnQuery(text))
    assert (len(found.yarns), found.more) == (50, False)
    with writing(shelf) as session:
        put_yarn(session, "T-50", name="Moor 50", lots=())
    with reading(shelf) as session:
        found = search_yarns(session, YarnQuery(text))
    assert ([one.name for one in found.yarns], found.more) == (
        [f"Moor {number:02d}" for number in range(50)], True,
    )  # fmt: skip


def test_a_yarn_of_three_words_that_begin_alike_is_shown_once(shelf: Engine) -> None:
    with writing(shelf) as session:
        for number in range(12):
            put_yarn(session, f"T-{number:02d}", name=f"Moor moors moorland {number:02d}", lots=())
    with reading(shelf) as session:
        suggested = suggest(session, "moor")
        assert len(set(suggested)) == len(suggested) == 10
        assert [name for _, name in suggested] == sorted(name for _, name in suggested)
        found = search_yarns(session, YarnQuery("moor"), most=11)
    assert (len({one.sku for one in found.yarns}), found.more) == (11, True)


def test_yarns_of_many_words_that_begin_alike_hide_no_other(shelf: Engine) -> None:
    with writing(shelf) as session:
        for n in range(20):
            put_yarn(session, f"Y-{n}", name=f"Soft Silk Sock Superwash Special Seed {n}")
        put_yarn(session, "Z-1", name="Tweed Swift")
    assert len(skus(shelf, text="s")) == 21
    with reading(shelf) as session:
        assert len(suggest(session, "s", 21)) == 21
        assert len(suggest(session, "s", 20)) == 20


def test_the_word_that_fewest_yarns_have_is_looked_up_first(stocked: Engine) -> None:
    """At most six words count, each once; three yarns have M or O, two 'mer', one 'tweed'."""
    with reading(stocked) as session:
        assert _rarest_first(session, ["oy", "mer", "tweed", "mer"]) == ["tweed", "oy", "mer"]
        assert _rarest_first(session, ["mer", "tweed"]) == ["tweed", "mer"]
        assert sorted(_rarest_first(session, list("abcdefgh"))) == list("abcdef")
    assert skus(stocked, text="oy 2 m t me tw zzz") == ["OY-2"]
    assert skus(stocked, text="oy 2 m t me zzz") == []


def test_retired_yarns_are_found_only_when_asked_for(stocked: Engine) -> None:
    with writing(stocked) as session:
        session.scalars(select(Yarn).where(Yarn.sku == "OY-1")).one().retired = True
    assert skus(stocked, text="merro") == []
    assert skus(stocked, text="merro", retired=True) == ["OY-1"]
    with reading(stocked) as session:
        assert suggest(session, "merro") == []


def test_a_new_name_is_found_and_the_old_one_is_not(stocked: Engine) -> None:
    with writing(stocked) as session:
        session.scalars(select(Yarn).where(Yarn.sku == "AB-3")).one().name = "Ellerbeck"
    assert skus(stocked, text="eller") == ["AB-3"]
    assert skus(stocked, text="quarr") == []


def test_a_removed_yarn_leaves_no_words(shelf: Engine) -> None:
    with writing(shelf) as session:
        session.delete(put_yarn(session, "X-1", lots=()))
        session.flush()
        assert session.scalars(select(YarnWord.word)).all() == []


def test_suggestions_are_the_first_few(stocked: Engine) -> None:
    with reading(stocked) as session:
        assert suggest(session, "m") == [("OY-2", "Merry Tweed"), ("OY-1", "Mérrowfirth Sock")]
        assert suggest(session, "tw mer") == [("OY-2", "Merry Tweed")]
        assert len(suggest(session, "m", most=1)) == 1
        assert suggest(session, "") == []
        assert suggest(session, EAN_13) == [("OY-1", "Mérrowfirth Sock")]


@pytest.mark.parametrize(
    ("text", "words"),
    [("Straße", ["strasse"]), ("8-ply DK", ["8", "ply", "dk"]), ("½", ["1", "2"]), ("-", [])],
)
def test_plain_words(text: str, words: list[str]) -> None:
    assert plain_words(text) == words
