from itertools import product

import pytest

from shopdesk.answering.model.ask import Drying, ItemKind, Washing, Wearer
from shopdesk.craft.behaviour import Level, Traits
from shopdesk.craft.care import AXES, axis_values
from shopdesk.craft.washing import any_of, care_changes, wash_differences
from shopdesk.craft.yarn import CareLabel
from shopdesk.reference.tables import table
from shopdesk.wording.translate import english

HAND = CareLabel(30, "hand", "none", "none", "flat", 0, "none", "none")
ROBUST = CareLabel(60, "normal", "any", "normal", "line", 200, "any", "normal")
FELTS = Traits(felts=Level.YES)


def differences(
    care: CareLabel | None,
    washing: str = "unknown",
    drying: str = "unknown",
    wearer: str = "adult",
    item: str = "pullover",
    traits: Traits | None = None,
) -> list[str]:
    said = wash_differences(care, washing, drying, wearer, item, traits)
    assert all(english(one) for one in said)
    return [one.code.removeprefix("washing.") for one in said]


def test_words_of_the_ask_are_those_of_the_tables() -> None:
    programmes = {row["programme"] for row in table("wash_programmes")}
    assert programmes == {str(w) for w in Washing} - {"unknown"} | {"often"}
    words = {"item": set(map(str, ItemKind)), "wearer": set(map(str, Wearer))}
    assert [r["name"] for r in table("item_groups") if r["name"] not in words[r["kind"]]] == []


def test_robust_yarn_stands_every_washing() -> None:
    for washing, drying in product(Washing, Drying):
        assert differences(ROBUST, washing, drying) == []


@pytest.mark.parametrize("washing", ["machine 60", "machine 40", "machine 30", "wool programme"])
def test_machine_washed_this_wool_felts(washing) -> None:
    assert differences(HAND, washing, traits=FELTS) == ["felts_in_machine"]
    assert differences(HAND, washing, traits=Traits(felts=Level.SOME)) == ["may_felt_in_machine"]
    assert differences(HAND, washing, traits=Traits(felts=Level.NO)) == ["hand_only"]
    assert differences(HAND, washing, traits=Traits()) == ["hand_only"]
    [said] = wash_differences(HAND, washing, "unknown", "adult", "hat", FELTS)
    assert english(said).startswith("Machine washed, this yarn felts")


def test_hand_washing_household_has_nothing_to_fear() -> None:
    assert differences(HAND, "hand", "flat", traits=FELTS) == []


@pytest.mark.parametrize(
    ("care", "washing", "codes"),
    [
        (CareLabel(40, "mild"), "machine 60", ["gentler_programme", "too_hot"]),
        (CareLabel(40, "normal"), "machine 60", ["too_hot"]),
        (CareLabel(40, "normal"), "machine 40", []),
        (CareLabel(30, "very mild"), "machine 30", ["gentler_programme"]),
        (CareLabel(30, "very mild"), "wool programme", []),
        (CareLabel(wash_action="do not wash"), "hand", ["must_not_be_washed"]),
        (CareLabel(), "hand", ["not_known"]),
        (None, "machine 40", ["not_known"]),
        (CareLabel(wash_c=40), "machine 40", ["machine_not_known"]),
        (CareLabel(wash_action="normal"), "machine 40", ["heat_not_known"]),
        (CareLabel(dry_clean="none"), "dry clean", ["no_dry_clean"]),
        (CareLabel(dry_clean="hydrocarbon mild"), "dry clean", []),
        (CareLabel(), "dry clean", ["dry_clean_not_known"]),
    ],
)
def test_washing_is_compared_with_what_the_yarn_stands(care, washing, codes) -> None:
    assert differences(care, washing) == codes


def test_rougher_programme_felts_what_felts() -> None:
    some = Traits(felts=Level.SOME)
    assert differences(CareLabel(30, "mild"), "machine 30", traits=some) == [
        "may_felt_when_rougher"
    ]
    assert differences(CareLabel(30, "very mild"), "machine 30", traits=FELTS) == [
        "felts_when_rougher"
    ]


@pytest.mark.parametrize(
    ("care", "drying", "codes"),
    [
        (CareLabel(tumble="none"), "tumble", ["no_tumble"]),
        (CareLabel(tumble="low"), "tumble", ["tumble_low"]),
        (CareLabel(), "tumble", ["tumble_not_known"]),
        (CareLabel(natural_drying="flat"), "line", ["dry_flat"]),
        (CareLabel(natural_drying="flat in shade"), "line", ["dry_flat", "out_of_the_sun"]),
        (CareLabel(natural_drying="drip"), "line", []),
        (CareLabel(), "line", ["line_not_known"]),
        (CareLabel(), "flat", []),
    ],
)
def test_drying_is_compared_with_what_the_yarn_stands(care, drying, codes) -> None:
    assert differences(care, drying=drying) == codes


def test_dryer_felts_what_felts() -> None:
    assert differences(HAND, drying="tumble", traits=FELTS) == ["felts_in_dryer"]


@pytest.mark.parametrize(
    ("wearer", "item"),
    [
        ("baby under 12 months", "pullover"),
        ("child", "hat"),
        ("unknown", "bib"),
        ("gift", "toy"),
        ("adult", "blanket"),
    ],
)
def test_what_is_washed_often_is_taken_to_go_in_the_machine(wearer, item) -> None:
    said = differences(HAND, "unknown", "unknown", wearer, item, FELTS)
    assert said == ["often", "felts_in_machine"]
    assert differences(ROBUST, "unknown", "unknown", wearer, item) == []


def test_nothing_is_compared_with_a_washing_that_nobody_said() -> None:
    assert differences(HAND, "unknown", "unknown", "adult", "pullover", FELTS) == []


def test_weak_when_wet_is_said_where_it_would_hurt() -> None:
    weak = Traits(weak_wet=Level.YES)
    assert differences(ROBUST, "machine 30", traits=weak) == ["weak_when_wet"]
    assert differences(ROBUST, "hand", "line", traits=weak) == ["weak_when_wet"]
    assert differences(ROBUST, "hand", "flat", traits=weak) == []


@pytest.mark.parametrize("axis", AXES)
def test_a_milder_treatment_never_adds_a_difference(axis: str) -> None:
    """GINETEX guidance: milder is always allowed, so more leave on a label is never worse."""
    for washing, drying in product(Washing, Drying):
        counts = [
            len(differences(_robust_but(axis, value), washing, drying))
            for value in axis_values(axis)
        ]
        if axis == "natural_drying":  # in the sun and in the shade are told apart
            counts = counts[1::2]
        assert counts == sorted(counts, reverse=True)


def _robust_but(axis: str, value: int | str) -> CareLabel:
    values = {name: getattr(ROBUST, name) for name in AXES}
    return CareLabel(**{**values, axis: value})


def changes(was: CareLabel | None, now: CareLabel | None) -> list[str]:
    said = care_changes(was, now)
    assert all(english(one) for one in said)
    return [one.code.removeprefix("washing.") for one in said]


def test_nothing_changes_between_the_same_cares_and_nothing_is_said_of_an_unknown_one() -> None:
    assert changes(HAND, HAND) == changes(ROBUST, ROBUST) == []
    assert changes(None, HAND) == changes(CareLabel(), HAND) == []


def test_every_change_has_its_opposite() -> None:
    there = changes(ROBUST, HAND)
    assert there == ["now_by_hand", "now_no_tumble", "now_flat", "now_no_iron", "now_no_dry_clean"]
    back = changes(HAND, ROBUST)
    assert back == ["now_in_machine", "now_tumble", "now_hung", "now_iron", "now_dry_clean"]


@pytest.mark.parametrize(
    ("was", "now", "codes"),
    [
        (CareLabel(60, "normal"), CareLabel(40, "mild"), ["now_gentler", "now_cooler"]),
        (CareLabel(30, "mild"), CareLabel(40, "normal"), ["now_rougher", "now_warmer"]),
        (CareLabel(40, "hand"), CareLabel(30, "hand"), []),
        (CareLabel(60, "normal"), CareLabel(None, "do not wash"), ["now_no_washing"]),
        (CareLabel(None, "do not wash"), CareLabel(30, "hand"), ["now_washable_by_hand"]),
        (CareLabel(tumble="normal"), CareLabel(tumble="low"), ["now_tumble_low"]),
        (CareLabel(tumble="low"), CareLabel(tumble="normal"), ["now_tumble_normal"]),
        (CareLabel(iron_c=200), CareLabel(iron_c=110), ["now_iron_cooler"]),
        (CareLabel(iron_c=110), CareLabel(iron_c=150), ["now_iron_hotter"]),
        (CareLabel(40, "normal"), CareLabel(), ["no_longer_known"]),
        (CareLabel(40, "normal"), None, ["no_longer_known"]),
    ],
)
def test_change_is_named(was, now, codes) -> None:
    assert changes(was, now) == codes


def test_what_is_no_longer_known_is_named_by_axis() -> None:
    [said] = care_changes(CareLabel(40, "normal", tumble="low"), CareLabel(wash_action="normal"))
    assert english(said).endswith("not known of this one: washing temperature and tumble drying.")


@pytest.mark.parametrize(
    ("one", "other", "both"),
    [
        (Level.NO, Level.YES, Level.YES),
        (Level.SOME, Level.NO, Level.SOME),
        (Level.NO, Level.NO, Level.NO),
        (None, Level.YES, Level.YES),
        (None, Level.SOME, None),
        (None, Level.NO, None),
    ],
)
def test_strands_held_together_show_the_strongest(one, other, both) -> None:
    for first, second in ((one, other), (other, one)):
        assert any_of((Traits(sheds=first), Traits(sheds=second))).sheds is both
    assert any_of((Traits(felts=one),)).felts is one
