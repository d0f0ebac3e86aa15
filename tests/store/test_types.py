"""Exact decimals, moments, prices and article keys survive the database."""

from datetime import UTC, datetime, timedelta, timezone
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st
from sqlalchemy import Engine, select
from sqlalchemy.exc import StatementError

from shopdesk.craft.money import from_minor
from shopdesk.parsing.gtins import article_key
from shopdesk.shelf.mapping import PriceRefused, to_minor
from shopdesk.shelf.writing import writing
from shopdesk.store.database import reading
from shopdesk.store.models import StockMovement, Yarn, YarnFibre
from shopdesk.store.types import can_be_number
from tests.shelf.rows import put_yarn


@pytest.mark.parametrize(
    ("number", "fits"),
    [(0, False), (-1, False), (1, True), (2_147_483_647, True), (2_147_483_648, False)],
)
def test_numbers_that_an_integer_column_holds(number: int, fits: bool) -> None:
    """PostgreSQL's integer goes up to 2147483647."""
    assert can_be_number(number) is fits


@pytest.mark.parametrize("percent", ["33.3", "0.1", "66.6", "100", "7E+1"])
def test_a_share_comes_back_exactly(shelf: Engine, percent: str) -> None:
    with writing(shelf) as session:
        put_yarn(session).fibres[0].percent = Decimal(percent)
    with reading(shelf) as session:
        assert session.scalars(select(YarnFibre.percent)).one() == Decimal(percent)


def test_a_moment_comes_back_in_utc_whatever_its_zone(shelf: Engine) -> None:
    noon_in_ostrevale = datetime(2026, 7, 1, 12, 0, 0, 123456, timezone(timedelta(hours=1)))
    with writing(shelf) as session:
        put_yarn(session)
        session.scalars(select(StockMovement)).one().at = noon_in_ostrevale
    with reading(shelf) as session:
        moment = session.scalars(select(StockMovement.at)).one()
    assert moment == noon_in_ostrevale
    assert moment.utcoffset() == timedelta(0)


def test_a_moment_without_a_zone_is_refused(shelf: Engine) -> None:
    with writing(shelf) as session:
        put_yarn(session)
    wanted = select(StockMovement).where(StockMovement.at < datetime(2026, 7, 1))
    with pytest.raises(StatementError, match="has no time zone"), reading(shelf) as session:
        session.scalars(wanted).all()
    with reading(shelf) as session:
        in_utc = StockMovement.at < datetime(2100, 1, 1, tzinfo=UTC)
        assert len(session.scalars(select(StockMovement).where(in_utc)).all()) == 1


# ISO 4217 minor units: EUR 2, JPY 0, KWD 3.
@pytest.mark.parametrize(
    ("amount", "currency", "minor"),
    [("6.50", "EUR", 650), ("6.5", "EUR", 650), ("650", "JPY", 650), ("0.650", "KWD", 650)],
)
def test_prices_are_whole_minor_units(amount: str, currency: str, minor: int) -> None:
    assert to_minor(Decimal(amount), currency) == minor
    assert from_minor(minor, currency) == Decimal(amount)


@pytest.mark.parametrize(
    ("amount", "currency"), [("6.505", "EUR"), ("6.5", "JPY"), ("-1", "EUR"), ("9" * 12, "EUR")]
)
def test_what_is_no_price_is_refused(amount: str, currency: str) -> None:
    with pytest.raises(PriceRefused, match="write an amount from 0 with at most"):
        to_minor(Decimal(amount), currency)


@given(st.integers(0, 2_000_000_000), st.sampled_from(["EUR", "JPY", "KWD"]))
def test_minor_units_come_back(minor: int, currency: str) -> None:
    assert to_minor(from_minor(minor, currency), currency) == minor


def test_all_forms_of_an_article_number_share_a_key() -> None:
    """GS1 General Specifications: shorter GTINs stand right-aligned in 14 digits."""
    forms = ["614141999996", "0614141999996", "00614141999996", "6 14141 99999 6"]
    assert {article_key(form) for form in forms} == {"00614141999996"}


def test_the_key_follows_the_barcode(shelf: Engine) -> None:
    with writing(shelf) as session:
        yarn = put_yarn(session, gtin="614141999996")
        assert yarn.gtin_key == "00614141999996"
        yarn.gtin = None
    with reading(shelf) as session:
        assert session.scalars(select(Yarn.gtin_key)).one() is None
