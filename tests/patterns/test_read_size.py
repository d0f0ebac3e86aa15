"""Sizes, ages, body sizes and the finished item's measurements, in short texts."""

import pytest

from tests.patterns.short_texts import only, said, sources, told

MEASURES = ("chest", "width", "length", "around", "foot")
TO_FIT = "To fit bust 81 (86, 91) cm\n"


def measures(text: str, language: str = "en") -> dict[str, str]:
    return only(told(text, language), MEASURES)


@pytest.mark.parametrize(
    ("text", "sizes"),
    [
        ("S (M, L, XL)", "S | M | L | XL sure"),
        ("Sizes: S, M, L", "S | M | L sure"),
        ("Size 36 (38, 40)", "36 | 38 | 40 sure"),
        ("Sizes 36/38 (40/42, 44/46)", "36/38 | 40/42 | 44/46 sure"),
        ("Sizes 3 (6, 12) months", "3 | 6 | 12 sure"),
        ("3 months (6 months, 1 year)", "3 months | 6 months | 1 year sure"),
        ("To fit bust 81 (86, 91) cm", "81 | 86 | 91 sure"),
        ("To fit 32 (34, 36) in", "32 | 34 | 36 sure"),
    ],
)
def test_sizes_are_named_as_written(text: str, sizes: str) -> None:
    assert told(text)["sizes"] == sizes


@pytest.mark.parametrize(
    "text",
    [
        "Size 36 (38, 38)",
        "S (M, M)",
        "To fit bust 86 cm",
        "To fit bust 81-86 cm",
        "To fit bust 81 (86, 86) cm",
        "Sizes 3 (6, 6) months",
        "6 months",
        "36 (38, 40)",
    ],
)
def test_what_names_no_sizes_is_not_read(text: str) -> None:
    assert "sizes" not in told(text)


@pytest.mark.parametrize(
    ("text", "wearer"),
    [
        ("3 months", "baby under 12 months sure"),
        ("12 months", "baby under 12 months sure"),
        ("13 months", "child sure"),
        ("18 (24, 36) months", "child sure"),
        ("3 (6, 18) months", "baby under 12 months sure"),
        ("2 years", "child sure"),
        ("16 years", "child sure"),
        ("17 years", None),
        ("2 (4, 17) years", None),
        ("newborn, 3 months, 6 months", "baby under 12 months sure"),
    ],
)
def test_an_age_says_who_wears_it(text: str, wearer: str | None) -> None:
    assert told(text).get("wearer") == wearer


@pytest.mark.parametrize(
    ("text", "language", "read"),
    [
        ("Finished chest: 36 (40, 44) in", "en", {"chest": "36 40 44 in sure"}),
        ("Finished bust (cm) 82 (90, 98)", "en", {"chest": "82 90 98 cm sure"}),
        ("Chest 100 cm, finished", "en", {"chest": "100 cm sure"}),
        ("Chest 100 cm", "en", {"chest": "100 cm unclear"}),
        ("Chest 40 in (102 cm), finished", "en", {"chest": "102 cm sure"}),
        ("8 inches wide", "en", {"width": "8 in sure"}),
        ("Width 20 cm, length 160 cm", "en", {"width": "20 cm sure", "length": "160 cm sure"}),
        ("20 cm wide, 160 cm long", "en", {"width": "20 cm sure", "length": "160 cm sure"}),
        ("Foot length 24 cm", "en", {"foot": "24 cm sure"}),
        ("Head circumference 56 cm", "en", {"around": "56 cm likely"}),
        ("Finished circumference 56 cm", "en", {"around": "56 cm sure"}),
        ("To fit: so head circumference 56 cm", "en", {"around": "56 cm unclear"}),
        ("Width cm 20", "en", {"width": "20 cm sure"}),
        ("Breite 20 cm", "de", {"width": "20 cm sure"}),
        ("largeur 20 cm", "fr", {"width": "20 cm sure"}),
    ],
)
def test_a_measure_is_read(text: str, language: str, read: dict[str, str]) -> None:
    assert measures(text, language) == read


@pytest.mark.parametrize(
    "text",
    [
        "Chest 100-110 cm, finished",
        "Width 20/22 cm",
        "Width S (M, L) cm",
        "To fit chest 100 cm",
        "To fit chest of so so so 100 cm",
        "Sleeve length 45 cm",
        "Sleeve: so length 45 cm",
        "Sleeve so so length 45 cm",
        "Each motif so so so width 10 cm",
        "Motif 10 cm wide",
        "needle so so so so so length 80 cm",
        "needles 80 cm long",
    ],
)
def test_a_measure_of_something_else_is_not_the_items(text: str) -> None:
    assert measures(text) == {}


@pytest.mark.parametrize(
    ("text", "read"),
    [
        ("Sleeve so so so length 45 cm", {"length": "45 cm sure"}),
        ("Sleeve\nlength 45 cm", {"length": "45 cm sure"}),
        ("Sleeve 45 cm length 60 cm", {"length": "60 cm sure"}),
        ("Motif so so so so so width 10 cm", {"width": "10 cm sure"}),
        ("Motif\nwidth 10 cm", {"width": "10 cm sure"}),
        ("needle so so so so so so so length 80 cm", {"length": "80 cm sure"}),
        ("needle width 80 cm", {"width": "80 cm sure"}),
        ("needle\nlength 80 cm", {"length": "80 cm sure"}),
        ("Hat to fit so so so so so width 80 cm", {}),
        ("Hat to fit so so so so so so width 80 cm", {"width": "80 cm sure"}),
    ],
)
def test_what_stands_further_off_is_not_meant(text: str, read: dict[str, str]) -> None:
    assert measures(text) == read


@pytest.mark.parametrize(
    ("text", "read"),
    [
        ("Width 8 in (25 cm)", {"width": "25 cm unclear"}),
        ("Width 8 in (20 cm)", {"width": "20 cm sure"}),
    ],
)
def test_a_measure_in_two_units_that_differ_is_unclear(text: str, read: dict[str, str]) -> None:
    assert measures(text) == read
    assert ("units_differ" in said(text)) is ("25" in text)


@pytest.mark.parametrize(
    ("text", "read"),
    [
        ("Blanket 70 cm x 90 cm", {"width": "70 cm sure", "length": "90 cm sure"}),
        ("Blanket 70 x 90 cm", {"width": "70 cm sure", "length": "90 cm sure"}),
        ("Blanket 28 in (71 cm) x 35 in (89 cm)", {"width": "71 cm sure", "length": "89 cm sure"}),
        ("Scarf 20 cm wide x 160 cm long", {"width": "20 cm sure", "length": "160 cm sure"}),
        ("Scarf 160 cm long x 20 cm wide", {"length": "160 cm sure", "width": "20 cm sure"}),
        ("Dishcloth, 9 in square", {"width": "9 in sure", "length": "9 in sure"}),
        ("Blanket 70-80 x 90 cm", {}),
        ("Blanket 70 x 90-100 cm", {}),
        ("Dishcloth, 9-10 in square", {}),
        ("Dishcloth, 9 (10, 11) in square", {}),
        ("Motif 9 in square", {}),
        ("Scarf 20 cm and 160 cm", {}),
        ("Scarf 20 cm long x 160 cm", {"length": "20 cm or 160 cm unclear"}),
        ("Motifs 9 in square", {}),
    ],
)
def test_two_sides_are_width_and_length(text: str, read: dict[str, str]) -> None:
    assert measures(text) == read


@pytest.mark.parametrize(
    ("text", "chest"),
    [
        (f"{TO_FIT}Actual size 88 (93, 98) cm", "88 93 98 cm likely"),
        (f"{TO_FIT}Actual size 88 (93, 98)", None),
        ("To fit waist 81 (86, 91) cm\nActual size 88 (93, 98) cm", None),
        ("Actual size 88 (93, 98) cm", None),
        (f"To fit foot 22 (23, 24) cm\n{TO_FIT}Actual size 88 (93, 98) cm", "88 93 98 cm likely"),
        (f"{TO_FIT}To fit foot 22 (23, 24) cm\nActual size 88 (93, 98) cm", None),
        ("To fit the so bust 81 (86, 91) cm\nActual size 88 (93, 98) cm", "88 93 98 cm likely"),
        ("To fit the so so bust 81 (86, 91) cm\nActual size 88 (93, 98) cm", None),
    ],
)
def test_an_actual_size_below_a_body_size_is_the_garments_chest(
    text: str, chest: str | None
) -> None:
    assert told(text).get("chest") == chest


@pytest.mark.parametrize(
    ("text", "level"),
    [
        ("Measurements: chest 100 cm", "sure"),
        ("Hat finished so so chest 100 cm", "sure"),
        ("Hat finished so so so chest 100 cm", "unclear"),
        ("chest 100 cm so so so so so finished", "sure"),
        ("chest 100 cm so so so so so so finished", "unclear"),
        ("finished\nchest 100 cm", "sure"),
        ("Garment chest 100 cm", "sure"),
        ("knitted hat\nchest 100 cm", "unclear"),
    ],
)
def test_a_chest_is_the_garments_where_it_is_said(text: str, level: str) -> None:
    assert measures(text)["chest"] == f"100 cm {level}"


@pytest.mark.parametrize(
    ("text", "read"),
    [
        # Two lines: each name has its own value.
        ("8 in\nLength: 20 in", {"length": "20 in sure"}),
        ("Width 8 in\nLength 20 in", {"width": "8 in sure", "length": "20 in sure"}),
        ("Width 8 in\nLength, 20 in", {"width": "8 in sure", "length": "20 in sure"}),
        ("8 in\nlength", {"length": "8 in sure"}),
        ("8 in\nlength so", {"length": "8 in sure"}),
        ("Chest circumference 100 cm, finished", {"chest": "100 cm sure"}),
        ("Width around 20 cm", {"width": "20 cm sure"}),
        ("Length so so around 20 cm", {"length": "20 cm sure"}),
        ("Length so so so around 20 cm", {"around": "20 cm likely"}),
        ("Length\nhead 20 cm", {"around": "20 cm likely"}),
        ("Length around 20 cm", {"length": "20 cm sure"}),
        ("Hat, length so so head 20 cm", {"length": "20 cm sure"}),
        ("around 20 cm length", {"length": "20 cm sure"}),
        ("around 20 cm", {"around": "20 cm likely"}),
        ("Scarf width 20 in length 30 in", {"width": "20 in sure", "length": "30 in sure"}),
        ("8 in\nLength 20 in", {"length": "20 in sure"}),
        ("8 in width 20 in length", {"width": "8 in sure", "length": "20 in sure"}),
    ],
)
def test_a_value_belongs_to_the_name_it_stands_with(text: str, read: dict[str, str]) -> None:
    assert measures(text) == read


def test_a_measure_points_to_its_words() -> None:
    assert sources("Hat, finished chest: 100 cm")["chest"] == ["chest: 100 cm"]
    assert sources("Dishcloth, 9 in square")["width"] == ["9 in square"]
