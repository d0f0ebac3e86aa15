"""The slip in words: three languages, units, money and dates, and nothing hidden in a value."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest

from shopdesk.answering.model.ask import Drying, ItemKind, StitchPattern, Washing, Wearer
from shopdesk.craft.care import care_sayings
from shopdesk.craft.messages import term_code
from shopdesk.craft.yarn import CareLabel, Craft
from shopdesk.slips.content import CautionNote, SlipContent
from shopdesk.slips.slip_text import slip_text
from shopdesk.slips.slip_words import SlipText
from shopdesk.wording.catalog import text_of
from shopdesk.wording.formatting import LANGUAGES, ReaderPreferences
from shopdesk.wording.translate import english
from tests.slip_factories import a_caution, a_content, a_shop, a_stamp, plain, texts_of


def words(content: SlipContent | None = None, language: str = "en-GB", **reader: str) -> SlipText:
    return slip_text(content or a_content(), ReaderPreferences(language, **reader))  # type: ignore[arg-type]


def text(spoken: SlipText) -> str:
    return "\n".join(texts_of(spoken)).replace("\u00a0", " ").replace("\u202f", " ")


@pytest.mark.parametrize(
    ("language", "expected"),
    [
        ("en-GB", ("25 Nov 2026", "5 × £8.50 = £42.50", "Estimate; the till’s price applies.")),
        ("en-US", ("Nov 25, 2026", "5 × £8.50 = £42.50")),
        ("de", ("25.11.2026", "5 × 8,50 £ = 42,50 £", "es gilt der Preis an der Kasse")),
        ("fr", ("25 nov. 2026", "5 × 8,50 £GB = 42,50 £GB", "le prix en caisse fait foi")),
    ],
)
def test_dates_and_money_are_the_languages_own(language: str, expected: tuple[str, ...]) -> None:
    for part in expected:
        assert part in text(words(language=language))


def test_money_is_the_shops_whatever_the_voice_says() -> None:
    assert "£42.50" in text(words(currency="JPY"))


@pytest.mark.parametrize(
    ("units", "expected", "missing"),
    [
        ("metric", ("1150 m, 500 g", "22 stitches and 30 rows to 10 cm"), " yd"),
        ("imperial", ("1258 yd, 17.6 oz", "to 4 in", "22.4"), " m,"),
        ("both", ("1150 m (1258 yd)", "500 g (17.6 oz)"), "to 4 in"),
    ],
)
def test_units_are_the_readers(units: str, expected: tuple[str, ...], missing: str) -> None:
    # 1150 m = 1257.7 yd, 500 g = 17.64 oz, 22 to 10 cm = 22.35 to 4 in: exact definitions.
    spoken = text(words(units=units))
    for part in expected:
        assert part in spoken
    assert missing not in spoken


@pytest.mark.parametrize("included", [True, False])
def test_tax_is_spoken_of(included: bool) -> None:
    spoken = text(words(a_content(shop=a_shop(tax_included=included))))
    assert ("include tax" in spoken) is included
    assert ("the till adds it" in spoken) is not included


def test_all_parts_of_the_slip_are_there() -> None:
    content = a_content(
        held_until=date(2026, 12, 9),
        stamp=a_stamp(1043, replaces=1042),
        customer_name="Mira",
        cautions=(CautionNote(a_caution(), told=True),),
        unknown=(plain("The rows are not known."),),
    )
    spoken = text(words(content))
    for part in (
        "The Quiet Skein", "3 Weir Lane", "No. 1043", "AB", "Mira", "replaces slip 1042",
        "Striped pullover", "in Meadow DK", "pullover", "an adult", "US 6, that is 4 mm", "1000 m",
        "5 skeins of dye lot M2231", "Moss 14", "about 50 m (22 g) will be left",
        "2000001000014", "Cast on 33 stitches", "22 × 30", "US 6, UK 8", "4.5 mm",
        "a little firmer", "would felt", "Wash by hand", "From the band.", "not a care label",
        "Advice", "sheds", "Told at the counter.", "The rows are not known.",
        "On hold for you until 9 Dec 2026.", "come back within 30 days",
    ):  # fmt: skip
        assert part in spoken, part


def test_care_by_default_is_called_so() -> None:
    usual = care_sayings(CareLabel(wash_c=30, wash_action="hand"), True)
    by_default = text(words(a_content(care=usual, care_by_default=True)))
    assert "Usual for this fibre, not from the label" in by_default
    assert "From the band." not in by_default
    assert "gives no care" in text(words(a_content(care=())))


def test_law_is_told_from_advice() -> None:
    notes = tuple(CautionNote(a_caution(str(law), law=law), told=False) for law in (True, False))
    assert [note.kind for note in words(a_content(cautions=notes)).cautions.notes] == [
        "Law",
        "Advice",
    ]


def test_a_total_needs_two_lines() -> None:
    content = a_content()
    line = content.lines[0]
    assert "Together" not in text(words(content))
    both = replace(content, lines=(line, replace(line, part="CC", total=Decimal("8.50"))))
    assert "Together £51.00" in text(words(both))
    assert "CC" in text(words(both))


def test_a_line_that_is_short_says_so() -> None:
    content = a_content()
    short = replace(content, lines=(replace(content.lines[0], spare_m=-180.0),))
    assert "about 180 m short of what is planned" in text(words(short))


HOSTILE = (
    "<img src=x onerror=alert(1)>",
    "</para><para>",
    "a & b &amp; c",
    "bell\x07 nul\x00",
    "\u202egnp.exe\u2066",
    "{number} {{x}} %s {0}",
)


@pytest.mark.parametrize("value", HOSTILE)
def test_values_are_shown_as_they_are_with_hidden_characters_seen(value: str) -> None:
    content = a_content(
        title=value, yarn=value, customer_name=value, shop=a_shop(name=value, address=(value,))
    )
    spoken = words(content)
    assert not any(c in "".join(texts_of(spoken)) for c in "\x07\x00\u202e\u2066")
    assert spoken.title == spoken.head.customer_name == spoken.head.shop
    if value.isprintable():
        assert spoken.title == value
        assert spoken.yarn == f"in {value}"


def test_a_name_like_a_placeholder_is_not_filled_in() -> None:
    spoken = words(a_content(shop=a_shop(name="{pages} of {page}")))
    assert spoken.head.shop == "{pages} of {page}"


FAMILIES = {
    "item": ItemKind,
    "stitch": StitchPattern,
    "wearer": Wearer,
    "washing": Washing,
    "drying": Drying,
}


@pytest.mark.parametrize("language", LANGUAGES)
def test_every_word_of_an_ask_has_its_text(language: str) -> None:
    for family, values in FAMILIES.items():
        for value in values:
            assert text_of(term_code(family, value), language)


@pytest.mark.parametrize("language", LANGUAGES)
@pytest.mark.parametrize("craft", Craft)
def test_every_sentence_of_the_card_has_its_text(language: str, craft: Craft) -> None:
    for code in ("work", "more", "fewer", "more_{}_on", "fewer_{}_on"):
        whole = code.format(craft) if "{}" in code else f"{code}_{craft}"
        assert text_of(f"slip.swatch_{whole}", language)


def test_english_words_make_no_promise() -> None:
    spoken = text(words()).casefold()
    for word in ("safe for", "hypoallergenic", "guarantee", "approved", "tested", "★", "% match"):
        assert word not in spoken
    assert english(plain("x")) == "x"
