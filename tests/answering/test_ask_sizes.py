"""The same ask for another size: amount and chest follow, what was given stays untouched."""

import pytest

from shopdesk.answering.ask_reading import read_ask
from shopdesk.answering.ask_sizes import SizeUnknown, for_size
from tests.ask_documents import a_length, an_ask_document

SIZES = {
    "names": ["S", "M", "L"],
    "chosen": "M",
    "chest": {"values": [91, 101, 111], "unit": "cm"},
}
AMOUNT = {"kind": "length", "values": [1000, 1200, 1400], "unit": "m"}


def test_amount_and_chest_are_those_of_the_new_size() -> None:
    item = {"kind": "pullover", "measurements": {"chest": a_length(101), "length": a_length(60)}}
    before = an_ask_document(item=item, sizes=SIZES, parts=[{"amount": AMOUNT}])
    ask = read_ask(for_size(before, "S"))
    assert ask.chosen_size == "S"
    assert (ask.measurements.chest_cm, ask.measurements.length_cm) == (91, 60)
    assert ask.parts[0].amount.length_m == 1000
    assert read_ask(before).measurements.chest_cm == 101


def test_a_chest_stays_where_the_sizes_list_none() -> None:
    item = {"kind": "pullover", "measurements": {"chest": a_length(101)}}
    before = an_ask_document(item=item, sizes={"names": ["S", "M"], "chosen": "M"})
    assert read_ask(for_size(before, "S")).measurements.chest_cm == 101


@pytest.mark.parametrize("fields", [{}, {"sizes": SIZES}])
def test_a_size_that_is_not_there_is_refused(fields: dict[str, object]) -> None:
    with pytest.raises(SizeUnknown, match="no size 'XXL'"):
        for_size(an_ask_document(**fields), "XXL")
