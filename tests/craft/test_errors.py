"""A refusal says where, what is wrong and what would be right, of one thing or of several."""

import pytest

from shopdesk.craft.errors import InputError, InputErrors, Path, Problem


@pytest.mark.parametrize(
    ("path", "place"),
    [
        ((), ""),
        (("title",), "title"),
        (("parts", 0, "amount", "unit"), "parts[0].amount.unit"),
        ((2, "fibre"), "[2].fibre"),
    ],
)
def test_a_place_is_written_as_in_a_document(path: Path, place: str) -> None:
    assert Problem(path, "wrong", "right").place == place


def test_a_problem_is_seen_from_further_out() -> None:
    inner = Problem((1, "percent"), "101 is not a share", "write a number up to 100")
    assert inner.under("designer_yarn", "fibres").place == "designer_yarn.fibres[1].percent"
    assert str(inner.under()) == "[1].percent: 101 is not a share; write a number up to 100"


def test_one_refusal_is_one_problem_of_its_field() -> None:
    error = InputError("this is too long", "write at most 80 letters", "name")
    assert error.problems == (Problem(("name",), "this is too long", "write at most 80 letters"),)
    assert str(error) == "this is too long; write at most 80 letters"
    assert (error.wrong, error.field) == ("this is too long", "name")
    assert InputError("wrong", "right").problems == (Problem((), "wrong", "right"),)


def test_several_problems_have_a_line_each_with_its_place() -> None:
    class LabelErrors(InputErrors):
        whole = "the label"

    found = [Problem(("wash_c",), "a", "b"), Problem((), "c", "d")]
    assert str(InputErrors(found)) == "wash_c: a; b\nc; d"
    assert str(LabelErrors(found)) == "wash_c: a; b\nthe label: c; d"
