"""Our short list of units against pint's own full list of definitions."""

from decimal import Decimal
from itertools import product

import pytest
from pint import UnitRegistry

from shopdesk.parsing.quantities import LENGTH_UNITS, MASS_UNITS, Quantity, converted, factor

PINT: "UnitRegistry[Decimal]" = UnitRegistry(cache_folder=None, non_int_type=Decimal)
PAIRS = [*product(LENGTH_UNITS, repeat=2), *product(MASS_UNITS, repeat=2)]


@pytest.mark.parametrize(("unit", "to"), PAIRS)
def test_a_unit_converts_as_in_pint(unit: str, to: str) -> None:
    names = LENGTH_UNITS | MASS_UNITS
    expected = PINT.Quantity(Decimal(1), names[unit]).to(names[to]).magnitude
    assert factor(unit, to) == pytest.approx(float(expected), rel=1e-15)


@pytest.mark.parametrize(
    ("written", "unit", "to", "expected"),
    [
        # NIST Handbook 44, appendix C: 1 yard = 0.9144 m, 1 avoirdupois ounce = 28.349523125 g.
        ("1", "yd", "m", 0.9144),
        ("1", "in", "cm", 2.54),
        ("1", "oz", "g", 28.349523125),
        ("1", "lb", "g", 453.59237),
        ("0.1", "m", "mm", 100.0),
    ],
)
def test_published_conversions_are_exact(written: str, unit: str, to: str, expected: float) -> None:
    assert converted(Quantity(Decimal(written), unit), to) == expected
