"""A yarn without a label: metres left, and what a weighed piece and wraps say of it."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopdesk.answering.unlabelled import WeighedPiece, unlabelled
from shopdesk.craft.figures import Basis
from tests.factories import a_blend


def test_metres_left_are_in_proportion_to_mass() -> None:
    # By the definition of tex: 10 m of 4.4 g are 440 tex, so 66 g are 150 m.
    found = unlabelled(WeighedPiece(10, 4.4), 66, ())
    assert found.metres_left is not None
    assert found.metres_left.value == pytest.approx(150)
    assert found.metres_left.low < 150 < found.metres_left.high
    assert found.metres_left.basis is Basis.SHOP


def test_dk_is_among_what_it_may_be() -> None:
    # Metres per 100 g, common practice: DK 200 to 260.
    found = unlabelled(WeighedPiece(10, 4.4), None, (11,), a_blend("wool 100"))
    assert 3 in found.profile.categories
    assert found.profile.natural_stitches is not None
    assert found.profile.natural_stitches.basis is Basis.ESTIMATE
    assert found.metres_left is None


def test_wraps_alone_never_decide() -> None:
    # Craft Yarn Council: 11 wraps per inch lie in categories 3 and 4 (their ranges overlap).
    found = unlabelled(None, 50, (11, 11, 11))
    assert set(found.profile.categories) >= {3, 4}
    assert found.profile.natural_stitches is None
    assert found.metres_left is None


@given(st.floats(1, 50), st.floats(0.1, 100), st.floats(1, 500), st.floats(1.01, 3))
def test_more_of_it_is_more_metres(length: float, mass: float, whole: float, more: float) -> None:
    some = unlabelled(WeighedPiece(length, mass), whole, ()).metres_left
    further = unlabelled(WeighedPiece(length, mass), whole * more, ()).metres_left
    assert some is not None
    assert further is not None
    assert further.value == pytest.approx(some.value * more)
