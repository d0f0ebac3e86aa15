"""Blends as typed: exact sums, attributes told apart, nothing corrected silently.

Names: Regulation (EU) 1007/2011 Annex I and 16 CFR 303.7.
"""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopdesk.craft.blend import attribute_fibre, attribute_named, checked_blend
from shopdesk.craft.errors import InputErrors, Path
from shopdesk.craft.fibres import fibres, plain_name
from shopdesk.craft.yarn import FibreShare
from shopdesk.reference.tables import table
from shopdesk.wording.translate import english


def pairs(text: str) -> list[tuple[str, Decimal]]:
    """Returns the lines of 'wool 75, nylon 25' as typed."""
    split = [line.rsplit(maxsplit=1) for line in text.split(",")]
    return [(name.strip(), Decimal(percent)) for name, percent in split]


def problems(text: str) -> list[tuple[Path, str, str]]:
    with pytest.raises(InputErrors) as refusal:
        checked_blend(pairs(text))
    return [
        (each.path, english(each.wrong), english(each.right)) for each in refusal.value.problems
    ]


def test_a_blend_keeps_its_order_and_gets_its_keys() -> None:
    assert checked_blend(pairs("Schurwolle 75, nylon 25")) == (
        FibreShare("wool", Decimal(75)),
        FibreShare("polyamide", Decimal(25)),
    )


def test_thirds_with_all_their_places_add_up_exactly() -> None:
    third = "33." + "3" * 33
    assert len(checked_blend(pairs(f"wool {third}, silk {third}, linen {third[:-1]}4"))) == 3


@pytest.mark.parametrize(
    ("text", "total"),
    [
        ("wool 75, nylon 24", "99"),
        ("wool 75, nylon 25.0000000001", "100.0000000001"),
        ("wool 33.3, silk 33.3, linen 33.3", "99.9"),
        ("wool 100, silk 3", "103"),
    ],
)
def test_a_wrong_sum_is_said_never_scaled(text: str, total: str) -> None:
    assert problems(text) == [
        ((), f"the shares add up to {total}", "they must add up to exactly 100")
    ]


@pytest.mark.parametrize(
    ("name", "wrong", "right"),
    [
        ("merino", "kind of wool", "enter wool, and merino as an attribute"),
        ("Merino wool", "kind of wool", "enter wool, and merino as an attribute"),
        ("Merinowolle", "kind of wool", "enter wool, and merino as an attribute"),
        ("superwash merino", "kind of wool", "wool, and superwash and merino as attributes"),
        ("superwash", "not which it is", "the fibre, such as wool, and superwash"),
        ("superwash wool", "and more in one", "enter wool, and superwash as an attribute"),
        ("organic cotton", "and more in one", "enter cotton, and organic as an attribute"),
        ("bamboo", "viscose made from bamboo", "enter viscose, and bamboo as an attribute"),
        ("rayon made from bamboo", "viscose made from bamboo", "enter viscose"),
        ("kid mohair", "kind of mohair", "enter mohair, and kid as an attribute"),
        ("baby alpaca", "kind of alpaca", "enter alpaca, and baby alpaca as an attribute"),
        ("hand-dyed", "not which it is", "hand-dyed as an attribute"),
        ("casmere", "not a fibre that is known", "write cashmere"),
        ("unobtainium", "not a fibre that is known", "generic name such as wool"),
        ("w" * 90, "too long", "generic name"),
        ("", "no fibre is named", "generic name"),
        ("<b>wool</b>", "not a fibre that is known", ""),
    ],
)
def test_what_is_no_fibre_is_told_apart(name: str, wrong: str, right: str) -> None:
    with pytest.raises(InputErrors) as refusal:
        checked_blend([(name, Decimal(100))])
    [problem] = refusal.value.problems
    assert problem.path == (0,)
    assert wrong in english(problem.wrong)
    assert right in english(problem.right)


def test_a_fibre_is_there_once_by_any_of_its_names() -> None:
    assert problems("wool 50, laine 50") == [
        ((1,), "wool is there twice", "put its shares into one line")
    ]


def test_other_fibres_come_once_and_last() -> None:
    assert checked_blend(pairs("wool 95, other fibres 5"))[-1].fibre == "other"
    assert problems("other 5, wool 95")[0][:2] == ((0,), "'other fibres' is not the last line")
    assert problems("wool 90, other 5, other fibers 5")[0][1] == "other fibres is there twice"


@pytest.mark.parametrize("percent", ["0", "-3", "101", "NaN", "sNaN", "Infinity"])
def test_a_share_lies_above_zero_and_up_to_a_hundred(percent: str) -> None:
    assert problems(f"wool {percent}") == [
        ((0,), f"{percent} is not a share", "write a number up to 100")
    ]


def test_no_line_at_all() -> None:
    with pytest.raises(InputErrors, match="no fibre is given"):
        checked_blend([])


def test_every_problem_is_listed_at_once() -> None:
    lines = [line for line, _, _ in problems("merino 50, silk -1, wool 20, wool 20")]
    assert lines == [(0,), (1,), (3,)]


@pytest.mark.parametrize(
    ("text", "key"),
    [
        ("superwash", "superwash"), ("Superwash", "superwash"), ("merino", "merino"),
        ("Organic", "organic"), ("mercerized", "mercerised"), ("handgefärbt", "hand-dyed"),
        ("teint à la main", "hand-dyed"), ("hand dyed", "hand-dyed"), ("bambou", "bamboo"),
        ("wool", None), ("", None), ("machine washable", None),
    ],
)  # fmt: skip
def test_attributes_are_known_by_their_names(text: str, key: str | None) -> None:
    assert attribute_named(text) == key


def test_no_attribute_is_a_fibre() -> None:
    for key in {row["attribute"] for row in table("attributes")}:
        assert attribute_named(key) == key
        with pytest.raises(InputErrors):
            checked_blend([(key, Decimal(100))])


def test_each_name_means_one_attribute_however_it_is_hyphenated() -> None:
    """Blanks and hyphens are alike: 'plant dyed' cannot be a key beside 'plant-dyed'."""
    meant: dict[str, set[str]] = {}
    for row in table("attributes"):
        for name in (row["name"], row["attribute"]):
            meant.setdefault(plain_name(name), set()).add(row["attribute"])
    twice = {name: keys for name, keys in meant.items() if len(keys) > 1}
    assert twice == {}, "write the key with the hyphens that it has already"


KEYS = [fibre.key for fibre in fibres() if fibre.key != "other"]


@given(
    st.lists(st.sampled_from(KEYS), min_size=1, max_size=6, unique=True),
    st.lists(st.integers(1, 10**6), min_size=6, max_size=6),
    st.integers(-3, 3),
)
def test_only_an_exact_hundred_is_taken(keys: list[str], weights: list[int], off: int) -> None:
    """The last share takes what is left to 100, in ten-thousandths, more or less `off`."""
    units = [weight % (10**6 // len(keys)) + 1 for weight in weights[: len(keys)]]
    units[-1] = 10**6 - sum(units[:-1]) + off
    shares = [Decimal(unit) / 10**4 for unit in units]
    lines = list(zip(keys, shares, strict=True))
    if off == 0:
        assert sum(s.percent for s in checked_blend(lines)) == 100
    else:
        with pytest.raises(InputErrors):
            checked_blend(lines)


def test_a_name_may_have_60_letters() -> None:
    assert checked_blend([("wool".ljust(60), Decimal(100))])[0].fibre == "wool"
    [(_, wrong, _)] = problems("x" * 60 + " 100")
    assert "not a fibre that is known" in wrong
    [(_, wrong, _)] = problems("x" * 61 + " 100")
    assert "too long" in wrong


@pytest.mark.parametrize(
    ("key", "of_fibre"), [("merino", "wool"), ("baby alpaca", "alpaca"), ("superwash", None)]
)
def test_what_an_attribute_is_said_of(key: str, of_fibre: str | None) -> None:
    assert attribute_fibre(key) == of_fibre
    assert attribute_fibre("unobtainium") is None


@pytest.mark.parametrize(
    ("name", "right"),
    [
        # Alike are twice the letters in common, in their order, over those of both names: 10 of
        # 12, 6 of 8, and for 'linnet' and 'linen' 8 of 11, below three quarters.
        ("cottom", "write cotton"),
        ("alpacca", "write alpaca"),
        ("sylk", "write silk"),
        ("linnet", "write a fibre's generic name"),
    ],
)
def test_a_slip_of_the_pen_is_told_the_closest_name(name: str, right: str) -> None:
    [(_, _, told)] = problems(f"{name} 100")
    assert told.startswith(right)


def test_a_made_up_fibre_with_an_attribute_is_not_known() -> None:
    [(_, wrong, _)] = problems("superwash unobtainium 100")
    assert "not a fibre that is known" in wrong
