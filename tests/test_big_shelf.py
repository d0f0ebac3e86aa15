"""The big shelf is one that the shop could have filled itself, and it is varied."""

import random
from collections import Counter
from decimal import Decimal

from sqlalchemy import Engine, func, select

from shopdesk.craft.blend import attribute_named, checked_blend
from shopdesk.craft.care import checked_care
from shopdesk.craft.counts import count_tex
from shopdesk.craft.weights import categories_named
from shopdesk.craft.yarn import MeasurementKind, YarnCount
from shopdesk.parsing.gtins import read_gtin
from shopdesk.reference.tables import table
from shopdesk.shelf.branch_lots import LotAtBranch
from shopdesk.shelf.loading import shelf_yarns
from shopdesk.shelf.search import sku_of, suggest
from shopdesk.shelf.stock import discrepancies, receive
from shopdesk.shelf.writing import writing
from shopdesk.store.database import reading
from shopdesk.store.models import Colourway, Stock, StockMovement, Yarn
from tests.big_shelf import put_big_shelf
from tests.house_yarns import AXES, HouseYarn, house_yarn
from tests.shelf.rows import put_yarn


def many(number: int = 3000) -> list[HouseYarn]:
    """Returns so many invented yarns."""
    chance = random.Random(5)
    return [house_yarn(chance, key) for key in range(1, number + 1)]


def test_a_shelf_is_filled_and_can_be_worked_on(shelf: Engine) -> None:
    put_big_shelf(shelf, 150, colours=5, lots=2)
    with reading(shelf) as session:
        counted = [session.scalar(select(func.count()).select_from(t)) for t in (Yarn, Stock)]
        assert counted == [150, 1500]
        assert session.scalar(select(func.count()).select_from(StockMovement)) == 1500
        assert list(discrepancies(session)) == []
        on_hand = session.scalars(select(Stock.on_hand)).all()
        assert (min(on_hand), max(on_hand)) == (0, 30)
        offered = list(shelf_yarns(session))
        assert 120 < len(offered) < 150
        assert all(len({lot.colour_code for lot in yarn.lots}) >= 4 for yarn in offered)
        assert [sku for sku, _ in suggest(session, "HY-000007")] == ["HY-000007"]
        gtin = session.scalars(select(Colourway.gtin).where(Colourway.gtin.is_not(None))).first()
        assert gtin is not None
        assert read_gtin(gtin).in_store
        assert sku_of(session, gtin) == "HY-000001"


def test_new_lots_and_yarns_can_follow(shelf: Engine) -> None:
    put_big_shelf(shelf, 3, colours=2, lots=1)
    with writing(shelf) as session:
        assert receive(session, LotAtBranch("HY-000002", "01", "A new lot"), 4) == 4
        assert put_yarn(session, "T-1").id == 4


def test_the_same_seed_gives_the_same_shelf() -> None:
    assert many(40) == many(40)


def test_every_yarn_is_one_that_could_be_typed_in() -> None:
    for yarn in many(600):
        row = yarn.row
        checked_blend(yarn.fibres)
        assert sum(percent for _, percent in yarn.fibres) == Decimal(100)
        assert all(attribute_named(word) == word for word in yarn.attributes)
        checked_care({axis: row[axis] for axis in AXES})
        assert row["weight_name"] is None or categories_named(row["weight_name"])
        if row["count_written"] is not None:
            assert 10 < count_tex(YarnCount(row["count_written"], row["count_system"])) < 5000
        assert {one["kind"] for one in yarn.measured} <= set(MeasurementKind)
        stitches = row["knit_stitches_low"]
        assert stitches is None or stitches * 2 == int(stitches * 2)


def test_the_yarns_are_varied() -> None:
    yarns = many()
    labels = {tuple(yarn.row[axis] for axis in AXES) for yarn in yarns} - {(None,) * len(AXES)}
    assert 50 <= len(labels) <= 70
    shares = {
        "care": sum(yarn.row["bleach"] is not None for yarn in yarns),
        "gauge": sum(yarn.row["knit_stitches_low"] is not None for yarn in yarns),
        "range": sum(
            yarn.row["knit_stitches_low"] != yarn.row["knit_stitches_high"] for yarn in yarns
        ),
        "count": sum(yarn.row["count_written"] is not None for yarn in yarns),
        "measured": sum(bool(yarn.measured) for yarn in yarns),
        "retired": sum(yarn.row["retired"] for yarn in yarns),
    }
    kept = {what: number / len(yarns) for what, number in shares.items()}
    assert 0.77 < kept["care"] < 0.83
    assert 0.75 < kept["gauge"] < 0.9
    assert 0.2 < kept["range"] < 0.4
    assert 0.03 < kept["count"] < 0.1
    assert 0.3 < kept["measured"] < 0.6
    assert 0.02 < kept["retired"] < 0.06


def test_every_weight_and_most_fibres_are_there() -> None:
    yarns = many()
    named = Counter(
        number
        for yarn in yarns
        if yarn.row["weight_name"]
        for number in categories_named(yarn.row["weight_name"])
    )
    assert set(named) >= set(range(7))
    assert {number for number, _ in named.most_common(3)} == {1, 3, 4}
    fibres = {fibre for yarn in yarns for fibre, _ in yarn.fibres}
    known = {row["key"] for row in table("fibres")}
    assert fibres <= known
    assert len(fibres) > 20
