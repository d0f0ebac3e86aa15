"""Finding yarns by barcode, words and what they are, on both kinds of database."""

from decimal import Decimal

import pytest
from sqlalchemy import Engine, select

from shopdesk.shelf.index_keeping import plain_words
from shopdesk.shelf.search import YarnQuery, search_yarns, sku_of, suggest
from shopdesk.shelf.writing import writing
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
        ({"in_stock": True}, ["AB-3", "OY-1"]),
        ({"text": "merr", "in_stock": True}, ["OY-1"]),
        ({}, ["AB-3", "OY-1", "OY-2"]),
    ],
)
def test_what_a_yarn_is(stocked: Engine, wish: dict[str, object], found: list[str]) -> None:
    assert sorted(skus(stocked, **wish)) == found


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
