"""From several findings of a field to one reading, with the others kept beside it."""

from decimal import Decimal

import pytest

from shopdesk.craft.messages import message
from shopdesk.patterns.fields.deciding import (
    FieldReading,
    FieldReadings,
    best_of,
    by_value,
    decide_craft,
    decide_item,
    decide_measure,
    decide_single,
    decide_sizes,
    decide_wearer,
    decide_words,
    from_groups,
    less_sure,
)
from shopdesk.patterns.phrases.mentions import (
    Measure,
    Mention,
    Span,
    Sureness,
    Value,
    WordList,
)

SURE, LIKELY, UNCLEAR = Sureness
BABY = "baby under 12 months"


def seen(value: Value, sure: Sureness = SURE, at: int = 0, field: str = "item") -> Mention:
    return Mention(field, value, Span(at, at + 1), sure, f"phrase {at}", at)


def spans(*places: int) -> tuple[Span, ...]:
    return tuple(Span(at, at + 1) for at in places)


def cm(*values: int) -> Measure:
    return Measure(tuple(map(Decimal, values)), "cm")


@pytest.mark.parametrize(
    ("one", "other", "less"),
    [
        (SURE, SURE, SURE),
        (SURE, LIKELY, LIKELY),
        (LIKELY, SURE, LIKELY),
        (LIKELY, UNCLEAR, UNCLEAR),
        (UNCLEAR, LIKELY, UNCLEAR),
        (SURE, UNCLEAR, UNCLEAR),
    ],
)
def test_the_less_sure_of_two(one: Sureness, other: Sureness, less: Sureness) -> None:
    assert less_sure(one, other) is less


def test_findings_of_one_value_stand_together_the_surest_first() -> None:
    a, b, c, d = seen("a", LIKELY, 1), seen("b", UNCLEAR, 2), seen("b", SURE, 3), seen("c", LIKELY)
    assert by_value([a, b, c, d]) == [[b, c], [a], [d]]
    assert best_of([b, c]) is c
    assert by_value([]) == []


@pytest.mark.parametrize(
    ("groups", "sure", "others"),
    [
        ([[seen("a")]], SURE, ()),
        ([[seen("a", LIKELY)]], LIKELY, ()),
        ([[seen("a")], [seen("b", LIKELY, 1)]], LIKELY, ("b",)),
        ([[seen("a")], [seen("b", UNCLEAR, 1)]], LIKELY, ("b",)),
        ([[seen("a")], [seen("b", SURE, 1)]], UNCLEAR, ("b",)),
        ([[seen("a", LIKELY)], [seen("b", LIKELY, 1)]], UNCLEAR, ("b",)),
        ([[seen("a", LIKELY)], [seen("b", SURE, 1)]], UNCLEAR, ("b",)),
        ([[seen("a")], [seen("b", LIKELY, 1)], [seen("c", LIKELY, 2)]], LIKELY, ("b", "c")),
    ],
)
def test_a_rival_makes_a_reading_less_sure(
    groups: list[list[Mention]], sure: Sureness, others: tuple[str, ...]
) -> None:
    reading = from_groups("item", groups)
    words = spans(*range(len(groups)))
    assert reading == FieldReading("item", "a", sure, words, "phrase 0", others)


def test_of_no_groups_there_is_no_reading() -> None:
    assert from_groups("item", []) is None


def test_other_readings_of_the_best_finding_stand_first_and_once() -> None:
    best = Mention("item", "a", Span(0, 1), UNCLEAR, "phrase", 0, others=("b", "a", "c"))
    reading = from_groups("item", [[best], [seen("b", UNCLEAR, 1)], [seen("d", UNCLEAR, 1)]])
    assert reading is not None
    assert reading.others == ("b", "c", "d")
    assert reading.words == spans(0, 1)


def test_a_notice_is_kept_once_with_its_words() -> None:
    decided = FieldReadings()
    for words in (spans(1), spans(1), spans(2)):
        decided.say(message("intake.units_differ"), words)
    assert [each.words for each in decided.notices] == [spans(1), spans(2)]


def test_a_value_that_was_not_read_is_none() -> None:
    decided = FieldReadings()
    decided.add(None)
    decided.add(FieldReading("item", "hat", SURE, (), ""))
    assert decided.readings.keys() == {"item"}
    assert decided.value("item") == "hat"
    assert decided.value("craft") is None


def test_a_field_of_one_value_is_decided_by_its_groups() -> None:
    decided = FieldReadings()
    decide_single(decided, {"wraps": [seen(Decimal(11), LIKELY), seen(Decimal(12))]}, "wraps")
    decide_single(decided, {}, "count")
    assert decided.readings.keys() == {"wraps"}
    assert decided.value("wraps") == Decimal(12)
    assert decided.readings["wraps"].others == (Decimal(11),)


def test_words_are_gathered_and_as_sure_as_the_least_sure() -> None:
    decided = FieldReadings()
    found = [seen("cables", SURE, 1), seen("buttons", LIKELY, 2), seen("cables", SURE, 3)]
    decide_words(decided, {"features": found}, "features")
    decide_words(decided, {}, "attributes")
    assert decided.readings == {
        "features": FieldReading(
            "features", WordList(("cables", "buttons")), LIKELY, spans(1, 2, 3), "phrase 1"
        )
    }


@pytest.mark.parametrize(
    ("found", "value", "sure", "others"),
    [
        ([seen(cm(50))], cm(50), SURE, ()),
        ([seen(cm(50)), seen(cm(60), LIKELY, 1)], cm(50), LIKELY, (cm(60),)),
        ([seen(cm(50)), seen(cm(60), SURE, 1)], cm(50), UNCLEAR, (cm(60),)),
        # A list for all sizes outranks a single value, and is only likely then.
        ([seen(cm(50)), seen(cm(50, 60), SURE, 1)], cm(50, 60), LIKELY, (cm(50),)),
        ([seen(cm(50)), seen(cm(50, 60), UNCLEAR, 1)], cm(50, 60), UNCLEAR, (cm(50),)),
        ([seen(cm(50, 60)), seen(cm(55, 65), LIKELY, 1)], cm(50, 60), LIKELY, (cm(55, 65),)),
        ([seen(cm(50, 60))], cm(50, 60), SURE, ()),
        (
            [seen(cm(50)), seen(cm(50, 60), SURE, 1), seen(cm(55, 65), SURE, 2)],
            cm(50, 60),
            UNCLEAR,
            (cm(55, 65), cm(50)),
        ),
    ],
)
def test_a_measure_for_all_sizes_outranks_a_single_one(
    found: list[Mention], value: Measure, sure: Sureness, others: tuple[Measure, ...]
) -> None:
    decided = FieldReadings()
    decide_measure(decided, {"chest": found}, "chest")
    reading = decided.readings["chest"]
    assert (reading.value, reading.sure, reading.others) == (value, sure, others)


def test_what_a_measure_says_is_said_once() -> None:
    said = message("intake.units_differ")
    found = Mention("chest", cm(50), Span(3, 9), UNCLEAR, "phrase", 0, says=(said,))
    decided = FieldReadings()
    decide_measure(decided, {"chest": [found]}, "chest")
    assert [(each.message, each.words) for each in decided.notices] == [(said, (Span(3, 9),))]
    decide_measure(decided, {}, "width")
    assert decided.readings.keys() == {"chest"}


def names(*items: str) -> WordList:
    return WordList(items)


def sizes_of(**fields: list[Mention]) -> FieldReading | None:
    decided = FieldReadings()
    decide_sizes(decided, fields)
    return decided.readings.get("sizes")


def test_named_sizes_stand_before_body_sizes_and_others_of_as_many_agree() -> None:
    small = seen(names("S", "M"), SURE, 1)
    numbered = seen(names("36", "38"), LIKELY, 2)
    body = seen(names("81", "86"), SURE, 3)
    assert sizes_of(sizes=[small, numbered], body_sizes=[body]) == FieldReading(
        "sizes", names("S", "M"), SURE, spans(1, 2), "phrase 1", (names("36", "38"),)
    )
    assert sizes_of(body_sizes=[body]) == FieldReading(
        "sizes", names("81", "86"), SURE, spans(3), "phrase 3"
    )


def test_named_sizes_of_other_numbers_are_unclear() -> None:
    reading = sizes_of(sizes=[seen(names("S", "M"), SURE, 1), seen(names("1", "2", "3"), SURE, 2)])
    assert reading is not None
    assert (reading.value, reading.sure) == (names("S", "M"), UNCLEAR)


@pytest.mark.parametrize(
    ("chest", "sizes"),
    [
        ([seen(cm(81, 86, 91), UNCLEAR, 1)], names("81", "86", "91")),
        ([seen(cm(81, 86), UNCLEAR, 1), seen(cm(32, 34), UNCLEAR, 2)], names("81", "86")),
        ([seen(cm(81, 86), SURE, 1)], None),
        ([seen(cm(81, 86), UNCLEAR, 1), seen(cm(90, 95), SURE, 2)], None),
        ([seen(cm(81), UNCLEAR, 1)], None),
        ([seen(cm(81, 81), UNCLEAR, 1)], None),
        ([seen(cm(81, 86), UNCLEAR, 1), seen(cm(90), UNCLEAR, 2)], None),
    ],
)
def test_chests_that_are_not_said_to_be_the_garments_name_the_sizes(
    chest: list[Mention], sizes: WordList | None
) -> None:
    expected = sizes and FieldReading("sizes", sizes, LIKELY, spans(1), "phrase 1")
    assert sizes_of(chest=chest) == expected


def line(name: str, at: int) -> Mention:
    amount = Measure((Decimal(5),), "balls")
    return Mention("size_amount", amount, Span(at, at + 1), SURE, f"phrase {at}", at, extra=name)


@pytest.mark.parametrize(
    ("lines", "sizes"),
    [
        (["S", "M"], names("S", "M")),
        (["S", "M", "L"], names("S", "M", "L")),
        (["S"], None),
        (["S", "S"], None),
        ([], None),
    ],
)
def test_sizes_on_lines_of_their_own_name_themselves(
    lines: list[str], sizes: WordList | None
) -> None:
    found = [line(name, at) for at, name in enumerate(lines)]
    expected = sizes and FieldReading("sizes", sizes, SURE, spans(*range(len(lines))), "phrase 0")
    assert sizes_of(size_amount=found) == expected


@pytest.mark.parametrize(
    ("words", "value", "others"),
    [
        (["hat"], "hat", ()),
        (["pullover", "vest"], "vest", ()),
        (["pullover", "cardigan"], "cardigan", ()),
        (["pullover", "dress"], "dress", ()),
        (["bag", "felted bag"], "felted bag", ()),
        (["pullover", "hat"], "pullover", ("hat",)),
        (["vest", "hat"], "vest", ("hat",)),
        (["pullover", "bag"], "pullover", ("bag",)),
    ],
)
def test_the_narrower_word_for_an_item_stays(
    words: list[str], value: str, others: tuple[str, ...]
) -> None:
    decided = FieldReadings()
    decide_item(decided, {"item": [seen(word, SURE, at) for at, word in enumerate(words)]})
    assert (decided.readings["item"].value, decided.readings["item"].others) == (value, others)
    assert decided.readings["item"].sure is (UNCLEAR if others else SURE)


@pytest.mark.parametrize(
    ("found", "value", "sure", "others"),
    [
        ([BABY], BABY, SURE, ()),
        (["child"], "child", SURE, ()),
        ([BABY, "child"], BABY, LIKELY, ("child",)),
        (["child", BABY], BABY, LIKELY, ("child",)),
        (["child", "adult"], "child", UNCLEAR, ("adult",)),
        ([BABY, "child", "adult"], BABY, UNCLEAR, ("child", "adult")),
    ],
)
def test_baby_and_child_mean_the_younger(
    found: list[str], value: str, sure: Sureness, others: tuple[str, ...]
) -> None:
    decided = FieldReadings()
    mentions = [seen(who, SURE, at) for at, who in enumerate(found)]
    decide_wearer(decided, {"wearer": mentions})
    reading = decided.readings["wearer"]
    assert (reading.value, reading.sure, reading.others) == (value, sure, others)
    assert reading.words == spans(*range(len(found)))
    assert reading.phrase == f"phrase {found.index(value)}"


def craft_of(*found: Mention, stitches: list[Mention] | None = None) -> FieldReading | None:
    decided = FieldReadings()
    decide_craft(decided, {"craft": list(found), "stitches": stitches or []})
    return decided.readings.get("craft")


def stitch(at: int) -> Mention:
    return Mention("craft", "crochet", Span(at, at + 1), SURE, "crochet stitch", at)


def test_crochet_stitches_decide_the_craft_and_needles_come_next() -> None:
    knit, crochet = seen("knit", SURE, 1), seen("crochet", SURE, 2)
    assert craft_of(knit, crochet) == FieldReading(
        "craft", "knit", LIKELY, spans(1, 2), "phrase 1", ("crochet",)
    )
    assert craft_of(crochet, knit) == craft_of(knit, crochet)
    assert craft_of(knit, stitch(3)) == FieldReading(
        "craft", "crochet", LIKELY, spans(3, 1), "crochet stitch", ("knit",)
    )


def test_one_craft_alone_is_as_sure_as_its_words() -> None:
    assert craft_of(seen("crochet", LIKELY, 1), seen("crochet", SURE, 2)) == FieldReading(
        "craft", "crochet", SURE, spans(1, 2), "phrase 2"
    )


def test_stitches_without_any_word_for_the_craft_are_likely_knitted() -> None:
    assert craft_of(stitches=[seen(Decimal(22), SURE, 4)]) == FieldReading(
        "craft", "knit", LIKELY, spans(4), "phrase 4"
    )
    assert craft_of() is None
