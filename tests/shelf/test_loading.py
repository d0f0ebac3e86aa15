"""Loading: what was stored comes back as plain yarns, in few SELECTs whatever their number."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest
from sqlalchemy import Engine, event, select

from shopdesk.craft.yarn import (
    CareLabel,
    Construction,
    Craft,
    LabelFacts,
    LotStock,
    PutUp,
    ShelfYarn,
    YarnCount,
)
from shopdesk.services.holds import HoldOrder, hold_skeins
from shopdesk.shelf import loading
from shopdesk.shelf.branch_lots import LotAtBranch
from shopdesk.shelf.loading import shelf_yarn, shelf_yarns, yarn_keys
from shopdesk.shelf.stock import receive, sell
from shopdesk.shelf.writing import writing
from shopdesk.shop.shop import Shop
from shopdesk.store.database import reading
from shopdesk.store.models import Branch, Colourway, Yarn
from shopdesk.store.settings import ShopSettings, save_settings
from tests.factories import (
    a_band_gauge,
    a_blend,
    a_care,
    a_label,
    a_lot,
    a_swatch,
    a_weighing,
    a_wraps,
    a_yarn,
)
from tests.shelf.rows import put_yarn

FULL_LABEL = LabelFacts(
    weight_name="DK",
    put_up=PutUp(50, 112.4712),
    printed_put_up="50 g / 123 yd",
    count=YarnCount("2/28", "nm"),
    gauge=a_band_gauge(21, 28, 4.0, to=22),
    crochet_gauge=a_band_gauge(16, None, 4.5, craft=Craft.CROCHET),
    plies=4,
    construction=Construction.CABLED,
    fibres=a_blend("wool 72.5, polyamide 20, elastane 7.5"),
    attributes=frozenset({"merino", "superwash"}),
    care=a_care(40, "mild", bleach="none", iron_c=0),
)
MEASURED = (
    a_wraps(11, date(2026, 1, 5), by="MB"),
    a_swatch(21.65, None, 3.75, date(2026, 2, 1), washed=True, hand="tight", from_customer=True),
    a_weighing(10, 4.5, date(2026, 3, 1)),
)


def test_a_yarn_comes_back_as_it_was_stored(shelf: Engine) -> None:
    lots = (
        a_lot(4, "L1", gtin="2100101000010", branch="main"),
        a_lot(6, "L2", gtin="2100101000010", branch="main"),
    )
    stored = a_yarn(
        "T-1", label=FULL_LABEL, measurements=MEASURED, lots=lots, gtin="2100101000003",
        notes="say <b>it</b>",
    )  # fmt: skip
    with writing(shelf) as session:
        put_yarn(
            session, "T-1", label=FULL_LABEL, measurements=MEASURED, lots=lots,
            gtin="2100101000003", notes="say <b>it</b>",
        )  # fmt: skip
    with reading(shelf) as session:
        assert list(shelf_yarns(session)) == [stored]
        assert shelf_yarn(session, "T-1") == stored


def test_a_label_that_says_nothing_stays_silent(shelf: Engine) -> None:
    with writing(shelf) as session:
        put_yarn(session, label=LabelFacts())
    with reading(shelf) as session:
        (yarn,) = shelf_yarns(session)
    assert yarn.label == LabelFacts()
    assert yarn.label.care is None


def test_care_on_one_axis_leaves_the_others_unknown(shelf: Engine) -> None:
    with writing(shelf) as session:
        put_yarn(session, label=LabelFacts(care=CareLabel(tumble="none")))
    with reading(shelf) as session:
        (yarn,) = shelf_yarns(session)
    assert yarn.label.care == CareLabel(tumble="none")


@pytest.mark.parametrize(("currency", "price"), [("EUR", "6.50"), ("JPY", "650"), ("KWD", "0.650")])
def test_prices_are_in_the_shop_s_currency(shelf: Engine, currency: str, price: str) -> None:
    """ISO 4217 minor units: EUR 2, JPY 0, KWD 3."""
    with writing(shelf) as session:
        save_settings(session, ShopSettings(currency=currency))
        put_yarn(session, price_minor=650)
    with reading(shelf) as session:
        (yarn,) = shelf_yarns(session)
    assert yarn.price == Decimal(price)
    assert str(yarn.price) == price


def test_retired_yarns_are_not_on_offer(shelf: Engine) -> None:
    with writing(shelf) as session:
        put_yarn(session, "T-1")
        put_yarn(session, "T-2").retired = True
    with reading(shelf) as session:
        assert [yarn.sku for yarn in shelf_yarns(session)] == ["T-1"]
        gone = shelf_yarn(session, "T-2")
        assert gone is not None
        assert gone.sku == "T-2"
        assert shelf_yarn(session, "T-3") is None


def lots_of(yarn: ShelfYarn) -> list[tuple[str, str | None, int, str]]:
    return [(lot.colour_code, lot.lot, lot.available, lot.branch) for lot in yarn.lots]


def test_a_sold_out_colour_stays_to_be_ordered_and_a_retired_one_goes(shelf: Engine) -> None:
    with writing(shelf) as session:
        put_yarn(
            session, "T-1", lots=(a_lot(2, "A", "01"), a_lot(3, "B", "02"), a_lot(1, "C", "03"))
        )
        for colour in session.scalars(select(Colourway).where(Colourway.code.in_(("02", "03")))):
            colour.retired = True
        sell(session, LotAtBranch("T-1", "01", "A"), 2)
        sell(session, LotAtBranch("T-1", "02", "B"), 3)
    with reading(shelf) as session:
        (yarn,) = shelf_yarns(session)
    assert lots_of(yarn) == [("01", None, 0, ""), ("03", "C", 1, "main")]


def test_a_lot_that_is_all_on_hold_has_nothing_to_promise(shelf: Engine) -> None:
    """Its colour stays, as one that is sold out; a lot of which one is free is named."""
    with writing(shelf) as session:
        put_yarn(session, "T-1", lots=(a_lot(2, "A", "01"), a_lot(1, "B", "02")))
    hold_skeins(Shop(shelf), HoldOrder(((LotAtBranch("T-1", "01", "A"), 2),)))
    with reading(shelf) as session:
        (yarn,) = shelf_yarns(session)
    assert lots_of(yarn) == [("01", None, 0, ""), ("02", "B", 1, "main")]


def test_a_lot_without_a_number_and_a_colours_own_facts(shelf: Engine) -> None:
    with writing(shelf) as session:
        put_yarn(session, "T-1", lots=(a_lot(2, None, "01", gtin="036000291452"),))
        session.scalars(select(Colourway)).one().dark = True
    with reading(shelf) as session:
        (yarn,) = shelf_yarns(session)
    assert yarn.lots == (
        LotStock("01", "Slate", "grey", None, 2, "036000291452", "main", dark=True),
    )


def test_stock_is_seen_branch_by_branch(shelf: Engine) -> None:
    with writing(shelf) as session:
        session.add(Branch(code="north", name="North"))
        put_yarn(session, "T-1", lots=(a_lot(2, "A", "01"),))
        receive(session, LotAtBranch("T-1", "01", "A", "north"), 5)
    with reading(shelf) as session:
        (yarn,) = shelf_yarns(session)
    assert lots_of(yarn) == [("01", "A", 2, "main"), ("01", "A", 5, "north")]


def test_stock_can_be_loaded_later_for_some(shelf: Engine) -> None:
    with writing(shelf) as session:
        for sku in ("T-1", "T-2", "T-3"):
            put_yarn(session, sku, lots=(a_lot(2, "A", "01", branch="main"),))
    with reading(shelf) as session:
        keys = yarn_keys(session, ["T-3", "T-1", "T-9"])
        assert set(keys) == {"T-1", "T-3"}
        bare = tuple(shelf_yarns(session, keys.values(), with_stock=False))
        assert [(yarn.sku, yarn.lots) for yarn in bare] == [("T-1", ()), ("T-3", ())]
        full = tuple(shelf_yarns(session, keys.values()))
        assert [replace(yarn, lots=()) for yarn in full] == list(bare)
        assert lots_of(full[1]) == [("01", "A", 2, "main")]


def test_batches_give_the_same_yarns(shelf: Engine, monkeypatch: pytest.MonkeyPatch) -> None:
    with writing(shelf) as session:
        for number in range(7):
            put_yarn(session, f"T-{number}", measurements=MEASURED)
    with reading(shelf) as session:
        at_once = list(shelf_yarns(session))
        monkeypatch.setattr(loading, "BATCH", 2)
        assert list(shelf_yarns(session)) == at_once
        assert list(shelf_yarns(session, range(1, 99))) == at_once
    assert len(at_once) == 7


def test_the_number_of_selects_does_not_grow_with_the_yarns(shelf: Engine) -> None:
    def selects() -> int:
        ran: list[str] = []
        event.listen(shelf, "before_cursor_execute", lambda *call: ran.append(call[2]))
        with reading(shelf) as session:
            assert list(shelf_yarns(session))
        return sum(statement.startswith("SELECT") for statement in ran)

    with writing(shelf) as session:
        put_yarn(session, "T-0", lots=(a_lot(1, "A"), a_lot(2, "B")))
    one = selects()
    with writing(shelf) as session:
        for number in range(1, 30):
            put_yarn(session, f"T-{number}", lots=(a_lot(1, "A"), a_lot(2, "B")))
    assert selects() == one
    assert one < 12


def test_label_and_measurement_never_mix(shelf: Engine) -> None:
    label = a_label("DK", 225, gauge=a_band_gauge(22, 30, 4.0))
    with writing(shelf) as session:
        put_yarn(session, label=label, measurements=(a_swatch(19, 25, 5.0), a_weighing(10, 5)))
    with reading(shelf) as session:
        (yarn,) = shelf_yarns(session)
        assert session.scalars(select(Yarn.knit_stitches_low)).one() == 22
    assert yarn.label == label
    assert [m.stitches for m in yarn.measurements] == [19, None]
