"""No text promises that anything is fit for a child or a skin, in any language."""

import re

import pytest

from tests.wording.text_files import LANGUAGES, every_text

PROMISES = {
    "en": r"\bsafe for|\bbaby-?safe|\bsafe to (wear|use)|hypo-?allergenic|\bapproved|\btested\b"
    r"|\bcertified|\bharmless|\bsuitable for bab",
    "de": r"sicher für|babysicher|bedenkenlos|unbedenklich|hypo-?allergen|zugelassen|geprüft"
    r"|getestet|zertifiziert|geeignet für bab|ungefährlich|hautfreundlich",
    "fr": r"sans danger|sans risque|sûre?s? pour|hypo-?allergénique|approuvée?s?|testée?s?\b"
    r"|certifiée?s?|homologuée?s?|agréée?s?\b|convient aux bébés|inoffensi",
}


def promise(language: str, text: str) -> str | None:
    found = re.search(PROMISES[language], text, re.IGNORECASE)
    return found[0] if found else None


@pytest.mark.parametrize("language", LANGUAGES)
def test_no_text_makes_a_promise(language) -> None:
    made = [
        (code, promise(language, text)) for lang, code, text in every_text() if lang == language
    ]
    assert made
    assert [one for one in made if one[1]] == []


@pytest.mark.parametrize(
    ("language", "text"),
    [
        ("en", "This yarn is safe for babies."),
        ("en", "Hypoallergenic and tested."),
        ("de", "Sicher für Babys, geprüft."),
        ("fr", "Sans danger, testé."),
    ],
)
def test_a_promise_would_be_found(language, text) -> None:
    assert promise(language, text)
