"""Yarns without a label, and tickets: what is taken, and what each box is told."""

import pytest
from sqlalchemy import Engine

from shopdesk.craft.errors import InputErrors
from shopdesk.services.labels import (
    UnlabelledTexts,
    check_yarn,
    identify_yarn,
    print_tickets,
)
from shopdesk.shelf.loading import YarnUnknown
from shopdesk.shelf.writing import writing
from shopdesk.shop.shop import Shop
from tests.shelf.rows import put_yarn
from tests.slip_reading import page_sizes_mm


def problems(**typed: str) -> dict[str, str]:
    with pytest.raises(InputErrors) as refused:
        identify_yarn(UnlabelledTexts(**typed))
    return {str(one.path[0]): str(one) for one in refused.value.problems}


def test_a_piece_is_measured_and_weighed() -> None:
    """10 m that weigh 4 g are 250 m in 100 g, and 40 g of it 100 m."""
    found = identify_yarn(UnlabelledTexts(length="10", mass="4", whole="40"))
    assert found.profile.metres_per_100g is not None
    assert found.profile.metres_per_100g.value == pytest.approx(250)
    assert found.metres_left is not None
    assert found.metres_left.value == pytest.approx(100)


def test_wraps_alone_are_enough() -> None:
    assert identify_yarn(UnlabelledTexts(wraps="11, 12; 10")).metres_left is None


def test_either_a_piece_or_wraps_is_needed() -> None:
    assert problems(fibres="wool 100").keys() == {"length"}
    assert problems(whole="40").keys() == {"length"}


def test_of_a_piece_both_are_needed() -> None:
    """The box that is empty is told, also beside wraps."""
    assert problems(length="10").keys() == {"mass"}
    assert problems(mass="4", wraps="11").keys() == {"length"}
    assert problems(length="10", wraps="11").keys() == {"mass"}


def test_every_box_is_told_at_once() -> None:
    assert problems(length="x", mass="4", whole="y", wraps="z", fibres="moon 100").keys() == {
        "length", "whole", "wraps", "fibres",
    }  # fmt: skip


def test_readings_of_wraps_are_above_0_up_to_100_and_twelve_at_most() -> None:
    for wraps in ("0.5", "100", ", ".join(["11"] * 12)):
        identify_yarn(UnlabelledTexts(wraps=wraps))
    for wraps in ("0", "100.5", "11, 0", ", ".join(["11"] * 13)):
        assert problems(wraps=wraps).keys() >= {"wraps"}


def test_of_readings_that_cannot_be_40_letters_are_shown() -> None:
    wraps = ", ".join(["11"] * 13)
    assert f"'{wraps[:40]}'" in problems(wraps=wraps)["wraps"]
    assert wraps[:41] not in problems(wraps=wraps)["wraps"]


def test_tickets_are_printed_as_often_as_a_yarn_is_named(shelf: Engine) -> None:
    with writing(shelf) as session:
        put_yarn(session, "T-1")
    assert len(page_sizes_mm(print_tickets(Shop(shelf), ["T-1", "T-9"] * 3, "roll-58"))) == 3


def test_of_many_named_the_first_400_are_looked_up(shelf: Engine) -> None:
    with writing(shelf) as session:
        put_yarn(session, "T-1")
    assert print_tickets(Shop(shelf), [*["T-9"] * 399, "T-1"], "roll-58")
    with pytest.raises(YarnUnknown):
        print_tickets(Shop(shelf), [*["T-9"] * 400, "T-1"], "roll-58")


def test_without_a_yarn_that_is_there_nothing_is_printed(shelf: Engine) -> None:
    """Of the many that are named 80 letters are told."""
    with pytest.raises(YarnUnknown) as refused:
        print_tickets(Shop(shelf), ["T" * 39, "U" * 39, "V"], "roll-58")
    assert refused.value.wrong == f"there is no yarn {'T' * 39}, {'U' * 39}"


def test_a_retired_yarn_is_checked_too(shelf: Engine) -> None:
    with writing(shelf) as session:
        put_yarn(session, "T-1").retired = True
    assert check_yarn(Shop(shelf), "T-1").yarn.sku == "T-1"
    with pytest.raises(YarnUnknown):
        check_yarn(Shop(shelf), "T-9")
