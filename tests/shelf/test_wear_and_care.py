"""A yarn's wear and care in one column comes back as it was."""

from hypothesis import given
from hypothesis import strategies as st

from shopdesk.answering.profile.summary import WearAndCare, label_wear_and_care
from shopdesk.craft.behaviour import TRAITS, Level, Traits
from shopdesk.craft.care import AXES, axis_values
from shopdesk.craft.yarn import CareLabel
from shopdesk.shelf.yarn_index import wear_and_care_of, wear_and_care_text
from tests.factories import a_label

levels = st.none() | st.sampled_from(Level)
behaviours = st.builds(Traits, **dict.fromkeys(TRAITS, levels))
cares = st.builds(
    CareLabel, **{axis: st.none() | st.sampled_from(axis_values(axis)) for axis in AXES}
)
wears_and_cares = st.builds(WearAndCare, behaviours, cares, st.booleans())


@given(wears_and_cares)
def test_wear_and_care_come_back(wear_and_care: WearAndCare) -> None:
    assert wear_and_care_of(wear_and_care_text(wear_and_care)) == wear_and_care


@given(wears_and_cares, wears_and_cares)
def test_unlike_wears_and_cares_have_unlike_texts(one: WearAndCare, other: WearAndCare) -> None:
    assert (wear_and_care_text(one) == wear_and_care_text(other)) is (one == other)


def test_the_longest_text_has_room() -> None:
    longest = [max((str(v) for v in axis_values(axis)), key=len) for axis in AXES]
    most = len("|".join([*("some" for _ in TRAITS), *longest, "by default"]))
    assert most <= 200


def test_a_band_without_care_gives_the_usual_of_its_fibre() -> None:
    assert label_wear_and_care(a_label(fibres="wool 100")).by_default
