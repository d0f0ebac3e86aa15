"""Fibre names and densities as regulation and handbook print them."""

from tests.reference.published import Rows, published

EU = "Regulation (EU) 1007/2011"


@published("fibres", EU + " Annex I, ISO 2076: generic names, in the Annex's groups")
def generic_names(rows: Rows) -> None:
    """The Annex says 'flax (or linen)' and 'cashmere', 'angora' after the animal."""
    printed = (
        "wool alpaca mohair cashmere camel angora silk cotton linen hemp ramie "
        "viscose modal lyocell acetate acrylic polyamide polyester elastane polylactide protein"
    )
    seen = [row for row in rows if row["status"] == "S"]
    assert [row["name"] for row in seen] == [*printed.split(), "other fibres"]
    assert all(row["name"].split()[0] == row["key"] for row in seen)


@published("fibres", EU + " Annex I: elastane, if stretched to three times its length, recovers")
def one_is_defined_by_its_stretch(rows: Rows) -> None:
    assert [row["key"] for row in rows if row["elastic"] == "yes"] == ["elastane"]
    assert {row["elastic"] for row in rows} == {"yes", "no"}


@published("fibre_densities", "Morton & Hearle, Physical Properties of Textile Fibres, Table 5.1")
def densities(rows: Rows) -> None:
    printed = {
        "wool": 1.31, "alpaca": 1.31, "silk": 1.34, "cotton": 1.52, "linen": 1.50, "hemp": 1.48,
        "ramie": 1.50, "viscose": 1.49, "acetate": 1.32, "acrylic": 1.19, "polyamide": 1.14,
        "polyester": 1.39, "polylactide": 1.25, "protein": 1.30,
    }  # fmt: skip
    found = {row["fibre"]: float(row["g_per_cm3"]) for row in rows if row["status"] == "S"}
    assert found == printed
