"""A refusal says where, what is wrong and what would be right, of one thing or of several."""

import pytest

from shopdesk.craft.errors import InputError, InputErrors, Path, Problem
from shopdesk.craft.messages import message

NO_SHARE = message("problem_yarn.no_share", text="101")
WRITE_SHARE = message("problem_yarn.write_share")


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
    assert Problem(path, NO_SHARE, WRITE_SHARE).place == place


def test_a_problem_is_seen_from_further_out() -> None:
    inner = Problem((1, "percent"), NO_SHARE, WRITE_SHARE)
    assert inner.under("designer_yarn", "fibres").place == "designer_yarn.fibres[1].percent"
    assert str(inner.under()) == "[1].percent: 101 is not a share; write a number up to 100"


def test_one_refusal_is_one_problem_of_its_field() -> None:
    error = InputError(NO_SHARE, WRITE_SHARE, "percent")
    assert error.problems == (Problem(("percent",), NO_SHARE, WRITE_SHARE),)
    assert str(error) == "101 is not a share; write a number up to 100"
    assert (error.wrong, error.right) == ("101 is not a share", "write a number up to 100")
    assert error.field == "percent"
    assert InputError(NO_SHARE, WRITE_SHARE).problems == (Problem((), NO_SHARE, WRITE_SHARE),)


def test_several_problems_have_a_line_each_with_its_place() -> None:
    class LabelErrors(InputErrors):
        whole = message("problem_ask.whole")

    no_blend, give_blend = message("problem_yarn.no_blend"), message("problem_yarn.give_blend")
    found = [Problem((0,), NO_SHARE, WRITE_SHARE), Problem((), no_blend, give_blend)]
    share = "[0]: 101 is not a share; write a number up to 100"
    blend = "no fibre is given; give at least one fibre with its share"
    assert str(InputErrors(found)) == f"{share}\n{blend}"
    assert str(LabelErrors(found)) == f"{share}\nthe ask: {blend}"


def test_what_is_wrong_may_say_what_to_do() -> None:
    alone = Problem(("percent",), WRITE_SHARE)
    assert str(alone) == "percent: write a number up to 100"
    assert str(InputError(WRITE_SHARE, None)) == "write a number up to 100"
    assert InputError(WRITE_SHARE, None).right == ""
