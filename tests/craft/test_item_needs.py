"""What is estimated where the pattern gives no amount, against what has been published."""

from dataclasses import replace
from itertools import product

import pytest

from shopdesk.craft.fabric import pattern_fabrics
from shopdesk.craft.figures import Figure
from shopdesk.craft.gauge import rows_guess
from shopdesk.craft.item_needs import is_rough, need_from_item
from shopdesk.craft.items import Measurements, item_models
from shopdesk.reference.tables import table
from tests.craft.back_test import Row, read, rows, told, without_memory

NOTHING = Measurements()
GIVEN = (
    Measurements(chest_cm=100, width_cm=40, length_cm=50, around_cm=22, foot_cm=24),
    Measurements(chest_cm=60, width_cm=40, around_cm=22, foot_cm=24),
    Measurements(width_cm=40, length_cm=50, foot_cm=24),
    NOTHING,
)
WEARERS = ("adult", "child", "baby under 12 months", "unknown")


def need(
    kind: str, measurements: Measurements = NOTHING, wearer: str = "unknown", pattern: str = ""
) -> Figure | None:
    rows = rows_guess(20).value
    return need_from_item(kind, measurements, 20, rows, pattern or "stockinette", wearer)


def terms(found: Figure, code: str) -> list[str]:
    """Returns what the note of this code names."""
    values = [note.values for note in found.notes if note.code == code]
    named = [value for each in values for name, value in each.items() if "measure_term" in name]
    return [term for each in named for term in (each if isinstance(each, tuple) else (str(each),))]


def shares(some: list[Row]) -> float:
    return sum(row.holds for row in some) / len(some)


def test_nine_of_ten_published_amounts_lie_in_the_stated_range() -> None:
    every = rows()
    print("\n".join(told()))
    assert len(every) >= 20
    assert shares(every) >= 0.9
    assert shares(without_memory(every)) >= 0.9
    assert sum(row.middle_holds for row in every) / len(every) >= 0.8


def test_the_ranges_do_not_lean_to_one_side() -> None:
    # Were they bought from a range that is only high enough, all would lie at one end of it.
    over = [row.middle_m > row.estimate.value for row in rows()]
    assert 1 / 3 <= sum(over) / len(over) <= 2 / 3


def test_hats_are_no_longer_a_third_too_low() -> None:
    hats = [row for row in rows() if row.item == "hat" and row.low_m == row.high_m]
    assert len(hats) == 3
    for hat in hats:
        assert hat.middle_m / hat.estimate.value < 4 / 3, hat.name


def test_nothing_that_is_only_remembered_is_held_against_an_estimate() -> None:
    every = [*read("published_amounts.csv"), *read("published_amounts_lacking.csv")]
    assert {row["status"] for row in every} <= {"S", "S1", "D"}
    assert {row["status"] for row in read("published_amounts.csv")} <= {"S", "S1"}
    assert all(row["source"] and row["name"] for row in every)
    assert all(row["lacking"] for row in read("published_amounts_lacking.csv"))
    for row in read("published_amounts.csv"):
        in_mass = row["amount_unit"] in ("g", "oz")
        assert bool(row["m_per_100g_low"]) is bool(row["m_per_100g_high"]) is in_mass
        assert row["gauge_rests_on"]
        assert row["length_rests_on"]


@pytest.mark.parametrize("kind", list(item_models()))
def test_a_wide_range_says_what_would_narrow_it(kind: str) -> None:
    needs = (need(kind, *each) for each in product(GIVEN, WEARERS, pattern_fabrics()))
    known = [found for found in needs if found is not None]
    wide = [found for found in known if found.high > 2 * found.low or is_rough(found)]
    assert known
    assert all(terms(found, "amount.would_narrow") for found in wide)


@pytest.mark.parametrize(
    ("kind", "loose", "measure"),
    [
        ("hat", Measurements(around_cm=56), "length"),
        ("bootees", Measurements(foot_cm=10), "length"),
        ("toy", Measurements(length_cm=30), "around"),
    ],
)
def test_what_is_named_does_narrow_it(kind: str, loose: Measurements, measure: str) -> None:
    wide = need(kind, loose)
    assert wide is not None
    assert terms(wide, "amount.would_narrow") == [f"terms.measure.{measure}"]
    sure = need(kind, replace(loose, **{f"{measure}_cm": 24.0 if kind != "bootees" else 7.5}))
    assert sure is not None
    assert sure.high <= 2 * sure.low < wide.high / wide.low * sure.low
    assert terms(sure, "amount.would_narrow") == []


def test_a_range_within_a_factor_of_two_asks_for_nothing() -> None:
    found = need("pullover", Measurements(chest_cm=100))
    assert found is not None
    assert found.high < 2 * found.low
    assert terms(found, "amount.would_narrow") == []


@pytest.mark.parametrize("pattern", ["rib", "other"])
def test_a_stitch_pattern_in_doubt_is_named(pattern: str) -> None:
    found = need("hat", Measurements(around_cm=50, length_cm=25), pattern=pattern)
    assert found is not None
    named = {"rib": "swatch", "other": "stitch_pattern"}[pattern]
    assert terms(found, "amount.would_narrow") == [f"terms.measure.{named}"]


def test_the_wearer_tells_a_size_that_is_not_given() -> None:
    # WHO: the median head at 6 months is 42.8 cm, at birth 34.2, at 1 year 45.5.
    rough = need("hat", wearer="baby under 12 months")
    middle, birth, year = (need("hat", Measurements(around_cm=cm)) for cm in (42.8, 34.2, 45.5))
    assert rough is not None
    assert middle is not None
    assert birth is not None
    assert year is not None
    assert rough.value == pytest.approx(middle.value)
    assert rough.low < birth.value
    assert rough.high > year.value
    assert is_rough(rough)
    assert not is_rough(middle)
    [said] = [note for note in rough.notes if note.code == "amount.usual_size"]
    assert said.values == {
        "measure_term": "terms.measure.around",
        "wearer_term": "terms.wearer.baby_under_12_months",
        "low_cm": 34.2,
        "high_cm": 45.5,
    }


def test_what_is_given_outranks_what_is_usual() -> None:
    given = Measurements(around_cm=50)
    assert need("hat", given, "adult") == need("hat", given)
    width = need("scarf", Measurements(width_cm=25), "adult")
    both = need("scarf", Measurements(width_cm=25, length_cm=135))
    assert width is not None
    assert both is not None
    assert width.value == pytest.approx(both.value)
    assert terms(width, "amount.usual_size") == ["terms.measure.length"]


def test_a_cardigan_and_a_vest_are_as_wide_as_a_pullover() -> None:
    for kind in ("pullover", "cardigan", "vest"):
        rough, known = need(kind, wearer="adult"), need(kind, Measurements(chest_cm=110))
        assert rough is not None
        assert known is not None
        assert rough.value == pytest.approx(known.value)


def test_who_is_not_known_has_no_usual_size() -> None:
    for kind in item_models():
        assert need(kind) is None
    assert need("blanket", wearer="adult") is None
    assert need("tent", wearer="adult") is None


def test_a_usual_size_lies_between_its_ends_and_names_what_is_there() -> None:
    for row in table("usual_sizes"):
        assert float(row["low"]) < float(row["value"]) < float(row["high"])
        assert row["item"] in item_models()
        assert row["wearer"] in WEARERS
        assert hasattr(NOTHING, f"{row['measure']}_cm")


def test_what_is_sewn_up_takes_more_than_what_is_not() -> None:
    # Ribs 4, seams 3, sewing and ends 1, swatch 2 percent; without ribs and seams 3.
    sewn = {kind for kind, model in item_models().items() if model.trim.value == 1.10}
    plain = {kind for kind, model in item_models().items() if model.trim.value == 1.03}
    assert sewn | plain == set(item_models())
    assert {"pullover", "cardigan", "vest", "toy"} <= sewn
    assert {"socks", "hat", "mitts", "scarf", "shawl"} <= plain
