import re
from collections.abc import Collection
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopdesk.answering.model.ask import Feature, ItemKind, Wearer
from shopdesk.craft.behaviour import TRAITS, Level, Traits, traits
from shopdesk.craft.care import AXES, axis_values
from shopdesk.craft.cautions import (
    MOST_OF_COMFORT,
    CautionText,
    WornItem,
    YarnFacts,
    cautions_for,
    rules_of,
)
from shopdesk.craft.yarn import CareLabel, Construction
from shopdesk.reference.tables import table
from shopdesk.wording.formatting import ReaderPreferences
from shopdesk.wording.translate import english, translate
from tests.factories import a_blend

BABY = "baby under 12 months"
ROBUST = CareLabel(60, "normal", "any", "normal", "line", 200, "any", "normal")
COUNTRIES = ("US", "GB", "DE", "FR", "NZ", "")
QUIET = Traits(**dict.fromkeys(TRAITS, Level.NO))
"""A yarn of known fibre that does nothing of note."""


def cautions(
    item: str = "pullover",
    wearer: str = BABY,
    *features: str,
    openwork: bool = False,
    care: CareLabel | None = ROBUST,
    traits: Traits | None = QUIET,
    country: str = "",
    by_default: bool = False,
    **more: bool,
) -> dict[str, CautionText]:
    worn = WornItem(item, wearer, frozenset(features), openwork, **more)
    yarn = YarnFacts(care or CareLabel(), by_default, traits)
    return {caution.code: caution for caution in cautions_for(worn, yarn, country)}


def test_plain_item_in_a_robust_yarn_needs_no_caution() -> None:
    for wearer in Wearer:
        assert list(cautions("pullover", wearer)) == []


@pytest.mark.parametrize(
    ("care", "code"),
    [
        (CareLabel(30, "hand", tumble="low"), "hand wash only"),
        (CareLabel(40, "normal", natural_drying="flat", tumble="none"), "flat dry only"),
        (CareLabel(40, "normal", natural_drying="flat in shade"), "flat dry only"),
        (CareLabel(wash_action="do not wash", dry_clean="any mild"), "dry clean only"),
        (CareLabel(wash_action="do not wash", dry_clean="none"), "do not wash"),
        (CareLabel(wash_action="do not wash"), "do not wash"),
        (CareLabel(), "care unknown"),
        (None, "care unknown"),
        (CareLabel(wash_c=40), "care unknown"),
    ],
)
@pytest.mark.parametrize(
    ("item", "wearer"),
    [
        ("pullover", BABY),
        ("cardigan", "child"),
        ("bib", "gift"),
        ("blanket", "adult"),
        ("toy", "unknown"),
    ],
)
def test_washing_flags_of_what_is_washed_often(care, code, item, wearer) -> None:
    found = cautions(item, wearer, care=care)
    assert code in found
    assert found[code].flag
    assert not found[code].law


def test_washing_of_an_adults_pullover_is_no_caution() -> None:
    for care in (None, CareLabel(30, "hand"), CareLabel(wash_action="do not wash")):
        assert cautions("pullover", "adult", care=care) == {}


def test_care_that_was_not_on_the_band_is_not_known() -> None:
    usual = CareLabel(40, "normal", tumble="low")
    assert list(cautions(care=usual, by_default=True)) == ["care unknown"]
    assert list(cautions(care=usual)) == []


@pytest.mark.parametrize(
    ("trait", "level", "wearer", "code"),
    [
        ("felts", "yes", "child", "felting"),
        ("felts", "some", "child", "may felt"),
        ("felts", "yes", "adult", None),
        ("sheds", "yes", BABY, "shedding"),
        ("sheds", "some", BABY, "may shed"),
        ("sheds", "yes", "child", None),
        ("prickles", "yes", BABY, "prickle"),
        ("prickles", "some", "child", "prickle"),
        ("prickles", "yes", "adult", None),
        ("felts", "no", BABY, None),
        ("sheds", "no", BABY, None),
        ("prickles", "no", BABY, None),
        ("weak_wet", "yes", BABY, None),
    ],
)
def test_flags_of_the_fibre(trait, level, wearer, code) -> None:
    found = cautions("pullover", wearer, traits=replace(QUIET, **{trait: Level(level)}))
    assert list(found) == ([code] if code else [])
    assert all(caution.flag for caution in found.values())


@pytest.mark.parametrize(
    ("item", "wearer", "features", "openwork", "codes"),
    [
        ("mitts", BABY, [], False, ["loose ends"]),
        ("socks", "child", [], True, ["loose ends", "open over fingers or toes"]),
        ("mitts", "child", ["floats inside"], False, ["loose ends", "open over fingers or toes"]),
        ("bootees", "gift", [], False, ["loose ends"]),
        ("dress", BABY, ["covers fingers or toes"], False, ["loose ends"]),
        ("socks", "adult", ["floats inside"], True, []),
        ("blanket", BABY, [], False, ["sleep under a blanket"]),
        ("blanket", BABY, [], True, ["sleep under a blanket", "open blanket"]),
        ("scarf", "child", [], False, ["round the neck"]),
        ("scarf", "unknown", [], False, []),
        ("hat", BABY, [], False, ["sleep", "hat off"]),
        ("pullover", "child", ["for sleep"], False, ["sleep"]),
        ("cardigan", "child", ["buttons"], False, ["buttons"]),
        ("cardigan", "adult", ["buttons"], False, []),
        ("hat", "child", ["cords"], False, ["cords", "round the neck"]),
        ("pullover", "unknown", ["cords", "nightwear"], False, ["nightwear", "cords"]),
        ("pullover", "adult", ["cords", "nightwear"], False, []),
        ("toy", "unknown", ["toy eyes"], False, ["toy parts"]),
        ("pullover", "child", ["to be sold"], False, ["selling"]),
    ],
)
def test_cautions_of_the_item(item, wearer, features, openwork, codes) -> None:
    assert list(cautions(item, wearer, *features, openwork=openwork)) == codes


# 16 CFR 1120.3, 1501, 1501.3(d), 1615/1616; Nightwear (Safety) Regulations 1985; EN 14682;
# EN 71-1; AAP, Pediatrics 2022;150(1):e2022057990; advice on sleep of NHS, BZgA and HAS.
@pytest.mark.parametrize(
    ("code", "country", "law", "cited"),
    [
        ("selling", "US", True, "CPSIA"),
        ("selling", "FR", True, "general product safety"),
        ("selling", "", True, "the country of sale"),
        ("cords", "US", True, "16 CFR 1120.3"),
        ("cords", "GB", False, "EN 14682"),
        ("cords", "DE", False, "EN 14682"),
        ("cords", "", True, "16 CFR 1120.3"),
        ("toy parts", "US", True, "16 CFR 1501"),
        ("toy parts", "FR", True, "EN 71-1"),
        ("buttons", "US", False, "16 CFR 1501.3(d)"),
        ("buttons", "DE", False, "the shop"),
        ("nightwear", "US", True, "16 CFR 1615; 16 CFR 1616"),
        ("nightwear", "GB", True, "Nightwear (Safety) Regulations 1985"),
        ("nightwear", "DE", True, "16 CFR 1615"),
        ("sleep", "US", False, "Pediatrics 2022;150(1):e2022057990"),
        ("sleep", "GB", False, "Pediatrics 2022;150(1):e2022057990"),
        ("sleep under a blanket", "US", False, "Pediatrics 2022;150(1):e2022057990"),
        ("sleep under a blanket", "GB", False, "NHS"),
        ("sleep under a blanket", "DE", False, "BZgA"),
        ("sleep under a blanket", "FR", False, "HAS"),
        ("sleep", "CH", False, "Zürich"),
        ("sleep", "AT", False, "Pediatrics 2022;150(1):e2022057990"),
        ("sleep", "", False, "Pediatrics 2022;150(1):e2022057990"),
        ("loose ends", "GB", False, "Arch Pediatr Adolesc Med 2001;155(4):515-6"),
        ("shedding", "US", False, "the shop"),
        ("fibre unknown", "DE", False, "the shop"),
        ("round the neck", "US", False, "CPSC"),
        ("round the neck", "DE", False, "DGUV"),
        ("open blanket", "GB", False, "Oxford"),
        ("open blanket", "US", False, "Oxford"),
    ],
)
def test_country_picks_the_rule(code, country, law, cited) -> None:
    caution = everything(country)[code]
    assert caution.law == law
    assert cited in caution.by_whom


PLACES = {
    "US": "United States",
    "GB": "United Kingdom",
    "DE": "European Union",
    "": "United States",
}


@pytest.mark.parametrize("country", PLACES)
def test_where_a_rule_holds_is_the_shops_country_unless_only_a_stricter_one_is_known(
    country,
) -> None:
    only_stricter = {"round the neck"} | {
        "DE": {"nightwear"},
        "GB": {"sleep"},
    }.get(country, set())
    british = set() if country == "GB" else {"open blanket"}
    for code, caution in everything(country).items():
        if caution.by_whom.startswith("the shop") and "CFR" not in caution.by_whom:
            assert caution.where == "everywhere"
        elif code in british:
            assert caution.where.startswith("United Kingdom, the stricter")
        elif code in only_stricter:
            assert caution.where.startswith("United States")
        elif (code, country) == ("selling", ""):
            assert caution.where == "everywhere"
        elif (code.split()[0], country) == ("sleep", "DE"):
            assert caution.where == "Germany"
        else:
            assert caution.where.startswith(PLACES[country])
            assert country == "" or caution.where == PLACES[country]


def test_unknown_country_gets_the_stricter_advice_on_sleep() -> None:
    code = "sleep under a blanket"
    assert "no blanket" in english(everything("")[code].message)
    assert "no blanket" in english(everything("ZZ")[code].message)
    assert "a thin blanket only" in english(everything("GB")[code].message)


def test_advice_on_blankets_is_not_given_for_a_toy() -> None:
    assert "blanket only" not in english(cautions("toy", BABY, country="GB")["sleep"].message)


def test_language_does_not_change_whose_rule_is_cited() -> None:
    for language in ("en", "de", "fr"):
        text = translate(everything("US")["nightwear"].message, ReaderPreferences(language))
        assert "16 CFR 1615" in text
        assert "1985" not in text


def a_yarn_that_is(level: Level) -> Traits:
    return Traits(**dict.fromkeys(TRAITS, level))


def everything(country: str) -> dict[str, CautionText]:
    """Returns each caution once, whatever item and care it takes to raise it."""
    strong, slight = a_yarn_that_is(Level.YES), a_yarn_that_is(Level.SOME)
    cares = [
        CareLabel(30, "hand", natural_drying="flat"),
        CareLabel(wash_action="do not wash"),
        CareLabel(wash_action="do not wash", dry_clean="any"),
        None,
    ]
    found: dict[str, CautionText] = {}
    for item in ("hat", "toy", "mitts", "blanket", "scarf"):
        for care in cares:
            features = [str(feature) for feature in Feature]
            for yarn in (strong, slight, QUIET, None):
                found |= cautions(
                    item, BABY, *features, openwork=True, care=care, traits=yarn, country=country
                )
    return found


@pytest.mark.parametrize("country", COUNTRIES)
def test_every_caution_of_the_table_can_be_raised(country) -> None:
    assert set(everything(country)) == {row["caution"] for row in table("cautions")}


LAW_OR_ADVICE = {"en": ("Law", "Advice"), "de": ("Gesetz", "Rat"), "fr": ("Loi", "Conseil")}
LOCAL = {"en": "local rules go first", "de": "örtliche Vorschriften", "fr": "règles locales"}


@pytest.mark.parametrize("language", ["en", "de", "fr"])
@pytest.mark.parametrize("country", COUNTRIES)
def test_each_caution_says_law_or_advice_by_whom_and_defers(country, language) -> None:
    law, advice = LAW_OR_ADVICE[language]
    for caution in everything(country).values():
        text = translate(caution.message, ReaderPreferences(language))
        assert f"({law if caution.law else advice}" in text
        assert LOCAL[language] in text
        assert cited(caution.by_whom) <= cited(text)
        assert caution.where


def cited(text: str) -> set[str]:
    pattern = (
        r"16 CFR [\d.]+(?:\(d\))?|EN [\d-]+|ASTM F\d+|e2022057990|155\(4\)|"
        r"57:447|1985|NHS|BZgA|HAS|DGUV|bfu|CPSC"
    )
    return set(re.findall(pattern, text))


def codes(found: Collection[CautionText]) -> set[str]:
    return {caution.code for caution in found}


labels = st.builds(
    CareLabel, **{axis: st.sampled_from([None, *axis_values(axis)]) for axis in AXES}
)


@given(
    st.sampled_from([str(kind) for kind in ItemKind]),
    st.sampled_from([str(wearer) for wearer in Wearer]),
    st.frozensets(st.sampled_from([str(feature) for feature in Feature])),
    st.booleans(),
    st.one_of(st.none(), labels),
    st.builds(Traits, **{t: st.sampled_from([None, *Level]) for t in TRAITS}),
)
def test_baby_gets_at_least_every_caution_of_any_other(
    item, wearer, features, openwork, care, yarn
) -> None:
    def raised(who: str, where: str) -> set[str]:
        worn = WornItem(item, who, features, openwork)
        return codes(cautions_for(worn, YarnFacts(care or CareLabel(), False, yarn), where))

    assert raised(wearer, "") <= raised(BABY, "")
    assert raised(BABY, "") == raised(BABY, "US") == raised(BABY, "GB")


def test_rules_of_a_country() -> None:
    assert (rules_of("us"), rules_of("GB"), rules_of("AT"), rules_of("NZ"), rules_of("")) == (
        "US",
        "GB",
        "EU",
        "",
        "",
    )


def test_wool_sold_as_baby_yarn_is_flagged_and_treated_merino_is_not() -> None:
    untreated = traits(a_blend("wool 100"), frozenset(), None)
    codes_of = list(cautions(care=CareLabel(30, "hand"), traits=untreated))
    assert codes_of == ["prickle", "felting"]
    treated = traits(a_blend("wool 100"), frozenset({"superwash", "merino"}), None)
    assert cautions(care=ROBUST, traits=treated) == {}
    mohair = traits(a_blend("mohair 70, silk 30"), frozenset(), Construction.BRUSHED)
    assert "shedding" in cautions(traits=mohair)


CHILD = "child"
HAND = CareLabel(30, "hand")
Facts = dict[str, object]


def condition(code: str, without: Facts, **holds: object) -> object:
    """Returns a row: what the caution needs, and what to change so that it needs it no more."""
    name = f"{code}: {', '.join(f'{key} {value}' for key, value in without.items())}"
    return pytest.param(code, holds, without, id=name)


# Laws, standards, authorities and case reports: reference/cautions.csv. An adult is no child; what
# a caution is about, its sources name.
SAFETY = [
    condition("nightwear", {"features": ()}, wearer=CHILD, features=("nightwear",)),
    condition("nightwear", {"wearer": "adult"}, wearer="unknown", features=("nightwear",)),
    condition("nightwear", {"wearer": "adult"}, wearer="gift", features=("nightwear",)),
    condition("sleep", {"features": ()}, wearer=CHILD, features=("for sleep",)),
    condition("sleep", {"wearer": "adult"}, wearer="unknown", features=("for sleep",)),
    condition("sleep", {"item": "pullover"}, item="hat"),
    condition("sleep", {"wearer": CHILD}, item="toy"),
    condition("sleep", {"item": "vest"}, item="cushion"),
    condition("sleep under a blanket", {"item": "shawl"}, item="blanket"),
    condition("sleep under a blanket", {"item": "toy"}, item="blanket"),
    condition("sleep under a blanket", {"wearer": CHILD}, item="blanket"),
    condition(
        "sleep under a blanket",
        {"features": ()},
        item="blanket",
        wearer=CHILD,
        features=("for sleep",),
    ),
    condition("open blanket", {"openwork": False}, item="blanket", openwork=True),
    condition("open blanket", {"wearer": CHILD}, item="blanket", openwork=True),
    condition("open blanket", {"item": "shawl"}, item="blanket", openwork=True),
    condition("hat off", {"item": "mitts"}, item="hat"),
    condition("hat off", {"wearer": CHILD}, item="hat"),
    condition("cords", {"features": ()}, wearer=CHILD, features=("cords",)),
    condition("cords", {"wearer": "adult"}, wearer="unknown", features=("cords",)),
    condition("cords", {"wearer": "household"}, wearer="gift", features=("cords",)),
    condition("round the neck", {"wearer": "adult"}, item="scarf", wearer=CHILD),
    condition("round the neck", {"item": "vest"}, item="cowl"),
    condition("round the neck", {"wearer": "unknown"}, item="shawl", wearer=CHILD),
    condition("round the neck", {"wearer": "adult"}, item="bib", wearer="unknown"),
    condition("round the neck", {"features": ()}, item="hat", features=("cords",)),
    condition("round the neck", {"item": "mitts"}, item="hat", features=("cords",)),
    condition("toy parts", {"features": ()}, item="toy", features=("toy eyes",)),
    condition("toy parts", {"item": "cushion"}, item="toy", features=("buttons",)),
    condition("buttons", {"features": ()}, wearer=CHILD, features=("buttons",)),
    condition("buttons", {"wearer": "adult"}, wearer=CHILD, features=("toy eyes",)),
    condition("shedding", {"sheds": "some"}, sheds="yes"),
    condition("shedding", {"wearer": "adult"}, sheds="yes"),
    condition("shedding", {"under_three": False}, wearer=CHILD, under_three=True, sheds="yes"),
    condition("shedding", {"wearer": "unknown"}, wearer=CHILD, under_three=True, sheds="yes"),
    condition("shedding", {"item": "cushion"}, item="toy", wearer="unknown", sheds="yes"),
    condition("may shed", {"sheds": "no"}, sheds="some"),
    condition("may shed", {"wearer": CHILD}, sheds="some"),
    condition("fibre unknown", {"prickles": "no"}, prickles=None),
    condition("fibre unknown", {"wearer": CHILD}, prickles=None),
    condition("loose ends", {"item": "hat"}, item="mitts"),
    condition("loose ends", {"wearer": "adult"}, item="socks", wearer=CHILD),
    condition("loose ends", {"features": ()}, features=("covers fingers or toes",)),
    condition("open over fingers or toes", {"openwork": False}, item="mitts", openwork=True),
    condition(
        "open over fingers or toes", {"features": ()}, item="socks", features=("floats inside",)
    ),
    condition("selling", {"features": ()}, wearer=CHILD, features=("to be sold",)),
    condition("selling", {"wearer": "adult"}, wearer="unknown", features=("to be sold",)),
]


def told(facts: Facts) -> dict[str, CautionText]:
    """Returns the cautions of a baby's plain pullover in a quiet, robust yarn, but for `facts`."""
    levels = {key: value and Level(str(value)) for key, value in facts.items() if key in TRAITS}
    features = tuple(facts.get("features", ()))  # type: ignore[call-overload]
    flags = {key: bool(facts.get(key)) for key in ("openwork", "under_three")}
    item, wearer = str(facts.get("item", "pullover")), str(facts.get("wearer", BABY))
    return cautions(item, wearer, *features, traits=replace(QUIET, **levels), **flags)  # type: ignore[arg-type]


@pytest.mark.parametrize(("code", "holds", "without"), SAFETY)
def test_a_safety_caution_is_told_where_its_condition_holds_and_nowhere_else(
    code: str, holds: Facts, without: Facts
) -> None:
    found = told(holds)
    assert found[code].flag
    assert found[code].safety
    assert code not in told(holds | without)


def test_each_safety_caution_has_its_conditions() -> None:
    safety = {row["caution"] for row in table("caution_topics") if row["concern"] == "safety"}
    assert {row.values[0] for row in SAFETY} == safety  # type: ignore[attr-defined]
    laws = {row["caution"] for row in table("cautions") if row["law_or_advice"] == "law"}
    assert laws <= safety


def test_law_and_safety_are_told_without_an_end_and_before_care_and_comfort() -> None:
    features = [str(feature) for feature in Feature]
    found = list(cautions("mitts", BABY, *features, openwork=True, care=HAND, traits=None).values())
    safety = [one.safety for one in found]
    assert sum(safety) > 2 * MOST_OF_COMFORT
    assert safety == sorted(safety, reverse=True)
    assert all(one.flag for one in found if one.safety)


def test_what_may_burn_comes_first() -> None:
    features = [str(feature) for feature in Feature]
    for country in COUNTRIES:
        first, *_ = cautions("hat", CHILD, *features, country=country).values()
        assert (first.code, first.law, first.topic) == ("nightwear", True, "fire")


def test_cautions_of_a_topic_stand_together() -> None:
    topics = [one.topic for one in cautions("hat", BABY, "cords", "buttons", "nightwear").values()]
    assert [topic for n, topic in enumerate(topics) if topic not in topics[:n]] == list(
        dict.fromkeys(topics)
    )
    assert topics == ["fire", "sleep", "sleep", "neck", "neck", "small parts"]


# Felting, not washable and washed by hand are one thing to who must wash it.
@pytest.mark.parametrize(
    ("care", "felts", "code"),
    [
        (HAND, "yes", "felting"),
        (HAND, "some", "hand wash only"),
        (ROBUST, "some", "may felt"),
        (HAND, "no", "hand wash only"),
        (CareLabel(wash_action="do not wash"), "yes", "do not wash"),
        (CareLabel(wash_action="do not wash", dry_clean="any"), "yes", "dry clean only"),
    ],
)
def test_one_fact_is_told_once(care: CareLabel, felts: str, code: str) -> None:
    assert list(cautions(care=care, traits=replace(QUIET, felts=Level(felts)))) == [code]


def test_of_care_and_comfort_three_are_told_and_the_rest_stays_on_the_slip() -> None:
    prickly = replace(QUIET, prickles=Level.YES, felts=Level.YES)
    flat = CareLabel(30, "hand", natural_drying="flat")
    three = cautions(care=flat, traits=prickly)
    assert [one.flag for one in three.values()] == [True] * 3
    four = cautions(care=flat, traits=prickly, by_default=True)
    assert list(four) == ["prickle", "felting", "care unknown", "flat dry only"]
    assert [one.flag for one in four.values()] == [True, True, True, False]


def test_what_holds_for_a_baby_is_told_as_if_where_it_may_be_one() -> None:
    felting = replace(QUIET, felts=Level.YES, sheds=Level.YES)
    maybe = cautions("hat", "unknown", "cords", traits=felting, may_be_a_baby=True)
    surely = cautions("hat", BABY, "cords", traits=felting)
    assert list(maybe) == list(surely)
    unknown = cautions("hat", "unknown", "cords", traits=felting)
    assert list(unknown) == ["cords"]
    for code, caution in maybe.items():
        conditional = english(caution.message).startswith("If it is for a baby: ")
        assert conditional == (code not in unknown)
        assert caution.flag == (caution.safety or code in unknown)
    assert maybe["shedding"].flag
    assert not maybe["felting"].flag


# Common practice: brushed yarn, chenille and eyelash not under 3; loops catch a baby's fingers.
@pytest.mark.parametrize(
    ("made", "baby", "toddler"),
    [
        (Construction.BRUSHED, "shedding", True),
        (Construction.CHENILLE, "shedding", True),
        (Construction.EYELASH, "shedding", True),
        (Construction.BOUCLE, "may shed", False),
        (Construction.CABLED, None, False),
    ],
)
def test_pile_near_a_small_childs_mouth(
    made: Construction, baby: str | None, toddler: bool
) -> None:
    yarn = traits(a_blend("cotton 100"), frozenset(), made)
    assert list(cautions(traits=yarn)) == ([baby] if baby else [])
    young = cautions("pullover", CHILD, traits=yarn, under_three=True)
    assert ("shedding" in young) is toddler
    assert cautions("pullover", CHILD, traits=yarn) == {}
    assert cautions("pullover", "adult", traits=yarn) == {}
