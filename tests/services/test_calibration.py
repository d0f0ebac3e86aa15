"""The shop's calibration: each swatch beside the range that was stated before it came."""

from datetime import date
from typing import Any

import pytest
from sqlalchemy import Engine

from shopdesk.craft.yarn import Measurement
from shopdesk.services.calibration import ShopCalibration, shop_calibration
from shopdesk.shelf.writing import writing
from shopdesk.shop.shop import Shop
from tests.factories import a_band_gauge, a_label, a_swatch, a_wraps
from tests.shelf.rows import put_yarn


def brought(day: int, stitches: float, **facts: Any) -> Measurement:
    """A swatch that a customer brought on a day of May, unasked unless said otherwise."""
    facts.setdefault("from_customer", True)
    return a_swatch(stitches, on=date(2026, 5, day), by=f"hand {day}", **facts)


def asked(day: int, stitches: float, **facts: Any) -> Measurement:
    return brought(day, stitches, asked_for=True, **facts)


def calibrated(shelf: Engine, **yarns: tuple[Measurement, ...]) -> ShopCalibration:
    """Puts yarns on the shelf with 22 stitches on 4 mm by their bands, and looks at them."""
    with writing(shelf) as session:
        for sku, swatches in yarns.items():
            label = a_label(None, 230, gauge=a_band_gauge(22, mm=4.0))
            put_yarn(session, sku, name=f"Wool {sku}", label=label, measurements=swatches)
    return shop_calibration(Shop(shelf))


def test_without_a_swatch_there_is_nothing_to_compare(shelf: Engine) -> None:
    found = calibrated(shelf, A=(a_wraps(),))
    assert (found.asked, found.unasked, found.yarns) == (None, None, ())


def test_those_asked_for_or_made_here_are_apart_from_the_others(shelf: Engine) -> None:
    made_here = a_swatch(22, on=date(2026, 5, 1), by="AB")
    found = calibrated(shelf, A=(made_here, asked(2, 22), brought(3, 30)), B=(brought(4, 12),))
    assert found.asked is not None
    assert (found.asked.count, found.asked.inside) == (2, 2)
    assert found.asked.mean_share == pytest.approx(0, abs=1e-3)
    assert found.unasked is not None
    assert (found.unasked.count, found.unasked.inside) == (2, 0)
    # 30 and 12 for 22: 36.4 % above, 45.5 % below.
    assert found.unasked.mean_share == pytest.approx((30 / 22 + 12 / 22) / 2 - 1, abs=0.01)
    first, second = found.yarns
    assert (first.sku, second.sku) == ("A", "B")
    assert first.asked is not None
    assert first.unasked is not None
    assert second.asked is None


def test_a_swatch_is_held_against_what_was_stated_before_it(shelf: Engine) -> None:
    """The first beside the band alone; the last beside a range that the others narrowed."""
    many = tuple(asked(day, 22) for day in range(1, 9))
    [yarn] = calibrated(shelf, A=many).yarns
    first, last = yarn.deviations[0].stated, yarn.deviations[-1].stated
    assert (first.low, first.high) != (last.low, last.high)
    assert last.high - last.low < first.high - first.low
    assert yarn.stated == last


def test_another_needle_is_allowed_for(shelf: Engine) -> None:
    # Gauge falls as the tool grows: 22 stitches on 5 mm are more on the band's 4 mm.
    [yarn] = calibrated(shelf, A=(asked(1, 22, mm=5.0),)).yarns
    assert yarn.deviations[0].stitches > 23
    assert yarn.deviations[0].share > 0.05


def test_what_is_no_plain_swatch_of_one_strand_is_left_out(shelf: Engine) -> None:
    found = calibrated(
        shelf, A=(asked(1, 22, stitch_pattern="garter"), asked(2, 15, strands=2), asked(3, 22))
    )
    assert found.asked is not None
    assert found.asked.count == 1


def test_a_yarn_of_which_nothing_was_known_starts_with_its_second(shelf: Engine) -> None:
    with writing(shelf) as session:
        bare = a_label(None, None)
        put_yarn(session, "X", label=bare, measurements=(asked(1, 20), asked(2, 20)))
    found = shop_calibration(Shop(shelf))
    assert found.asked is not None
    assert found.asked.count == 1
