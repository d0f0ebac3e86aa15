"""Adding and changing yarns, colours and measurements: every box is told, no change is lost."""

from datetime import date, datetime, time, timedelta

import pytest
from sqlalchemy import Engine, select

from shopdesk.craft.errors import InputError, InputErrors
from shopdesk.services.setting_changes import SettingsChanged, save_settings
from shopdesk.services.setting_changes import fingerprint as settings_fingerprint
from shopdesk.services.yarn_changes import (
    AlreadyThere,
    NewColour,
    YarnChanged,
    add_colour,
    add_measurement,
    add_yarn,
    edit_yarn,
    fingerprint,
    yarn_texts,
)
from shopdesk.shelf.loading import YarnUnknown, shelf_yarn
from shopdesk.shelf.writing import writing
from shopdesk.shop.shop import Shop
from shopdesk.store.database import reading
from shopdesk.store.models import Colourway
from tests.factories import a_wraps
from tests.shelf.rows import put_yarn

PLAIN = {"name": "Plain", "price": "6.50"}
MOSS = NewColour("14", "Moss", "green")


@pytest.fixture
def shop(shelf: Engine) -> Shop:
    with writing(shelf) as session:
        put_yarn(session, "T-1", lots=())
    return Shop(shelf)


def problems(change: object, *given: object) -> dict[str, str]:
    with pytest.raises(InputErrors) as refused:
        change(*given)  # type: ignore[operator]
    return {".".join(map(str, one.path)): str(one) for one in refused.value.problems}


def test_a_new_yarn_is_what_its_texts_say(shop: Shop) -> None:
    texts = {**PLAIN, "put_up": "50 g / 125 m", "fibres": "wool 75, silk 25", "hand_dyed": "yes"}
    add_yarn(shop, "x" * 40, texts)
    with reading(shop.engine) as session:
        yarn = shelf_yarn(session, "x" * 40)
    assert yarn is not None
    assert (yarn.name, str(yarn.price), yarn.hand_dyed) == ("Plain", "6.50", True)
    assert [(share.fibre, share.percent) for share in yarn.label.fibres] == [
        ("wool", 75),
        ("silk", 25),
    ]
    add_yarn(shop, "x", PLAIN)
    with pytest.raises(AlreadyThere) as refused:
        add_yarn(shop, "T-1", PLAIN)
    assert refused.value.field == "sku"


def test_every_box_of_a_yarn_is_told_at_once(shop: Shop) -> None:
    assert problems(add_yarn, shop, "", {}).keys() == {"sku", "price"}
    assert problems(add_yarn, shop, "x" * 41, {**PLAIN, "plies": "65"}).keys() == {"sku", "plies"}
    assert problems(add_yarn, shop, "T-2", {**PLAIN, "price": ""}).keys() == {"price"}
    assert problems(add_yarn, shop, "T-2", {**PLAIN, "count_system": "Nm"}).keys() == {""}


def test_a_yarn_that_was_changed_since_is_not_saved_over(shop: Shop) -> None:
    """Who saves second is told what differs from what is stored, both ways as it is written."""
    first = second = yarn_texts(shop, "T-1")
    assert first.seen == fingerprint(first.texts)
    edit_yarn(shop, "T-1", {**first.texts, "notes": "in the window"}, first.seen)
    typed = {**second.texts, "price": "7"}
    with pytest.raises(YarnChanged) as refused:
        edit_yarn(shop, "T-1", typed, second.seen)
    assert set(refused.value.differing) == {
        ("notes", "in the window", ""),
        ("price", "6.50", "7.00"),
    }
    edit_yarn(shop, "T-1", typed, refused.value.seen)
    now = yarn_texts(shop, "T-1").texts
    assert (now["price"], now["notes"]) == ("7.00", "")
    with pytest.raises(YarnUnknown):
        edit_yarn(shop, "T-9", typed, "")


def test_texts_that_cannot_be_are_compared_as_they_are(shop: Shop) -> None:
    with pytest.raises(YarnChanged) as refused:
        edit_yarn(shop, "T-1", {"plies": "many", "unheard": "x"}, "another")
    assert refused.value.differing == (("plies", "", "many"),)


def test_the_yarn_of_which_nothing_is_said(shop: Shop) -> None:
    empty = yarn_texts(shop).texts
    assert {empty[name] for name in ("name", "price", "fibres", "notes")} == {""}
    assert (empty["hand_dyed"], yarn_texts(shop, "T-1").texts["price"]) == ("no", "6.50")
    with pytest.raises(YarnUnknown):
        yarn_texts(shop, "T-9")


def test_any_change_of_a_text_changes_what_was_seen() -> None:
    assert fingerprint({"a": "1", "b": "2"}) == fingerprint({"b": "2", "a": "1"})
    seen = {fingerprint({"a": a, "b": b}) for a in ("", "1", "2") for b in ("", "1", "2")}
    assert len(seen) == 9


def test_a_new_colour(shop: Shop) -> None:
    """Codes have one letter to 40, names one to 80."""
    add_colour(shop, "T-1", MOSS)
    add_colour(shop, "T-1", NewColour("7", "X", "blue"))
    add_colour(shop, "T-1", NewColour("x" * 40, "y" * 80, "red", True, "036000291452"))
    with reading(shop.engine) as session:
        colours = session.scalars(select(Colourway).order_by(Colourway.id)).all()
    assert [(one.code, one.name, one.family, one.dark, one.gtin) for one in colours] == [
        ("14", "Moss", "green", False, None),
        ("7", "X", "blue", False, None),
        ("x" * 40, "y" * 80, "red", True, "036000291452"),
    ]
    with pytest.raises(AlreadyThere) as refused:
        add_colour(shop, "T-1", MOSS)
    assert refused.value.field == "code"
    with pytest.raises(YarnUnknown):
        add_colour(shop, "T-9", MOSS)


def test_every_box_of_a_colour_is_told_at_once(shop: Shop) -> None:
    boxes = {"code", "colour_name", "family", "gtin"}
    assert problems(add_colour, shop, "T-1", NewColour("", "", "", gtin="1")).keys() == boxes
    long = NewColour("x" * 41, "y" * 81, "plaid", gtin="036000291453")
    assert problems(add_colour, shop, "T-1", long).keys() == boxes


def test_no_name_is_taken_that_a_list_would_refuse(shop: Shop) -> None:
    """A no-break space comes with what is pasted; no list could name such a thing again."""
    assert "no text" in problems(add_yarn, shop, "AB\u00a012", PLAIN)["sku"]
    for name in ("1\u00a04", "1\t4"):
        told = problems(add_colour, shop, "T-1", NewColour(name, name, "green"))
        assert told.keys() == {"code", "colour_name"}


def test_no_measurement_is_of_a_day_to_come(shop: Shop) -> None:
    today = date(2026, 3, 2)
    noon = datetime.combine(today, time(12)).astimezone()
    there = Shop(shop.engine, clock=lambda: noon)
    add_measurement(there, "T-1", a_wraps(on=today))
    with pytest.raises(InputError) as refused:
        add_measurement(there, "T-1", a_wraps(on=today + timedelta(days=1)))
    assert refused.value.field == "on"
    with reading(shop.engine) as session:
        yarn = shelf_yarn(session, "T-1")
    assert yarn is not None
    assert [one.on for one in yarn.measurements] == [today]


def test_settings_that_were_changed_since_are_not_saved_over(shop: Shop) -> None:
    seen = settings_fingerprint(shop.settings())
    save_settings(shop, {"hold_days": "9"}, seen)
    assert shop.settings().hold_days == 9
    with pytest.raises(SettingsChanged) as refused:
        save_settings(shop, {"hold_days": "10"}, seen)
    assert shop.settings().hold_days == 9
    save_settings(shop, {"hold_days": "10"}, refused.value.seen)
    assert shop.settings().hold_days == 10
