"""The builders make what their words say."""

from decimal import Decimal

from tests.factories import a_blend, a_label, a_yarn, an_ask


def test_a_blend_is_read_share_by_share() -> None:
    assert [(line.fibre, line.percent) for line in a_blend("wool 75, polyamide 25")] == [
        ("wool", Decimal(75)),
        ("polyamide", Decimal(25)),
    ]


def test_a_label_turns_length_per_mass_into_a_put_up() -> None:
    put_up = a_label(metres_per_100g=210, grams=50).put_up
    assert put_up is not None
    assert (put_up.grams, put_up.metres) == (50, 105)


def test_a_yarn_and_an_ask_take_single_fields() -> None:
    assert a_yarn("X", hand_dyed=True).hand_dyed
    assert an_ask(metres=None).parts[0].amount.length_m is None
