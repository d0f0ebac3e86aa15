"""No text promises that anything is fit for a child or a skin, in any language."""

import csv
import re
from collections.abc import Mapping
from pathlib import Path

import pytest

from shopdesk.wording.catalog import BASE_LANGUAGE
from tests.wording.text_files import LANGUAGES, every_text

with (Path(__file__).parent / "promises.csv").open(encoding="utf-8", newline="") as _file:
    PROMISES: tuple[Mapping[str, str], ...] = tuple(csv.DictReader(_file))
"""What no text may say, as a regular expression, with what it means and a text that says it."""


def promise(language: str, text: str) -> str | None:
    never = "|".join(row["promise"] for row in PROMISES if row["language"] == language)
    found = re.search(never, text, re.IGNORECASE)
    return found[0] if found else None


def meanings(language: str) -> set[str]:
    return {row["meaning"] for row in PROMISES if row["language"] == language}


@pytest.mark.parametrize("language", LANGUAGES)
def test_no_text_makes_a_promise(language: str) -> None:
    made = [
        (code, promise(language, text)) for lang, code, text in every_text() if lang == language
    ]
    assert made
    assert [one for one in made if one[1]] == []


@pytest.mark.parametrize("language", LANGUAGES)
def test_every_promise_is_known_in(language: str) -> None:
    assert meanings(language) == meanings(BASE_LANGUAGE) != set()


@pytest.mark.parametrize("row", PROMISES, ids=lambda row: f"{row['language']}-{row['said']}")
def test_a_promise_would_be_found(row: Mapping[str, str]) -> None:
    assert re.search(row["promise"], row["said"], re.IGNORECASE)
