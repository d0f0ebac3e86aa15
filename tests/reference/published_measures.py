"""Units, yarn counts, Munden's constants, fitted laws, net mass and currencies."""

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


@published("munden", "Munden, J. Text. Inst. 50 (1959) T448: ks = kc x kw")
def loops_per_area_are_courses_times_wales(rows: Rows) -> None:
    """Printed to one decimal; courses lie closer than wales."""
    for row in rows:
        kc, kw, ks = (float(row[name]) for name in ("kc", "kw", "ks"))
        assert kc > kw
        assert abs(kc * kw - ks) < 0.16


@published("munden", "Munden (1959); GATE Textile Engineering 2015, question 54")
def fabric_closes_up_as_it_relaxes(rows: Rows) -> None:
    assert [row["state"] for row in rows] == ["dry relaxed", "wet relaxed", "fully relaxed"]
    assert [row["kc"] for row in rows] == ["5.0", "5.3", "5.5"]
    loops_per_cm2 = float(rows[2]["kc"]) * float(rows[2]["kw"]) / 0.5**2
    assert round(loops_per_cm2) == 92


def _constants(rows: Rows) -> dict[str, tuple[float, float, float]]:
    return {
        row["name"]: (float(row["value"]), float(row["low"]), float(row["high"])) for row in rows
    }


@published("thickness_models", "Ashenhurst: 3360 yd/lb at 0.90 is 52 diameters per inch")
def ashenhurst(rows: Rows) -> None:
    found = _constants(rows)
    assert round(found["ashenhurst_worsted"][0] * 3360**0.5) == 52
    assert set(found["ashenhurst_worsted"]) == {0.90}
    assert set(found["ashenhurst_woollen"]) == {0.84}


@published("thickness_models", "Peirce (1937): cotton 1/(28 x root Ne) inch")
def peirce(rows: Rows) -> None:
    """J. T. Taylor, Cotton Weaving and Designing: 32s cotton lies 156 threads to the inch."""
    found = _constants(rows)
    assert set(found["peirce_cotton"]) == {28.0}
    assert abs(found["peirce_cotton"][0] * 32**0.5 - 156) < 3


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
