"""Fibre names, densities and the density of blends.

Densities: Morton & Hearle, Physical Properties of Textile Fibres, Table 5.1. Allowances:
Regulation (EU) 1007/2011 Annex IX.
"""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopdesk.craft.fibres import blend_density, fibre, fibre_named, fibres
from shopdesk.craft.yarn import FibreShare
from tests.factories import a_blend


@pytest.mark.parametrize(
    ("name", "key"),
    [
        ("wool", "wool"), ("Virgin Wool", "wool"), ("Schurwolle", "wool"), ("LAINE", "wool"),
        ("Baumwolle", "cotton"), ("coton", "cotton"), ("flax", "linen"), ("Leinen", "linen"),
        ("lin", "linen"), ("nylon", "polyamide"), ("Polyamid", "polyamide"), ("Seide", "silk"),
        ("soie", "silk"), ("rayon", "viscose"), ("spandex", "elastane"), ("Elasthan", "elastane"),
        ("élasthanne", "elastane"), ("Angora-Rabbit", "angora"), ("mohair", "mohair"),
        ("sheep’s wool", "wool"), ("other  fibers", "other"), ("sonstige Fasern", "other"),
    ],
)  # fmt: skip
def test_generic_names_are_known_in_three_languages(name: str, key: str) -> None:
    assert fibre_named(name) == key


@pytest.mark.parametrize("name", ["merino", "superwash", "bamboo", "organic cotton", "", "xyz"])
def test_kinds_and_treatments_are_no_fibres(name: str) -> None:
    assert fibre_named(name) is None


def test_every_fibre_is_found_by_its_key_and_name() -> None:
    for each in fibres():
        assert fibre_named(each.key) == each.key
        assert fibre_named(each.name) == each.key
    assert fibres()[-1].key == "other"


def test_a_density_that_nobody_gives_is_not_known() -> None:
    assert fibre("yak").density is None


def test_equal_garments_weigh_as_their_fibres_do() -> None:
    """A 400 g wool garment in the same thickness and gauge; derived from Morton & Hearle."""
    wool = blend_density(a_blend("wool 100"))
    assert wool is not None
    expected = {"cotton": 464, "linen": 458, "viscose": 455, "silk": 409, "acrylic": 363}
    for key, grams in expected.items():
        density = blend_density(a_blend(f"{key} 100"))
        assert density is not None
        assert round(400 * density / wool) == grams


def test_a_blend_is_weighed_by_volume() -> None:
    """75 g wool and 25 g polyamide fill 75/1.31 + 25/1.14 cm3: sock yarn, worked by hand."""
    assert blend_density(a_blend("wool 75, polyamide 25")) == pytest.approx(1.2629, abs=5e-5)


def test_unknown_densities_make_a_blend_unknown() -> None:
    assert blend_density(a_blend("yak 100")) is None
    assert blend_density(a_blend("wool 90, yak 10")) is None
    assert blend_density(()) is None
    assert blend_density(a_blend("wool 95, metallic 5")) == pytest.approx(1.31)
    with pytest.raises(KeyError):
        blend_density(a_blend("gossamer 100"))


KNOWN = [each.key for each in fibres() if each.density is not None]


@given(st.lists(st.sampled_from(KNOWN), min_size=1, max_size=5, unique=True), st.data())
def test_a_blend_lies_between_its_fibres_in_any_order(keys: list[str], data: st.DataObject) -> None:
    shares = [FibreShare(key, Decimal(data.draw(st.integers(1, 100)))) for key in keys]
    blended = blend_density(shares)
    densities = [fibre(key).density or 0 for key in keys]
    assert blended is not None
    assert min(densities) - 1e-9 <= blended <= max(densities) + 1e-9
    assert blend_density(reversed(shares)) == pytest.approx(blended, rel=1e-12)


def test_densities_that_are_remembered() -> None:
    # From memory of handbooks: hair is keratin as wool is, angora hollow; modal and lyocell are
    # cellulose as viscose and cotton are; elastane.
    remembered = {
        "mohair": 1.31, "cashmere": 1.31, "camel": 1.31, "angora": 1.15, "modal": 1.52,
        "lyocell": 1.50, "elastane": 1.10,
    }  # fmt: skip
    assert {key: fibre(key).density for key in remembered} == remembered


def test_up_to_5_percent_may_be_of_unknown_density() -> None:
    # blend_models.csv: judgement; the known rest stands for the whole.
    assert blend_density(a_blend("wool 95, yak 5")) == pytest.approx(1.31)
    assert blend_density(a_blend("wool 94.9, yak 5.1")) is None
    half = [FibreShare("wool", Decimal("47.4")), FibreShare("yak", Decimal("2.6"))]
    assert blend_density(half) is None
