"""What a column of a table of yarns may say, and how it hangs together."""

import pytest

from shopdesk.craft.errors import InputError
from shopdesk.exchange.columns import Field, Values, columns_of
from shopdesk.exchange.yarn_fields import EMPTY, whole_yarn, yarn_fields
from shopdesk.exchange.yarn_lines import written

FIELDS = {field.key: field for field in yarn_fields("EUR")}


def read(key: str, text: str) -> object:
    """Returns what a cell sets, as a value if it is one."""
    values = FIELDS[key].read(text, "")
    return values[key] if set(values) == {key} else values


def a_yarn(**values: object) -> Values:
    return whole_yarn({**EMPTY, **values})


@pytest.mark.parametrize(("text", "number"), [("1", 1), ("64", 64), ("", None)])
def test_plies(text: str, number: int | None) -> None:
    assert read("plies", text) == number


@pytest.mark.parametrize("text", ["0", "65"])
def test_plies_that_cannot_be(text: str) -> None:
    with pytest.raises(InputError, match="from 1 to 64"):
        read("plies", text)


@pytest.mark.parametrize(("text", "kind"), [("plied", "plied"), (" Single ", "single"), ("", None)])
def test_constructions(text: str, kind: str | None) -> None:
    assert read("construction", text) == kind


def test_a_construction_is_one_of_those_that_are_known() -> None:
    with pytest.raises(InputError, match=r"'felted' is no way that yarn is made; .*plied"):
        read("construction", "felted")


@pytest.mark.parametrize(
    ("axis", "text", "value"),
    [
        ("wash_c", "30", 30),
        ("wash_c", "40 °C", 40),
        ("wash_c", "60°", 60),
        ("wash_action", " HAND ", "hand"),
        ("wash_action", "", None),
        ("wash_c", " ", None),
    ],
)
def test_care(axis: str, text: str, value: object) -> None:
    assert read(axis, text) == value


def test_care_that_is_none_is_told_what_there_is() -> None:
    """ISO 3758 has wash tubs of 30, 40, 50, 60, 70 and 95 degrees."""
    with pytest.raises(InputError, match=r"'33' is not a value of this kind of care; .*95, 70, 60"):
        read("wash_c", "33")


@pytest.mark.parametrize(
    ("heading", "key"),
    [
        ("Rows", "knit_rows"),
        ("Reihen", "knit_rows"),
        ("Gauge", "knit_stitches"),
        ("crochet rows", "crochet_rows"),
        ("crochet gauge", "crochet_stitches"),
        ("knit gauge", "knit_stitches"),
        ("Needle size", "needle"),
        ("Crochet hook", "hook"),
        ("needle_mm_high", "needle_mm_high"),
        ("Composition", "fibres"),
        ("Preis", "price"),
    ],
)
def test_headings_of_yarns(heading: str, key: str) -> None:
    (column,) = columns_of([heading], FIELDS.values(), {})
    assert isinstance(column.field, Field)
    assert column.field.key == key


@pytest.mark.parametrize(
    "ends",
    [
        ("knit_stitches_low", "knit_stitches_high"),
        ("needle_mm_low", "needle_mm_high"),
        ("crochet_stitches_low", "crochet_stitches_high"),
        ("hook_mm_low", "hook_mm_high"),
    ],
)
def test_a_range_with_one_end_is_that_number(ends: tuple[str, str]) -> None:
    low, high = ends
    for given in ({low: 4.0}, {high: 4.0}, {low: 4.0, high: 4.0}):
        whole = a_yarn(**given)
        assert (whole[low], whole[high]) == (4.0, 4.0)
    whole = a_yarn(**{low: 3.5, high: 4.0})
    assert (whole[low], whole[high]) == (3.5, 4.0)
    whole = a_yarn()
    assert (whole[low], whole[high]) == (None, None)


def test_a_range_goes_upward() -> None:
    """Its ends are shown with six figures."""
    right = r"knit stitches goes from 21\.6535 down to 20\.1235; write the lower end first"
    with pytest.raises(InputError, match=right):
        a_yarn(knit_stitches_low=21.65354331, knit_stitches_high=20.12345678)


def test_a_count_and_its_system_hang_together() -> None:
    assert a_yarn(count_written="2/28", count_system="Nm")["count_written"] == "2/28"
    assert a_yarn(count_written="Nm 2/28")["count_system"] is None
    with pytest.raises(InputError, match="a count's system without a count"):
        a_yarn(count_system="Nm")
    with pytest.raises(InputError, match="the count 2/28 depends on its system"):
        a_yarn(count_written="2/28")


@pytest.mark.parametrize(
    ("field", "value", "text"),
    [
        ("notes", None, ""),
        ("price_minor", 650, "6.50"),
        ("fibres", (), ""),
        ("attributes", ("merino", "superwash"), "merino, superwash"),
        ("retired", True, "yes"),
        ("retired", False, "no"),
        ("put_up_m", 125.0, "125"),
        ("put_up_g", 49.5, "49.5"),
        ("plies", 4, "4"),
        ("name", "Plain", "Plain"),
    ],
)
def test_stored_values_as_text(field: str, value: object, text: str) -> None:
    assert written(field, value, "EUR") == text
