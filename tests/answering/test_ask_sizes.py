"""The same ask for another size: amount and chest follow, what was given stays untouched."""

import pytest

from shopdesk.answering.ask.ask_reading import read_ask
from shopdesk.answering.ask.ask_sizes import SizedAsk, SizeUnknown, for_size
from shopdesk.answering.model.ask import AmountKind
from tests.ask_documents import a_length, an_ask_document

SIZES = {
    "names": ["S", "M", "L"],
    "chosen": "M",
    "chest": {"values": [91, 101, 111], "unit": "cm"},
}
AMOUNT = {"kind": "length", "values": [1000, 1200, 1400], "unit": "m"}


def test_amount_and_chest_are_those_of_the_new_size() -> None:
    item = {"kind": "pullover", "measurements": {"chest": a_length(101)}}
    before = an_ask_document(item=item, sizes=SIZES, parts=[{"amount": AMOUNT}])
    sized = for_size(before, "S")
    ask = read_ask(sized.document)
    assert (ask.chosen_size, ask.measurements.chest_cm) == ("S", 91)
    assert ask.parts[0].amount.length_m == 1000
    assert sized.left_open == ()
    assert read_ask(before).measurements.chest_cm == 101


def test_what_was_given_for_the_old_size_alone_is_left_open() -> None:
    item = {"kind": "pullover", "measurements": {"chest": a_length(101), "length": a_length(60)}}
    one = {"kind": "length", "values": [1200], "unit": "m"}
    parts = [{"name": "MC", "amount": one}, {"name": "CC", "amount": AMOUNT}]
    sized = for_size(an_ask_document(item=item, sizes=SIZES, parts=parts), "S")
    ask = read_ask(sized.document)
    assert (ask.measurements.chest_cm, ask.measurements.length_cm) == (91, None)
    assert [part.amount.length_m for part in ask.parts] == [None, 1000]
    assert ask.parts[0].amount.kind is AmountKind.UNKNOWN
    assert sized.left_open == ("length", "amount of yarn")


def test_a_chest_is_left_open_where_the_sizes_list_none() -> None:
    open_parts = [{"amount": {"kind": "unknown"}}]
    item = {"kind": "pullover", "measurements": {"chest": a_length(101)}}
    before = an_ask_document(
        item=item, sizes={"names": ["S", "M"], "chosen": "M"}, parts=open_parts
    )
    sized = for_size(before, "S")
    assert read_ask(sized.document).measurements.chest_cm is None
    assert sized.left_open == ("chest",)


def test_the_chosen_size_leaves_all_as_it_was() -> None:
    item = {"kind": "pullover", "measurements": {"length": a_length(60)}}
    before = an_ask_document(item=item, sizes=SIZES)
    assert for_size(before, "M") == SizedAsk(before)


@pytest.mark.parametrize("fields", [{}, {"sizes": SIZES}])
def test_a_size_that_is_not_there_is_refused(fields: dict[str, object]) -> None:
    with pytest.raises(SizeUnknown, match="no size 'XXL'"):
        for_size(an_ask_document(**fields), "XXL")
