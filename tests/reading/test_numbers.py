"""The reading room hands out the one number reader; its rules are tested in craft."""

from shopdesk.craft import numerals
from shopdesk.reading import numbers


def test_the_room_has_no_reader_of_its_own() -> None:
    assert numbers.read_number is numerals.read_number
    assert numbers.NumberRefused is numerals.NumberRefused
