"""Units, yarn counts, Munden's constant, fitted laws, net mass and currencies."""

import re
from math import isclose

from pint import UnitRegistry

from tests.reference.published import Rows, published

PINT: "UnitRegistry[float]" = UnitRegistry(cache_folder=None)
D2260 = "ASTM D2260; pint's textile units"


@published("units", "international agreement of 1959, as pint has it")
def units_as_pint_has_them(rows: Rows) -> None:
    for row in rows:
        assert row["si_unit"] in ("m", "g")
        assert isclose(PINT.Quantity(1, row["unit"]).to(row["si_unit"]).m, float(row["si_value"]))


@published("counts", D2260)
def direct_counts_are_mass_per_length(rows: Rows) -> None:
    direct = {row["system"] for row in rows if row["kind"] == "direct"}
    assert direct == {"tex", "dtex", "denier", "jute"}
    assert {row["kind"] for row in rows} == {"direct", "indirect"}
    assert all(row["length_unit"] in ("km", "yd") for row in rows)


@published("counts", "handweaving texts: worsted and trade '2/28', cotton '30/2', metric both")
def where_the_plies_are_written(rows: Rows) -> None:
    customs = {row["system"]: row["plies_written"] for row in rows if row["plies_written"]}
    assert customs == {"nm": "either", "worsted": "first", "cotton": "last", "linen_lea": "last"}


@published("counts", "names of the systems in ASTM D2260 and ISO 1144")
def names_of_the_systems(rows: Rows) -> None:
    for row in rows:
        plain = re.sub(r"[^a-z]+", "_", row["name"].lower())
        assert row["system"].split("_")[0] in plain
    asked = {row["system"] for row in rows if row["asked"] == "yes"}
    assert asked == {"tex", "dtex", "denier", "nm", "cotton", "worsted", "linen_lea"}
    assert {row["asked"] for row in rows} == {"yes", "no"}


def _tex_of_one(row: dict[str, str]) -> float:
    mass = PINT.Quantity(float(row["mass"]), row["mass_unit"])
    length = PINT.Quantity(float(row["length"]), row["length_unit"])
    return float((mass / length).to("tex").m)


@published("counts", D2260)
def definitions_of_the_counts(rows: Rows) -> None:
    """tex of count 1 in each system."""
    expected = {
        "tex": 1.0, "dtex": 0.1, "denier": 1 / 9, "jute": 34.44824, "nm": 1000.0,
        "cotton": 590.5412, "worsted": 885.8119, "woollen_run": 310.0342, "linen_lea": 1653.5155,
        "yorkshire_skein": 1937.7135, "galashiels_cut": 2480.2732, "west_of_england": 1550.1708,
        "dewsbury": 31003.4155,
    }  # fmt: skip
    found = {row["system"]: _tex_of_one(dict(row)) for row in rows}
    assert found.keys() == expected.keys()
    assert all(isclose(found[key], expected[key], rel_tol=1e-6) for key in found)


def _constants(rows: Rows) -> dict[str, tuple[float, float, float]]:
    return {
        row["name"]: (float(row["value"]), float(row["low"]), float(row["high"]))
        for row in rows
        if row["low"]
    }


@published("gauge_models", "Munden (1959); GATE Textile Engineering 2015, question 54")
def loops_per_area(rows: Rows) -> None:
    """ks is kc x kw, printed to one decimal: 5.3 x 4.1 washed, 5.0 x 3.8 dry, 5.5 x 4.2 fully.

    Fully relaxed, loops of 0.5 cm lie 92 to the square cm.
    """
    washed, dry, fully = _constants(rows)["munden_ks"]
    assert (washed, dry) == (21.6, 19.0)
    assert abs(washed - 5.3 * 4.1) < 0.16
    assert isclose(dry, 5.0 * 3.8)
    assert isclose(fully, 5.5 * 4.2)
    assert round(fully / 0.5**2) == 92


@published("thickness_models", "Morton & Hearle, Table 5.1: wool 1.31, acrylic 1.19, cotton 1.52")
def densities_of_the_fit(rows: Rows) -> None:
    assert _constants(rows)["wool_density"] == (1.31, 1.19, 1.52)


@published("net_mass", "Directive 76/211/EEC Annex I")
def tolerable_shortfall(rows: Rows) -> None:
    """9 percent from 5 to 50 g, 4.5 g to 100 g, 4.5 percent to 200 g."""
    printed = [
        (row["above_g"], row["up_to_g"], row["percent"], row["grams"])
        for row in rows
        if row["status"] == "S"
    ]
    assert printed == [("5", "50", "9", ""), ("50", "100", "", "4.5"), ("100", "200", "4.5", "")]


@published("net_mass", "Directive 76/211/EEC Annex I: the steps meet")
def steps_of_the_shortfall_meet(rows: Rows) -> None:
    ends = [float(row["up_to_g"]) for row in rows]
    assert [float(row["above_g"]) for row in rows[1:]] == ends[:-1]
    at_end = [
        float(row["grams"]) if row["grams"] else end * float(row["percent"]) / 100
        for row, end in zip(rows, ends, strict=True)
    ]
    assert at_end == sorted(at_end)


MINOR_UNITS = {
    "0": "BIF CLP DJF GNF ISK JPY KMF KRW PYG RWF UGX UYI VND VUV XAF XOF XPF",
    "3": "BHD IQD JOD KWD LYD OMR TND",
    "4": "CLF UYW",
}


@published("currencies", "ISO 4217, list one: minor units")
def minor_units(rows: Rows) -> None:
    for units, codes in MINOR_UNITS.items():
        assert [row["code"] for row in rows if row["minor_units"] == units] == codes.split()
    assert {row["minor_units"] for row in rows} == {"0", "2", "3", "4"}


@published("currencies", "ISO 4217: codes of three letters, listed in order")
def codes_in_order(rows: Rows) -> None:
    codes = [row["code"] for row in rows]
    assert codes == sorted(set(codes))
    assert all(re.fullmatch("[A-Z]{3}", code) for code in codes)


@published("usual_sizes", "WHO Child Growth Standards, head circumference for age")
def heads_of_children(rows: Rows) -> None:
    """Medians at birth, 6 months, 1, 2 and 5 years; a boy of 5 years at +2 SD."""
    heads = {
        row["wearer"]: (row["item"], row["measure"], row["low"], row["value"], row["high"])
        for row in rows
        if row["status"] == "S"
    }
    assert heads == {
        "child": ("hat", "around", "47.7", "50.3", "53.7"),
        "baby under 12 months": ("hat", "around", "34.2", "42.8", "45.5"),
    }


@published("wearer_ranges", "EN 14682; UK nightwear advisory note; WHO Child Growth Standards")
def ages_and_sizes_of_children(rows: Rows) -> None:
    """To 14 years and 134 cm; dressing gowns to 97 cm; heads at -2 SD of 2 years, +2 SD of 1."""
    printed = {
        (row["measure"], row["below"]): (row["wearer"], row["under_three"], row["may_be_a_baby"])
        for row in rows
        if row["status"] == "S"
    }
    assert printed == {
        ("years", "15"): ("child", "no", "no"),
        ("height", "135"): ("child", "no", "no"),
        ("nightwear chest", "97"): ("unknown", "no", "no"),
        ("nightwear chest", ""): ("adult", "no", "no"),
        ("head", "44.4"): ("baby under 12 months", "yes", "no"),
        ("head", "48.6"): ("unknown", "no", "yes"),
    }
