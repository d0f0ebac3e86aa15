"""How alike yarns are by what they state. Judgement, no source, unless named."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopdesk.craft.fibres import fibres
from shopdesk.craft.likeness import (
    is_other_construction,
    is_other_fibre,
    is_same_make,
    make_of,
    states_construction,
    unlikeness,
)
from shopdesk.craft.yarn import Construction
from tests.factories import a_blend

SINGLE, PLIED, CABLED = Construction.SINGLE, Construction.PLIED, Construction.CABLED
FIBRES = [one.key for one in fibres()]
TREATMENTS = ("superwash", "merino", "mercerised")


def make(blend: str, *attributes: str, construction: Construction | None = None) -> str:
    return make_of(a_blend(blend), frozenset(attributes), construction)


@st.composite
def makes(draw: st.DrawFn) -> str:
    """Draws what a band states of one to three fibres, whole shares that add up to 100."""
    names = draw(st.lists(st.sampled_from(FIBRES), min_size=1, max_size=3, unique=True))
    cuts = draw(
        st.lists(st.integers(1, 99), min_size=len(names) - 1, max_size=len(names) - 1, unique=True)
    )
    ends = [0, *sorted(cuts), 100]
    shares = [high - low for low, high in pairwise(ends)]
    blend = ", ".join(f"{name} {share}" for name, share in zip(names, shares, strict=True))
    treated = draw(st.sets(st.sampled_from(TREATMENTS)))
    return make(blend, *treated, construction=draw(st.none() | st.sampled_from(Construction)))


def test_the_order_in_which_things_are_stated_makes_no_difference() -> None:
    one = make("wool 75, polyamide 25", "superwash", "merino", construction=PLIED)
    other = make("polyamide 25, wool 75", "merino", "superwash", construction=PLIED)
    assert one == other
    assert make("wool 75.0, polyamide 25") == make("wool 75, polyamide 25")
    assert make("wool 100") == make("wool 1E+2")


def test_what_is_stated_otherwise_makes_another_text() -> None:
    stated = {
        make("wool 100"),
        make("wool 90, silk 10"),
        make("wool 80, silk 20"),
        make("wool 100", "superwash"),
        make("wool 100", "superwash", "merino"),
        make("wool 100", construction=PLIED),
        make("wool 100", construction=SINGLE),
    }
    assert len(stated) == 7


def test_without_a_fibre_nothing_is_stated_and_nothing_compared() -> None:
    nothing = make("", "superwash", construction=SINGLE)
    assert nothing == ""
    wool = make("wool 100", construction=PLIED)
    for pair in ((nothing, wool), (wool, nothing), (nothing, nothing)):
        assert not is_same_make(*pair)
        assert unlikeness(*pair) == 0
        assert not is_other_fibre(*pair)
        assert not is_other_construction(*pair)


@pytest.mark.parametrize(
    ("other", "same"),
    [
        (make("wool 75, polyamide 25", "superwash", construction=PLIED), True),
        # A construction that one does not state is no difference.
        (make("wool 75, polyamide 25", "superwash"), True),
        (make("wool 75, polyamide 25", "superwash", construction=SINGLE), False),
        (make("wool 75, polyamide 25", construction=PLIED), False),
        (make("wool 75, polyamide 25", "superwash", "merino", construction=PLIED), False),
        (make("wool 80, polyamide 20", "superwash", construction=PLIED), False),
        (make("wool 100", "superwash", construction=PLIED), False),
    ],
)
def test_the_same_make(other: str, same: bool) -> None:
    stated = make("wool 75, polyamide 25", "superwash", construction=PLIED)
    assert is_same_make(stated, other) is same
    assert is_same_make(other, stated) is same


@pytest.mark.parametrize(
    ("one", "other", "unlike"),
    [
        ("wool 100", "wool 100", 0),
        # Another fibre and another family count half each: silk is neither, nor is alpaca, a
        # hair; mohair and alpaca are of one family.
        ("wool 100", "silk 100", 1),
        ("wool 100", "alpaca 100", 1),
        ("mohair 100", "alpaca 100", 0.5),
        ("acrylic 100", "polyester 100", 0.5),
        # A fifth is another fibre and family.
        ("wool 100", "wool 80, silk 20", 0.2),
        # A fifth is another fibre of the same family, plants.
        ("cotton 100", "cotton 80, linen 20", 0.1),
        ("wool 50, cotton 50", "cotton 50, wool 50", 0),
        # Half of the first is in the other, and of families the same.
        ("wool 50, cotton 50", "wool 100", 0.5),
        ("wool 75, polyamide 25", "wool 75, polyester 25", 0.125),
    ],
)
def test_unlikeness_is_the_share_that_is_of_another_fibre_and_family(
    one: str, other: str, unlike: float
) -> None:
    assert unlikeness(make(one), make(other)) == pytest.approx(unlike)
    assert unlikeness(make(other), make(one)) == pytest.approx(unlike)


def test_a_treatment_or_construction_that_only_one_has_adds_a_tenth() -> None:
    plain, superwash = make("wool 100"), make("wool 100", "superwash")
    assert unlikeness(plain, superwash) == pytest.approx(0.1)
    assert unlikeness(make("wool 100", "merino"), superwash) == pytest.approx(0.2)
    plied, single = (make("wool 100", construction=one) for one in (PLIED, SINGLE))
    assert unlikeness(plied, single) == pytest.approx(0.1)
    assert unlikeness(plied, plain) == 0
    assert unlikeness(make("silk 100", "mercerised", construction=SINGLE), plied) == pytest.approx(
        1.2
    )


@pytest.mark.parametrize(
    ("one", "other", "is_other"),
    [
        # Sheep's wool, hair, silk, plants, man-made cellulose, synthetics.
        ("wool 100", "wool 100", False),
        ("wool 100", "alpaca 100", True),
        ("mohair 100", "alpaca 100", False),
        ("wool 100", "cotton 100", True),
        ("cotton 100", "linen 100", False),
        ("cotton 100", "viscose 100", True),
        ("acrylic 100", "polyamide 100", False),
        ("wool 100", "acrylic 100", True),
        # Half of it is of one kind, less than half is another.
        ("wool 100", "wool 50, cotton 50", False),
        ("wool 100", "wool 49, cotton 51", True),
        ("wool 75, polyamide 25", "wool 75, silk 25", False),
    ],
)
def test_another_kind_of_fibre_for_the_most_part(one: str, other: str, is_other: bool) -> None:
    assert is_other_fibre(make(one), make(other)) is is_other
    assert is_other_fibre(make(other), make(one)) is is_other


@pytest.mark.parametrize(
    ("one", "other", "is_other"),
    [
        (PLIED, PLIED, False),
        (PLIED, CABLED, False),
        (PLIED, SINGLE, True),
        (CABLED, SINGLE, True),
        (SINGLE, SINGLE, False),
        (PLIED, Construction.CHENILLE, True),
        (Construction.TAPE, Construction.BOUCLE, True),
        (PLIED, Construction.BRUSHED, True),
        (PLIED, None, False),
    ],
)
def test_another_construction(
    one: Construction, other: Construction | None, is_other: bool
) -> None:
    first, second = make("wool 100", construction=one), make("wool 100", construction=other)
    assert is_other_construction(first, second) is is_other
    if other is not None:
        assert is_other_construction(second, first) is is_other


@pytest.mark.parametrize(
    ("other", "is_other"),
    [
        (None, False),
        (PLIED, False),
        (CABLED, False),
        (Construction.BRUSHED, False),
        (SINGLE, True),
        (Construction.CHENILLE, True),
    ],
)
def test_an_original_of_unknown_construction_is_taken_for_plied(
    other: Construction | None, is_other: bool
) -> None:
    original = make("wool 100")
    assert is_other_construction(original, make("wool 100", construction=other)) is is_other
    assert not states_construction(original)
    assert states_construction(make("wool 100", construction=PLIED))
    assert not states_construction(make(""))


@given(one=makes(), other=makes())
def test_likeness_is_of_both_alike(one: str, other: str) -> None:
    assert unlikeness(one, other) == pytest.approx(unlikeness(other, one))
    assert is_same_make(one, other) == is_same_make(other, one)
    assert is_other_fibre(one, other) == is_other_fibre(other, one)
    if states_construction(one) and states_construction(other):
        assert is_other_construction(one, other) == is_other_construction(other, one)


@given(one=makes(), other=makes())
def test_the_same_make_is_unlike_in_nothing(one: str, other: str) -> None:
    assert is_same_make(one, one)
    assert unlikeness(one, one) == pytest.approx(0)
    assert unlikeness(one, other) >= -1e-9
    if is_same_make(one, other):
        assert unlikeness(one, other) == pytest.approx(0)
        assert not is_other_fibre(one, other)
        assert not (states_construction(one) and is_other_construction(one, other))
