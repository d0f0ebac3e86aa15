import pytest

from shopdesk.craft.errors import InputError
from shopdesk.craft.lengths import STAFF, fitting, staff_name
from shopdesk.craft.messages import message


def test_a_text_as_long_as_its_column_fits() -> None:
    assert fitting("ninebytes", 9, message("problem_shelf.staff_long")) == "ninebytes"
    assert staff_name("x" * STAFF) == "x" * STAFF


def test_one_letter_more_is_refused_with_the_most_there_may_be() -> None:
    with pytest.raises(InputError) as refused:
        staff_name("x" * (STAFF + 1))
    problem = refused.value.problem
    assert problem.path == ("staff",)
    assert problem.wrong == message("problem_shelf.staff_long")
    assert problem.right == message("problem_shelf.letters_most", count=STAFF)
