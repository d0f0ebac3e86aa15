"""Fibre names, densities and allowances as regulation and handbook print them."""

from tests.reference.published import Rows, published

EU = "Regulation (EU) 1007/2011"


@published("fibres", EU + " Annex I, ISO 2076: generic names, in the Annex's groups")
def generic_names(rows: Rows) -> None:
    """The Annex says 'flax (or linen)' and 'cashmere', 'angora' after the animal."""
    groups = {
        "animal": "wool alpaca mohair cashmere camel angora",
        "silk": "silk",
        "plant": "cotton linen hemp ramie",
        "cellulosic": "viscose modal lyocell acetate",
        "synthetic": "acrylic polyamide polyester elastane polylactide",
        "protein": "protein",
        "other": "other fibres",
    }
    seen = [row for row in rows if row["status"] == "S"]
    for family, names in groups.items():
        found = [row["name"] for row in seen if row["family"] == family]
        assert found == ([names] if family == "other" else names.split())
    assert all(row["name"].split()[0] == row["key"] for row in seen)


@published("fibre_densities", "Morton & Hearle, Physical Properties of Textile Fibres, Table 5.1")
def densities(rows: Rows) -> None:
    printed = {
        "wool": 1.31, "alpaca": 1.31, "silk": 1.34, "cotton": 1.52, "linen": 1.50, "hemp": 1.48,
        "ramie": 1.50, "viscose": 1.49, "acetate": 1.32, "acrylic": 1.19, "polyamide": 1.14,
        "polyester": 1.39, "polylactide": 1.25, "protein": 1.30,
    }  # fmt: skip
    found = {row["fibre"]: float(row["g_per_cm3"]) for row in rows if row["status"] == "S"}
    assert found == printed


@published("fibre_allowances", EU + " Annex IX: agreed allowances, percent of dry mass")
def allowances(rows: Rows) -> None:
    hair = ("wool", "alpaca", "mohair", "cashmere", "camel", "angora")
    printed = {(fibre, "carded"): "17" for fibre in hair}
    printed |= {(fibre, "combed"): "18.25" for fibre in hair}
    printed |= {
        ("silk", ""): "11", ("cotton", ""): "8.5", ("cotton", "mercerised"): "10.5",
        ("linen", ""): "12", ("hemp", ""): "12", ("ramie", ""): "8.5", ("viscose", ""): "13",
        ("modal", ""): "13", ("lyocell", ""): "13", ("acetate", ""): "9", ("acrylic", ""): "2",
        ("polyamide", ""): "6.25", ("polyester", ""): "1.5", ("elastane", ""): "1.5",
        ("polylactide", ""): "1.5", ("protein", ""): "17",
    }  # fmt: skip
    assert {(row["fibre"], row["made"]): row["percent"] for row in rows} == printed
