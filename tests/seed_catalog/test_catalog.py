"""The demo catalog: as large and as varied as the shop's questions need, and true to its labels."""

from collections import Counter, defaultdict
from collections.abc import Sequence
from dataclasses import asdict
from decimal import Decimal

import pytest
from sqlalchemy import Engine, func, select
from stdnum import ean

from shopdesk.craft.blend import attribute_named, checked_blend
from shopdesk.craft.care import checked_care
from shopdesk.craft.colours import colour_families
from shopdesk.craft.weights import categories_named
from shopdesk.craft.yarn import Construction, MeasurementKind, ShelfYarn
from shopdesk.shelf.loading import shelf_yarns
from shopdesk.shelf.stock import discrepancies
from shopdesk.store.database import reading
from shopdesk.store.models import Stock, StockMovement
from shopdesk.store.settings import load_settings
from shopdesk.upkeep.seeding import lines, seed_demo

YARD_M = 0.9144
# Standard Yarn Weight System (Craft Yarn Council), knit stitches per 10 cm, stockinette.
STANDARD_STITCHES = {
    0: (33, 40), 1: (27, 32), 2: (23, 26), 3: (21, 24),
    4: (16, 20), 5: (12, 15), 6: (7, 11), 7: (1, 6),
}  # fmt: skip
# Metres per 100 g, widest of several general tables; common practice, no source.
USUAL_METRES = {
    0: (480, 1600), 1: (320, 480), 2: (240, 360), 3: (195, 300),
    4: (120, 290), 5: (85, 130), 6: (40, 90), 7: (20, 50),
}  # fmt: skip
FIBRES_OF_MORTON_AND_HEARLE = {
    "wool", "alpaca", "mohair", "cashmere", "camel", "angora", "silk", "cotton", "linen", "hemp",
    "ramie", "viscose", "modal", "lyocell", "acetate", "acrylic", "polyamide", "polyester",
    "elastane", "polylactide", "protein",
}  # fmt: skip


@pytest.fixture(scope="module")
def yarns(demo_shelf_file: object) -> tuple[ShelfYarn, ...]:
    from shopdesk.store.database import open_shelf

    engine = open_shelf(f"sqlite:///{demo_shelf_file}")
    with reading(engine) as session:
        found = tuple(shelf_yarns(session))
    engine.dispose()
    return found


def category(yarn: ShelfYarn) -> int:
    return int(yarn.sku[3])


def metres_per_100g(yarn: ShelfYarn) -> float | None:
    put_up = yarn.label.put_up
    return put_up.metres / put_up.grams * 100 if put_up else None


def named(yarns: Sequence[ShelfYarn], name: str) -> ShelfYarn:
    return next(yarn for yarn in yarns if yarn.name == name)


def wraps(yarn: ShelfYarn) -> list[float | None]:
    return [m.wraps_per_inch for m in yarn.measurements if m.kind is MeasurementKind.WRAPS]


def test_at_least_eighty_yarns_over_all_eight_categories(yarns: Sequence[ShelfYarn]) -> None:
    assert len(yarns) >= 80
    counts = Counter(category(yarn) for yarn in yarns)
    assert set(counts) == set(range(8))
    assert min(counts.values()) >= 4


def test_names_are_single(yarns: Sequence[ShelfYarn]) -> None:
    assert len({yarn.name for yarn in yarns}) == len(yarns)


def test_every_fibre_of_the_density_table_is_on_the_shelf(yarns: Sequence[ShelfYarn]) -> None:
    found = {share.fibre for yarn in yarns for share in yarn.label.fibres}
    assert found == FIBRES_OF_MORTON_AND_HEARLE


def test_shares_add_up_to_exactly_100(yarns: Sequence[ShelfYarn]) -> None:
    for yarn in yarns:
        assert sum(share.percent for share in yarn.label.fibres) == Decimal(100), yarn.name


def test_band_gauges_meet_the_standard_of_their_category(yarns: Sequence[ShelfYarn]) -> None:
    """Lace is left out: the standard says that its gauge is the pattern's."""
    banded = [(yarn.name, yarn.label.gauge, category(yarn)) for yarn in yarns if yarn.label.gauge]
    assert len(banded) > len(yarns) / 2
    for name, gauge, number in banded:
        low, high = STANDARD_STITCHES[number] if number > 0 else (0, 99)
        assert gauge.stitches_low <= high, name
        assert gauge.stitches_high >= low, name


def test_length_per_mass_is_usual_for_the_category(yarns: Sequence[ShelfYarn]) -> None:
    known = [(yarn, metres_per_100g(yarn)) for yarn in yarns]
    assert sum(metres is not None for _, metres in known) > len(yarns) / 2
    for yarn, metres in known:
        low, high = USUAL_METRES[category(yarn)]
        assert metres is None or low <= metres <= high, yarn.name


def test_printed_put_ups_say_the_same_as_the_fixed_units() -> None:
    for line in lines("yarns"):
        if not line["put_up_m"]:
            continue
        metres, printed = float(line["put_up_m"]), line["put_up_printed"]
        words = printed.replace("/", " ").replace("=", " ").split()
        said = {unit: float(number) for number, unit in zip(words[::2], words[1::2], strict=True)}
        assert said["g"] == float(line["put_up_g"])
        if "m" in said:
            assert said["m"] == metres
        if "yd" in said:
            assert round(metres / YARD_M) == said["yd"]


def test_barcodes_are_valid_in_store_numbers_and_single() -> None:
    """GS1 General Specifications: prefixes 20-29 are for use inside a company."""
    numbers = [line["gtin"] for table in ("yarns", "colours") for line in lines(table)]
    assert len(set(numbers)) == len(numbers)
    for number in numbers:
        assert len(number) == 13
        assert ean.is_valid(number), number
        assert 20 <= int(number[:2]) <= 29


def test_each_yarn_has_four_to_ten_colours_with_a_family() -> None:
    colours = Counter(line["sku"] for line in lines("colours"))
    assert set(colours) == {line["sku"] for line in lines("yarns")}
    assert min(colours.values()) >= 4
    assert max(colours.values()) <= 10
    assert {line["family"] for line in lines("colours")} <= set(colour_families())


def test_labels_speak_the_trade_s_words(yarns: Sequence[ShelfYarn]) -> None:
    for yarn in yarns:
        label = yarn.label
        checked_blend([(share.fibre, share.percent) for share in label.fibres])
        assert all(attribute_named(word) == word for word in label.attributes), yarn.name
        assert label.weight_name is not None
        assert category(yarn) in categories_named(label.weight_name), yarn.name
        if label.care is not None:
            said = {axis: value for axis, value in asdict(label.care).items() if value is not None}
            assert checked_care(said) == label.care


def test_the_bundled_tables_are_all_on_the_shelf(demo_shelf: Engine) -> None:
    with reading(demo_shelf) as session:
        on_hand = session.scalar(select(func.sum(Stock.on_hand)))
        moved = session.scalar(select(func.sum(StockMovement.change)))
        assert list(discrepancies(session)) == []
        settings = load_settings(session)
    assert on_hand == moved == sum(int(line["skeins"]) for line in lines("lots"))
    assert (settings.shop_name, settings.country) == ("Ostrevale Yarn Room", "IE")


def test_seeding_again_changes_nothing(demo_shelf: Engine) -> None:
    assert seed_demo(demo_shelf) is False
    with reading(demo_shelf) as session:
        assert len(tuple(shelf_yarns(session, with_stock=False))) == len(list(lines("yarns")))


def test_seeding_works_on_every_kind_of_database(shelf: Engine) -> None:
    assert seed_demo(shelf) is True
    with reading(shelf) as session:
        assert len(tuple(shelf_yarns(session))) == len(list(lines("yarns")))


# What the four DK yarns measure on 3.75 mm: common practice, no source.
FOUR_DK = {
    "Bellwick": ("wool", 246, 11, 5.5),
    "Cravenholt": ("cotton", 252, 14, 5.25),
    "Hallowbeck": ("viscose", 219, 14, 5.0),
    "Wanderfold": ("wool", 274, 12, None),
}


@pytest.mark.parametrize("name", FOUR_DK)
def test_the_four_dk_yarns_are_as_measured(yarns: Sequence[ShelfYarn], name: str) -> None:
    fibre, yards, wraps_per_inch, per_inch = FOUR_DK[name]
    yarn = named(yarns, name)
    assert yarn.label.weight_name == "DK"
    assert yarn.label.fibres[0].fibre == fibre
    metres = metres_per_100g(yarn)
    assert metres is not None
    assert metres / YARD_M == pytest.approx(yards, abs=0.01)
    assert wraps(yarn) == [wraps_per_inch]
    swatches = [m for m in yarn.measurements if m.kind is MeasurementKind.SWATCH]
    assert [m.tool_mm for m in swatches] == ([3.75] if per_inch else [])
    for swatch in swatches:
        assert swatch.stitches == pytest.approx(per_inch / 2.54 * 10, abs=0.01)


def test_two_dk_yarns_lie_a_fifth_apart_in_length(yarns: Sequence[ShelfYarn]) -> None:
    longer, shorter = named(yarns, "Birchenfold"), named(yarns, "Garthmoss")
    assert longer.label.weight_name == shorter.label.weight_name == "DK"
    assert longer.label.fibres == shorter.label.fibres
    assert metres_per_100g(shorter) == pytest.approx(0.8 * (metres_per_100g(longer) or 0))


def test_one_label_disagrees_with_its_wraps(yarns: Sequence[ShelfYarn]) -> None:
    """Worsted wraps 9 to 12 to the inch, bulky 6 to 9 (Standard Yarn Weight System)."""
    yarn = named(yarns, "Widdershaw")
    assert yarn.label.weight_name == "worsted"
    assert all(found is not None and 6 <= found < 9 for found in wraps(yarn))
    assert wraps(yarn)


def test_cones_have_a_count_instead_of_a_put_up(yarns: Sequence[ShelfYarn]) -> None:
    counts = {
        (yarn.label.count.written, yarn.label.count.system) for yarn in yarns if yarn.label.count
    }
    assert counts == {("2/28", "nm"), ("20/2", "cotton")}
    assert all(yarn.label.put_up is None for yarn in yarns if yarn.label.count)


def test_there_is_a_brushed_mohair_to_hold_along(yarns: Sequence[ShelfYarn]) -> None:
    yarn = named(yarns, "Tarnbrack")
    assert yarn.label.construction is Construction.BRUSHED
    assert (yarn.label.weight_name, yarn.label.fibres[0].fibre) == ("lace", "mohair")


def test_hand_dyed_yarns_have_no_lots(yarns: Sequence[ShelfYarn]) -> None:
    by_hand = [yarn for yarn in yarns if yarn.hand_dyed]
    assert len(by_hand) >= 3
    assert {lot.lot for yarn in by_hand for lot in yarn.lots} == {None}


def test_one_baby_yarn_is_untreated_wool(yarns: Sequence[ShelfYarn]) -> None:
    yarn = named(yarns, "Marrowdale")
    assert yarn.label.weight_name == "baby"
    assert "superwash" not in yarn.label.attributes
    assert yarn.label.care is not None
    assert yarn.label.care.wash_action == "hand"


def test_one_yarn_says_nothing_about_care(yarns: Sequence[ShelfYarn]) -> None:
    assert named(yarns, "Gallowhythe").label.care is None


def test_one_colour_is_split_over_four_small_lots(yarns: Sequence[ShelfYarn]) -> None:
    by_colour = defaultdict(list)
    for lot in named(yarns, "Thrumble").lots:
        by_colour[lot.colour_code].append(lot.available)
    assert sorted(by_colour["03"]) == [2, 3, 4, 5]
