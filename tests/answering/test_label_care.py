"""What the band says of fibre and care that does not go together or is bolder than usual."""

from typing import Any

import pytest

from shopdesk.answering.label.label_care import care_findings, fibre_findings
from shopdesk.answering.label.label_findings import Facet, Gravity
from shopdesk.craft.messages import message
from shopdesk.craft.yarn import Construction
from tests.factories import a_care, a_label


@pytest.mark.parametrize(
    ("plies", "told"), [(None, False), (0, False), (1, False), (2, True), (4, True)]
)
def test_a_single_has_one_ply(plies: int | None, told: bool) -> None:
    found = list(fibre_findings(a_label(construction=Construction.SINGLE, plies=plies)))
    assert [one.message for one in found] == (
        [message("label_check.single_with_plies", plies=plies or 0)] if told else []
    )
    assert not list(fibre_findings(a_label(construction=Construction.PLIED, plies=plies)))


@pytest.mark.parametrize(
    ("words", "codes"),
    [
        ({"superwash"}, []),
        ({"untreated"}, []),
        ({"superwash", "untreated"}, ["treated_and_untreated"]),
        ({"merino", "superwash"}, []),
        ({"pima", "merino"}, ["attribute_without_fibre"]),
    ],
)
def test_words_that_do_not_go_with_the_fibre(words: set[str], codes: list[str]) -> None:
    found = list(fibre_findings(a_label(fibres="wool 100", attributes=frozenset(words))))
    assert [one.message.code for one in found] == [f"label_check.{code}" for code in codes]
    assert all((one.gravity, one.facets) == (Gravity.BAND, {Facet.FIBRE}) for one in found)


def test_a_word_without_its_fibre_names_both() -> None:
    label = a_label(fibres="wool 100", attributes=frozenset({"pima"}))
    [found] = fibre_findings(label)
    assert found.message.values == {"attribute": "pima", "fibre_term": "terms.fibre.cotton"}


def codes(fibres: str, care: Any, *words: str) -> list[str]:
    label = a_label(fibres=fibres, care=care, attributes=frozenset(words))
    return [one.message.code.removeprefix("label_check.") for one in care_findings(label)]


@pytest.mark.parametrize(
    ("care", "bolder"),
    [
        # Wool is usually washed by hand at 30, not tumbled: 30 is the mildest of 30, 40, 50, 60,
        # and a washing two steps above it is what many bands say.
        (a_care(50, "hand"), []),
        (a_care(60, "hand"), ["wash_c"]),
        (a_care(30, "hand", tumble="none"), []),
        (a_care(30, "hand", tumble="low"), ["tumble"]),
        (a_care(60, "hand", tumble="normal"), ["wash_c", "tumble"]),
        (a_care(None, "hand"), []),
    ],
)
def test_a_band_that_is_bolder_than_usual(care: Any, bolder: list[str]) -> None:
    found = list(care_findings(a_label(fibres="wool 100", care=care)))
    told = [one for one in found if one.message.code == "label_check.bolder_than_usual"]
    if not bolder:
        assert told == []
        return
    [one] = told
    assert one.message.values == {"axis_terms": tuple(f"care.axis_{axis}" for axis in bolder)}
    assert (one.gravity, one.facets) == (Gravity.UNUSUAL, {Facet.CARE})


@pytest.mark.parametrize(
    ("action", "told"),
    [("very mild", True), ("mild", True), ("normal", True), ("hand", False), (None, False)],
)
def test_what_felts_is_not_for_the_machine(action: str | None, told: bool) -> None:
    care = a_care(30, action)
    assert ("felting_in_machine" in codes("wool 100", care)) is told
    assert "felting_in_machine" not in codes("wool 100", care, "superwash")
    assert "felting_in_machine" not in codes("cotton 100", care)


@pytest.mark.parametrize(
    ("wash_c", "action", "told"),
    [(None, None, True), (30, None, False), (None, "hand", False), (30, "hand", False)],
)
def test_a_band_that_does_not_say_how_to_wash(
    wash_c: int | None, action: str | None, told: bool
) -> None:
    assert ("no_washing" in codes("wool 100", a_care(wash_c, action, tumble="none"))) is told


def test_how_bold_a_band_is_goes_by_steps_from_the_usual() -> None:
    # Cotton is usually washed at 40: 60 is two steps above, 70 three. Acrylic is not ironed.
    assert "bolder_than_usual" not in codes("cotton 100", a_care(60, "normal"))
    assert "bolder_than_usual" in codes("cotton 100", a_care(70, "normal"))
    assert "bolder_than_usual" in codes("acrylic 100", a_care(30, "mild", iron_c=110))
    assert "bolder_than_usual" not in codes("acrylic 100", a_care(30, "mild", iron_c=0))
