"""Who an item is for follows from size, age, measurements and words, and says from which."""

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopdesk.answering.model.ask import ItemKind, Wearer
from shopdesk.craft.items import Measurements
from shopdesk.craft.wearers import FollowedWearer, WearerClues, follow_wearer
from shopdesk.wording.formatting import ReaderPreferences
from shopdesk.wording.translate import english, translate

BABY = "baby under 12 months"


def followed(said: str = "unknown", item: str = "pullover", **known: Any) -> FollowedWearer:
    sizes = {key: known.pop(key) for key in list(known) if key.endswith("_cm")}
    if "size" in known:
        known.setdefault("sizes", (known["size"],))
    return follow_wearer(said, WearerClues(item, Measurements(**sizes), **known))


def who(said: str = "unknown", item: str = "pullover", **known: Any) -> str:
    return followed(said, item, **known).wearer


# EN 14682 (older children to 14 years), EN 14878, EN 13402 with hood cords to 88 cm: under 56 cm
# baby or toddler, 56 to 70 child, 70 to 88 asked, over 88 adult.
@pytest.mark.parametrize(
    ("chest_cm", "wearer", "young"),
    [
        (41, BABY, True), (48, BABY, True), (55.9, BABY, True),
        (57, "child", True), (66, "child", False), (69.9, "child", False),
        (71, "unknown", False), (87, "unknown", False), (89, "adult", False), (124, "adult", False),
    ],
)  # fmt: skip
def test_by_the_chest(chest_cm: float, wearer: str, young: bool) -> None:
    found = followed(chest_cm=chest_cm)
    assert (found.wearer, found.under_three) == (wearer, young)
    assert (found.taken_from is None) == (wearer == "unknown")


# WHO Child Growth Standards: heads at 2 years from 44.4 cm, at 1 year to 48.6 cm, at 5 to 53.7 cm.
@pytest.mark.parametrize(
    ("around_cm", "wearer", "maybe"),
    [(36, BABY, False), (44, BABY, False), (46, "unknown", True), (50, "unknown", False)],
)
def test_by_the_head(around_cm: float, wearer: str, maybe: bool) -> None:
    found = followed(item="hat", around_cm=around_cm)
    assert (found.wearer, found.may_be_a_baby) == (wearer, maybe)
    assert who(item="bag", around_cm=around_cm) == "unknown"


@pytest.mark.parametrize(
    ("size", "wearer", "young"),
    [
        ("0-3 months", BABY, True), ("6-12 months", BABY, True), ("12 M", BABY, True),
        ("18 months", "child", True), ("18-24m", "child", True), ("2T", "child", True),
        ("2 years", "child", True), ("3-4 years", "child", False), ("age 8 yrs", "child", False),
        ("14 years", "child", False), ("16 years", "unknown", False), ("18 years", "adult", False),
        ("6 months to 1 year", BABY, True), ("1 year", "child", True),
        ("3 Monate", BABY, True), ("4-6 J", "child", False), ("2 Jahre", "child", True),
        ("6 mois", BABY, True), ("2 ans", "child", True), ("8 ans", "child", False),
        ("Newborn", BABY, True), ("Frühchen", BABY, True), ("naissance", BABY, True),
        ("Toddler", "child", True), ("Kinder M", "child", False), ("Women's M", "adult", False),
        ("Herren L", "adult", False), ("femme S", "adult", False),
        ("62/68", BABY, True), ("74", BABY, True), ("92", "child", True), ("Gr. 98", "child", True),
        ("104", "child", False), ("134/140", "child", False), ("170", "unknown", False),
        ("M", "unknown", False), ("XL", "unknown", False), ("36", "unknown", False),
        ("8", "unknown", False), ("one size", "unknown", False),
    ],
)  # fmt: skip
def test_by_the_name_of_the_size(size: str, wearer: str, young: bool) -> None:
    found = followed(size=size)
    assert (found.wearer, found.under_three) == (wearer, young)
    assert (found.taken_from is None) == (wearer == "unknown")


def test_by_the_size_that_is_chosen() -> None:
    sizes = ("3 months", "2 years", "18 years")
    assert [who(size=one, sizes=sizes) for one in sizes] == [BABY, "child", "adult"]


def test_a_number_is_a_height_only_among_heights() -> None:
    assert who(size="86", sizes=("80", "86", "92")) == "child"
    assert who(size="86", sizes=("81", "86", "91", "97")) == "unknown"
    assert who(size="86", sizes=("M", "86")) == "unknown"
    # Sizes named by an adult's chest.
    assert who(size="92", sizes=("86", "92", "98"), chest_cm=97) == "adult"
    assert who(size="92", sizes=("86", "92", "98"), chest_cm=54) == "child"


def test_the_size_of_a_hat_may_be_its_head() -> None:
    assert who(item="hat", size="56", sizes=("50", "56")) == "unknown"
    assert who(item="hat", size="42", sizes=("42", "46")) == BABY
    assert followed(item="hat", size="46", sizes=("42", "46")).may_be_a_baby
    assert who(item="hat", size="62", sizes=("50", "56", "62", "68")) == BABY


@pytest.mark.parametrize(
    ("title", "wearer"),
    [
        ("Baby blanket", BABY), ("a baby’s first hat", BABY), ("Babydecke", BABY),
        ("couverture bébé", BABY), ("Toddler mitts", "child"), ("Kinderpullover", "child"),
        ("Men's socks", "adult"), ("Damen Pullover", "adult"), ("Mother and baby: women", BABY),
        ("Baby alpaca shawl", "unknown"), ("scarf in baby wool", "unknown"),
        ("baby weight jumper", "unknown"), ("châle alpaga bébé", "unknown"),
        ("babydoll top", "unknown"), ("pattern", "unknown"), ("Mannheim cowl", "unknown"),
    ],
)  # fmt: skip
def test_by_words_but_not_by_those_of_the_yarn(title: str, wearer: str) -> None:
    found = followed(item="blanket", title=title)
    assert found.wearer == wearer
    assert not found.may_be_a_baby


@pytest.mark.parametrize("name", ["baby", "Baby", "Babygarn", "baby weight", "sport / baby"])
def test_a_weight_named_after_babies_asks(name: str) -> None:
    found = followed(weight_names=(name,))
    assert (found.wearer, found.may_be_a_baby) == ("unknown", True)
    assert found.taken_from is not None
    assert name in english(found.taken_from)
    assert not followed(weight_names=("DK",)).may_be_a_baby
    assert not followed("adult", weight_names=(name,)).may_be_a_baby
    # What tells for sure goes before what only may be.
    assert followed(weight_names=(name,), chest_cm=100) == followed(chest_cm=100)


def test_by_what_the_item_mostly_is_unless_it_is_measured() -> None:
    assert [who(item=item) for item in ("bib", "bootees", "socks")] == [BABY, BABY, "unknown"]
    assert who(item="bootees", foot_cm=25) == "unknown"
    assert [who(item="socks", foot_cm=cm) for cm in (10.5, 18, 25)] == [BABY, "child", "unknown"]
    assert [who(item="mitts", around_cm=cm) for cm in (11, 15, 19)] == [BABY, "child", "unknown"]


def test_a_chest_is_one_only_of_what_is_worn_on_the_body() -> None:
    # The 'chest' of a blanket's sizes is its width; an item that is not named may be anything.
    assert who(item="blanket", chest_cm=48) == "unknown"
    assert who(item="other", chest_cm=48) == BABY
    assert who(item="other", chest_cm=100) == "unknown"


def test_nightwear_is_a_childs_up_to_97_cm() -> None:
    # Advisory note on the Nightwear (Safety) Regulations 1985.
    for chest_cm, wearer in ((48, BABY), (66, "child"), (90, "unknown"), (96.9, "unknown"),
                             (97, "adult")):  # fmt: skip
        assert who(nightwear=True, chest_cm=chest_cm) == wearer


def test_a_gift_is_for_somebody_younger_or_for_who_knows() -> None:
    assert who("gift", chest_cm=48) == BABY
    assert who("gift", chest_cm=100) == "gift"
    assert who("gift") == "gift"
    assert followed("gift", weight_names=("baby",)).may_be_a_baby


def test_a_child_that_is_said_may_be_known_to_be_young() -> None:
    assert followed("child", size="2 years") == FollowedWearer("child", under_three=True)
    assert followed("child", size="8 years") == FollowedWearer("child")


clues = st.builds(
    WearerClues,
    item=st.sampled_from([str(kind) for kind in ItemKind]),
    measurements=st.builds(
        Measurements,
        chest_cm=st.none() | st.floats(30, 150),
        around_cm=st.none() | st.floats(8, 70),
        foot_cm=st.none() | st.floats(8, 32),
    ),
    nightwear=st.booleans(),
    size=st.none() | st.sampled_from(["86", "2 years", "3 months", "Women's M", "M", "98/104"]),
    title=st.sampled_from(["pattern", "baby hat", "men's hat"]),
    weight_names=st.sampled_from([(), ("baby",), ("DK",)]),
)


@given(st.sampled_from(["adult", "child", "household", BABY]), clues)
def test_what_staff_said_always_wins(said: str, known: WearerClues) -> None:
    found = follow_wearer(said, known)
    assert (found.wearer, found.taken_from, found.may_be_a_baby) == (said, None, False)


@given(clues)
def test_what_follows_says_from_what_and_unknown_stays_unknown(known: WearerClues) -> None:
    found = follow_wearer("unknown", known)
    assert found.wearer in set(Wearer)
    assert (found.taken_from is None) == (found.wearer == "unknown" and not found.may_be_a_baby)
    for language in ("en", "de", "fr"):
        if found.taken_from is not None:
            assert "{" not in translate(found.taken_from, ReaderPreferences(language))
