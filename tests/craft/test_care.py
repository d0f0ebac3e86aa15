from decimal import Decimal
from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopdesk.craft.care import (
    AXES,
    axis_values,
    care_sayings,
    checked_care,
    gentler,
    gentler_value,
    is_gentler_or_same,
    text_code,
    usual_care,
)
from shopdesk.craft.errors import InputError, InputErrors
from shopdesk.craft.fibres import fibres
from shopdesk.craft.messages import message
from shopdesk.craft.yarn import CareLabel
from shopdesk.reference.tables import table
from shopdesk.wording.translate import english
from tests.factories import a_blend

NO_ATTRIBUTES: frozenset[str] = frozenset()
labels = st.builds(
    CareLabel, **{axis: st.sampled_from([None, *axis_values(axis)]) for axis in AXES}
)


# The value list after ISO 3758, in words.
@pytest.mark.parametrize(
    ("axis", "values"),
    [
        ("wash_c", (30, 40, 50, 60, 70, 95)),
        ("wash_action", ("do not wash", "hand", "very mild", "mild", "normal")),
        ("bleach", ("none", "oxygen only", "any")),
        ("tumble", ("none", "low", "normal")),
        (
            "natural_drying",
            ("flat in shade", "flat", "drip in shade", "drip", "line in shade", "line"),
        ),
        ("iron_c", (0, 110, 150, 200)),
        ("dry_clean", ("none", "hydrocarbon mild", "hydrocarbon", "any mild", "any")),
        ("wet_clean", ("none", "very mild", "mild", "normal")),
    ],
)
def test_values_run_from_mildest_to_most_severe(axis, values) -> None:
    assert axis_values(axis) == values


@pytest.mark.parametrize("axis", AXES)
def test_gentler_is_never_harsher_than_either_for_all_pairs(axis: str) -> None:
    for a, b in product(axis_values(axis), repeat=2):
        both = gentler_value(axis, a, b)
        assert both is not None
        assert is_gentler_or_same(axis, both, a)
        assert is_gentler_or_same(axis, both, b)
        assert axis_values(axis).index(both) <= min(map(axis_values(axis).index, (a, b)))


@pytest.mark.parametrize("axis", AXES)
def test_gentler_is_no_milder_than_need_be(axis: str) -> None:
    """Whatever both stand, the result stands too: no care is forbidden without a cause."""
    for a, b, c in product(axis_values(axis), repeat=3):
        if is_gentler_or_same(axis, c, a) and is_gentler_or_same(axis, c, b):
            assert is_gentler_or_same(axis, c, gentler_value(axis, a, b))


@pytest.mark.parametrize("axis", AXES)
def test_gentler_does_not_depend_on_order_or_repetition(axis: str) -> None:
    values = (None, *axis_values(axis))
    for a in values:
        assert gentler_value(axis, a, a) == a
    for a, b in product(values, repeat=2):
        assert gentler_value(axis, a, b) == gentler_value(axis, b, a)
    for a, b, c in product(values, repeat=3):
        left = gentler_value(axis, gentler_value(axis, a, b), c)
        assert left == gentler_value(axis, a, gentler_value(axis, b, c))


@pytest.mark.parametrize("axis", AXES)
def test_unknown_stays_unknown_beside_any_value(axis: str) -> None:
    assert [gentler_value(axis, None, value) for value in (None, *axis_values(axis))] == [None] * (
        len(axis_values(axis)) + 1
    )


@given(labels, labels)
def test_labels_combine_axis_by_axis(a: CareLabel, b: CareLabel) -> None:
    both = gentler(a, b)
    for axis in AXES:
        assert getattr(both, axis) == gentler_value(axis, getattr(a, axis), getattr(b, axis))


def test_temperature_and_action_combine_separately() -> None:
    # GINETEX guidance: milder is always allowed, the most delicate component decides.
    sixty_mild = CareLabel(wash_c=60, wash_action="mild")
    forty_normal = CareLabel(wash_c=40, wash_action="normal")
    assert gentler(sixty_mild, forty_normal) == CareLabel(wash_c=40, wash_action="mild")


def test_shade_and_mild_are_kept_from_either_side() -> None:
    a = CareLabel(natural_drying="line in shade", dry_clean="any mild")
    b = CareLabel(natural_drying="flat", dry_clean="hydrocarbon")
    assert gentler(a, b) == CareLabel(natural_drying="flat in shade", dry_clean="hydrocarbon mild")
    assert gentler_value("dry_clean", "none", "any mild") == "none"


def test_care_is_read_by_axis() -> None:
    care = checked_care({"wash_c": "40", "wash_action": " Very  MILD ", "tumble": "", "iron_c": 0})
    assert care == CareLabel(wash_c=40, wash_action="very mild", iron_c=0)
    assert checked_care({"wash_c": Decimal(30)}) == CareLabel(wash_c=30)
    assert checked_care({}) == CareLabel()


@pytest.mark.parametrize(
    ("document", "axis", "wrong"),
    [
        ({"wash_c": 45}, "wash_c", "'45' is not a value"),
        ({"wash_c": True}, "wash_c", "'true' is not a value"),
        ({"tumble": "<b>hot</b>"}, "tumble", "is not a value"),
        ({"wash": 40}, "wash", "not known"),
        ({"wash_c": 40, "wash_action": "do not wash"}, "wash_c", "beside 'do not wash'"),
        ({"wash_c": 60, "wash_action": "hand"}, "wash_c", "hand wash at 60"),
    ],
)
def test_refusal_names_the_axis_and_what_is_right(document, axis, wrong) -> None:
    with pytest.raises(InputError) as refused:
        checked_care(document)
    [problem] = refused.value.problems
    assert problem.path == (axis,)
    assert wrong in english(problem.wrong)
    assert english(problem.right)


def test_every_problem_is_told_at_once() -> None:
    with pytest.raises(InputError) as refused:
        checked_care({"bleach": "some", "iron_c": 300, "dry": "flat"})
    assert [problem.place for problem in refused.value.problems] == ["dry", "bleach", "iron_c"]


def test_most_delicate_fibre_decides_the_default_whatever_its_share() -> None:
    mostly_cotton = usual_care(a_blend("cotton 90, silk 10"), NO_ATTRIBUTES)
    assert (mostly_cotton.wash_c, mostly_cotton.wash_action) == (30, "hand")
    assert mostly_cotton.natural_drying is None


def test_treated_wool_has_no_default_washing() -> None:
    untreated = usual_care(a_blend("wool 100"), NO_ATTRIBUTES)
    assert (untreated.wash_action, untreated.natural_drying) == ("hand", "flat")
    assert usual_care(a_blend("wool 100"), frozenset({"superwash"})) == CareLabel()
    sock = usual_care(a_blend("wool 75, polyamide 25"), frozenset({"superwash"}))
    assert sock == CareLabel()


def test_unheard_of_fibre_or_no_blend_has_no_default() -> None:
    assert usual_care(a_blend("milkweed 100"), NO_ATTRIBUTES) == CareLabel()
    assert usual_care((), NO_ATTRIBUTES) == CareLabel()


def test_shipped_defaults_are_values_of_the_axes() -> None:
    for row in table("usual_care"):
        checked_care({axis: row[axis] for axis in AXES})


def words(care: CareLabel, **how: bool) -> list[str]:
    return [english(said) for said in care_sayings(care, **how)]


def test_care_in_words() -> None:
    care = CareLabel(40, "mild", "none", "low", "flat in shade", 110, "hydrocarbon", "very mild")
    assert words(care) == [
        "Machine wash, gentle programme, at most 40 °C.",
        "Dry flat, out of the sun.",
        "Tumble dry at low temperature.",
        "Iron at 110 °C at most.",
        "Do not bleach.",
        "Dry cleaning with hydrocarbon solvents only.",
        "Professional wet cleaning, very gentle process.",
    ]


@pytest.mark.parametrize("label_c", [None, 30, 40])
def test_hand_wash_is_cool_whatever_the_label_allows(label_c) -> None:
    # Sources differ on 30 or 40 °C for hand wash; at most 30 is right under both.
    said = words(CareLabel(wash_c=label_c, wash_action="hand"))
    assert said[0].startswith("Wash by hand, cool, at most 30 °C")
    assert "washing temperature" not in said[-1]


def test_unknown_axes_are_named_last() -> None:
    said = words(CareLabel(wash_c=30, tumble="none"))
    assert said[0].startswith("Wash at 30 °C at most. Whether the machine is allowed is not known")
    assert said[-1] == (
        "Not known: way of washing, bleaching, drying in the air, ironing, dry cleaning, "
        "and professional wet cleaning."
    )
    assert words(CareLabel(wash_action="mild"))[0].endswith("wash cold.")
    assert words(CareLabel())[0].startswith("How to wash it is not known")


def test_a_default_is_called_one() -> None:
    default = usual_care(a_blend("wool 100"), NO_ATTRIBUTES)
    assert words(default, by_default=True)[0].startswith("Usual for this fibre, not from the label")
    assert not any("Usual" in text for text in words(default))
    assert not any("Usual" in text for text in words(CareLabel(), by_default=True))


@pytest.mark.parametrize(
    ("axis", "said"),
    [
        (
            "wash_action",
            [
                "do not wash",
                "by hand",
                "very gentle programme (wool)",
                "gentle programme",
                "normal programme",
            ],
        ),
        (
            "bleach",
            ["Do not bleach.", "Oxygen bleach only, no chlorine.", "Any bleach may be used."],
        ),
        (
            "tumble",
            [
                "Do not tumble dry.",
                "Tumble dry at low temperature.",
                "Tumble dry at normal temperature.",
            ],
        ),
        (
            "natural_drying",
            [
                "Dry flat, out of the sun.",
                "Dry flat.",
                "Hang up dripping wet to dry, out of the sun; do not spin.",
                "Hang up dripping wet to dry; do not spin.",
                "Dry on the line, out of the sun.",
                "Dry on the line.",
            ],
        ),
        (
            "dry_clean",
            [
                "Do not dry clean.",
                "Dry cleaning with hydrocarbon solvents only, gentle process.",
                "Dry cleaning with hydrocarbon solvents only.",
                "Dry cleaning is allowed, gentle process.",
                "Dry cleaning is allowed.",
            ],
        ),
        (
            "wet_clean",
            [
                "No professional wet cleaning.",
                "Professional wet cleaning, very gentle process.",
                "Professional wet cleaning, gentle process.",
                "Professional wet cleaning is allowed.",
            ],
        ),
    ],
)
def test_each_value_is_said_in_the_words_of_its_own(axis, said) -> None:
    codes = [text_code(axis, value) for value in axis_values(axis)]
    assert [english(message(code)) for code in codes] == said


def test_every_value_of_every_axis_has_its_own_words() -> None:
    for axis in AXES:
        said = {
            words(CareLabel(**{"wash_c": 40, "wash_action": "mild", axis: value}))[0]
            if axis.startswith("wash")
            else words(CareLabel(**{axis: value}))[0]
            for value in axis_values(axis)
        }
        assert len(said) == len(axis_values(axis))


def test_defaults_are_for_known_fibres() -> None:
    known = {fibre.key for fibre in fibres()}
    assert {row["fibre"] for row in table("usual_care")} <= known


@pytest.mark.parametrize(("wash_c", "by_hand"), [(30, True), (40, True), (50, False)])
def test_by_hand_a_wash_has_40_degrees_at_most(wash_c: int, by_hand: bool) -> None:
    # Labels differ on 30 or 40 degrees for hand wash, and go no higher: ISO 3758.
    given = {"wash_c": wash_c, "wash_action": "hand"}
    if by_hand:
        assert checked_care(given).wash_c == wash_c
        return
    with pytest.raises(InputErrors) as refused:
        checked_care(given)
    assert [(one.place, one.wrong) for one in refused.value.problems] == [
        ("wash_c", message("problem_yarn.hand_hot", wash=50))
    ]


def test_40_letters_of_a_value_that_is_none_are_told_back() -> None:
    with pytest.raises(InputErrors) as refused:
        checked_care({"tumble": "x" * 50})
    assert refused.value.problem.wrong.values == {"text": "x" * 40}


@pytest.mark.parametrize(
    ("fibres", "usual"),
    [
        # From memory, a draft: what is usual where a band says nothing; the strictest reading.
        ("wool cashmere angora camel yak",
         CareLabel(30, "hand", tumble="none", natural_drying="flat")),
        ("alpaca mohair", CareLabel(30, "hand", natural_drying="flat")),
        ("silk viscose modal lyocell", CareLabel(30, "hand")),
        ("cotton", CareLabel(40, "normal", natural_drying="flat")),
        ("linen hemp ramie polyamide polyester elastane", CareLabel(40, "mild")),
        ("acrylic", CareLabel(30, "mild", tumble="none", iron_c=0)),
    ],
)  # fmt: skip
def test_usual_care_of_a_fibre(fibres: str, usual: CareLabel) -> None:
    for fibre in fibres.split():
        assert usual_care(a_blend(f"{fibre} 100"), NO_ATTRIBUTES) == usual, fibre
