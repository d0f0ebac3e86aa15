"""Settings: read strictly, told field by field, kept whole."""

from dataclasses import fields
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st
from sqlalchemy import Engine

from shopdesk.craft.errors import InputErrors
from shopdesk.shelf.writing import writing
from shopdesk.store.database import reading
from shopdesk.store.models import Setting
from shopdesk.store.settings import (
    PAPERS,
    SETTINGS,
    ShopSettings,
    load_settings,
    read_settings,
    save_settings,
)
from shopdesk.wording.translate import english
from tests.shelf.rows import put_yarn


def refused(texts: dict[str, str]) -> list[str]:
    with pytest.raises(InputErrors) as told:
        read_settings(texts)
    return [str(problem) for problem in told.value.problems]


def test_every_field_has_a_reader() -> None:
    assert list(SETTINGS) == [field.name for field in fields(ShopSettings)]


def test_an_unsaved_shop_has_the_defaults(shelf: Engine) -> None:
    with reading(shelf) as session:
        assert load_settings(session) == ShopSettings()


def test_saved_settings_come_back(shelf: Engine) -> None:
    settings = ShopSettings(
        shop_name="Wool & <Sons>",
        address="1 Quay\nOstrevale",
        currency="GBP",
        tax_included=False,
        units="both",
        crochet_terms="UK",
        paper="roll-80",
        allowance_percent=Decimal("12.5"),
        country="GB",
        language="en-GB",
        return_wording="Within 28 days.",
        hold_days=7,
        swatch_reminder_days=21,
        keep_names_days=90,
    )
    with writing(shelf) as session:
        save_settings(session, ShopSettings())
        save_settings(session, settings)
    with reading(shelf) as session:
        assert load_settings(session) == settings


def test_what_is_not_written_stays_as_it_was() -> None:
    before = ShopSettings(shop_name="Wool", hold_days=3)
    after = read_settings({"hold_days": "5"}, before)
    assert (after.shop_name, after.hold_days) == ("Wool", 5)


def test_terms_and_voice_follow_the_settings() -> None:
    settings = read_settings(
        {"currency": "usd", "tax_included": "no", "country": "us", "language": "en_US"}
    )
    assert settings.terms().currency == "USD"
    assert settings.terms().tax_included is False
    assert settings.terms().country == "US"
    assert settings.reader().language == "en-US"
    assert settings.reader("de").language == "de"


def test_every_problem_is_told_with_its_field() -> None:
    problems = refused({"shop_name": " ", "currency": "XYZ", "country": "England", "colour": "red"})
    assert problems == [
        "shop_name: nothing is written here; write the shop's name, 80 letters at most",
        "currency: 'XYZ' is not a currency's code; write an ISO 4217 code such as EUR, GBP or USD",
        "country: 'England' is not a country's code; "
        "write an ISO 3166 code such as GB, US or DE, or nothing for the strictest rules",
        "colour: this setting is not known; known are " + ", ".join(SETTINGS),
    ]


BAD_TEXTS = ["abc", "-1", "1e9", "NaN", "1_0", "٣", "<b>", "x" * 400, "10,000", "1 000 000"]


@pytest.mark.parametrize("text", BAD_TEXTS)
@pytest.mark.parametrize(
    "name",
    ["allowance_percent", "hold_days", "swatch_reminder_days", "keep_names_days", "currency",
     "tax_included", "units", "crochet_terms", "paper", "country", "language"],
)  # fmt: skip
def test_bad_texts_are_refused(name: str, text: str) -> None:
    (problem,) = refused({name: text})
    assert problem.startswith(f"{name}: ")
    assert problem.endswith(english(SETTINGS[name].right))


@pytest.mark.parametrize(
    ("text", "value"), [("10", "10"), ("12,5", "12.5"), ("7 1/2", "7.5"), ("0", "0"), ("50", "50")]
)
def test_an_allowance_is_written_as_people_write(text: str, value: str) -> None:
    assert read_settings({"allowance_percent": text}).allowance_percent == Decimal(value)


def test_half_a_day_is_refused() -> None:
    assert refused({"hold_days": "1.5"}) == [
        "hold_days: 1.5 is not a whole number from 1 to 365; "
        "write a whole number of days from 1 to 365"
    ]


def test_control_characters_are_refused() -> None:
    (problem,) = refused({"shop_name": "Wool\x00shop"})
    assert problem.startswith("shop_name: it holds control characters")


@given(
    st.builds(
        ShopSettings,
        shop_name=st.from_regex(r"[A-Z][a-z]{0,40}", fullmatch=True),
        currency=st.sampled_from(["EUR", "JPY", "KWD"]),
        tax_included=st.booleans(),
        paper=st.sampled_from(PAPERS),
        allowance_percent=st.decimals(0, 50, places=2),
        country=st.sampled_from(["", "GB", "US", "DE"]),
        language=st.sampled_from(["en", "en-GB", "de-AT", "fr"]),
        hold_days=st.integers(1, 365),
    )
)
def test_settings_survive_being_written_and_read(settings: ShopSettings) -> None:
    assert read_settings(settings.texts()) == settings


def test_a_setting_of_a_newer_version_is_left_alone(shelf: Engine) -> None:
    with writing(shelf) as session:
        session.add(Setting(name="window_display", value="whatever"))
    with writing(shelf) as session:
        save_settings(session, load_settings(session))
    with reading(shelf) as session:
        assert session.get(Setting, "window_display") is not None
        assert load_settings(session) == ShopSettings()


def test_prices_keep_their_currency_s_decimals(shelf: Engine) -> None:
    """ISO 4217: EUR and GBP have two decimals, JPY none."""
    with writing(shelf) as session:
        put_yarn(session, "T-1", price_minor=650)
    yen = ShopSettings(currency="JPY")
    in_eur = "prices on the shelf are in EUR"
    with pytest.raises(InputErrors, match=in_eur), writing(shelf) as session:
        save_settings(session, yen)
    with writing(shelf) as session:
        save_settings(session, ShopSettings(currency="GBP"))
    with reading(shelf) as session:
        assert load_settings(session).currency == "GBP"
