"""Every fibre, weight, item and the like has a word in every language."""

import pytest

from shopdesk.answering.model.ask import (
    MEASURES,
    Drying,
    Feature,
    ItemKind,
    StitchPattern,
    Washing,
    Wearer,
)
from shopdesk.craft.behaviour import TRAITS, Level, Traits, trait_sayings
from shopdesk.craft.counts import count_systems
from shopdesk.craft.fibres import fibres
from shopdesk.craft.messages import Message, term_code
from shopdesk.craft.wants import wants
from shopdesk.craft.weights import categories
from shopdesk.craft.yarn import Construction
from shopdesk.reference.tables import table
from shopdesk.wording.catalog import text_of, topic_texts
from shopdesk.wording.formatting import ReaderPreferences
from shopdesk.wording.translate import translate
from tests.wording.text_files import LANGUAGES


def narrowing() -> list[str]:
    """What else than a measurement would narrow an item's estimate."""
    return [row["narrowed_by"] for row in table("item_kinds") if row["narrowed_by"]]


FAMILIES: dict[str, list[str]] = {
    "fibre": [fibre.key for fibre in fibres()],
    "weight": [str(category.number) for category in categories()],
    "attribute": sorted({row["attribute"] for row in table("attributes")}),
    "count": [system.key for system in count_systems()],
    "stitch": list(StitchPattern),
    "item": list(ItemKind),
    "wearer": list(Wearer),
    "washing": list(Washing),
    "drying": list(Drying),
    "feature": list(Feature),
    "construction": list(Construction),
    "measure": [*MEASURES, "stitch pattern", "swatch", *narrowing()],
}
CODES = {term_code(family, key) for family, keys in FAMILIES.items() for key in keys}


@pytest.mark.parametrize("language", LANGUAGES)
def test_each_key_has_its_word_and_each_word_its_key(language: str) -> None:
    written = {code for code in topic_texts("terms", language) if "@" not in code}
    assert written == CODES


def test_crochet_words_follow_the_reader() -> None:
    """US single is UK double, US double is UK treble: Craft Yarn Council's crochet terms."""
    single, double = (term_code("stitch", key) for key in ("single crochet", "double crochet"))
    assert text_of(f"{single}@UK", "en").forms == text_of(double, "en").forms
    assert text_of(f"{double}@UK", "en").forms == ("treble crochet",)


@pytest.mark.parametrize("language", LANGUAGES)
def test_every_level_and_every_consequence_can_be_said(
    language: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("shopdesk.wording.translate.fall_back", False)
    reader = ReaderPreferences(language)
    for level in Level:
        yarn = Traits(*[level] * len(TRAITS))
        assert all(translate(message, reader) for message in trait_sayings(yarn))
    assert all(translate(Message(want.code), reader) for want in wants())
