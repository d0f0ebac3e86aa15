import re
from collections.abc import Collection

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopdesk.answering.model.ask import Feature, ItemKind, Wearer
from shopdesk.craft.behaviour import TRAITS, Level, Traits, traits
from shopdesk.craft.care import AXES, axis_values
from shopdesk.craft.cautions import CautionText, cautions_for, rules_of
from shopdesk.craft.yarn import CareLabel, Construction
from shopdesk.reference.tables import table
from shopdesk.wording.formatting import ReaderPreferences
from shopdesk.wording.translate import english, translate
from tests.factories import a_blend

BABY = "baby under 12 months"
ROBUST = CareLabel(60, "normal", "any", "normal", "line", 200, "any", "normal")
COUNTRIES = ("US", "GB", "DE", "FR", "NZ", "")


def cautions(
    item: str = "pullover",
    wearer: str = BABY,
    *features: str,
    openwork: bool = False,
    care: CareLabel | None = ROBUST,
    traits: Traits | None = None,
    country: str = "",
    by_default: bool = False,
) -> dict[str, CautionText]:
    found = cautions_for(
        item, wearer, frozenset(features), openwork, care, traits, country, by_default
    )
    return {caution.code: caution for caution in found}


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
    found = cautions("pullover", wearer, traits=Traits(**{trait: Level(level)}))
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
        ("hat", BABY, [], False, ["sleep", "hat off"]),
        ("pullover", "child", ["for sleep"], False, ["sleep"]),
        ("cardigan", "child", ["buttons"], False, ["buttons"]),
        ("cardigan", "adult", ["buttons"], False, []),
        ("hat", "child", ["cords"], False, ["cords"]),
        ("pullover", "unknown", ["cords", "nightwear"], False, ["cords", "nightwear"]),
        ("pullover", "adult", ["cords", "nightwear"], False, []),
        ("toy", "unknown", ["toy eyes"], False, ["toy parts"]),
        ("pullover", "child", ["to be sold"], False, ["selling"]),
    ],
)
def test_cautions_of_the_item(item, wearer, features, openwork, codes) -> None:
    assert list(cautions(item, wearer, *features, openwork=openwork)) == codes


# 16 CFR 1120.3, 1501, 1501.3(d), 1615/1616; Nightwear (Safety) Regulations 1985; EN 14682;
# EN 71-1; AAP, Pediatrics 2022;150(1):e2022057990; NHS advice on sleep.
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
        ("sleep under a blanket", "DE", False, "Pediatrics 2022;150(1):e2022057990"),
        ("sleep", "", False, "Pediatrics 2022;150(1):e2022057990"),
        ("loose ends", "GB", False, "Arch Pediatr Adolesc Med 2001;155(4):515-6"),
        ("shedding", "US", False, "the shop"),
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
    only_stricter = {
        "DE": {"sleep", "sleep under a blanket", "nightwear"},
        "GB": {"sleep"},
    }.get(country, set())
    for code, caution in everything(country).items():
        if caution.by_whom.startswith("the shop") and "CFR" not in caution.by_whom:
            assert caution.where == "everywhere"
        elif code in only_stricter:
            assert caution.where.startswith("United States")
        elif (code, country) == ("selling", ""):
            assert caution.where == "everywhere"
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
    for item in ("hat", "toy", "mitts", "blanket"):
        for care in cares:
            features = [str(feature) for feature in Feature]
            for yarn in (strong, slight):
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
    pattern = r"16 CFR [\d.]+(?:\(d\))?|EN [\d-]+|ASTM F\d+|e2022057990|155\(4\)|57:447|1985|NHS"
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
        return codes(cautions_for(item, who, features, openwork, care, yarn, where))

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
    assert codes_of == ["prickle", "felting", "hand wash only"]
    treated = traits(a_blend("wool 100"), frozenset({"superwash", "merino"}), None)
    assert cautions(care=ROBUST, traits=treated) == {}
    mohair = traits(a_blend("mohair 70, silk 30"), frozenset(), Construction.BRUSHED)
    assert "shedding" in cautions(traits=mohair)
