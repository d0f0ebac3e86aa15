"""What is refused is said in the language that the counter speaks, whoever refuses it."""

import pytest
from flask import Flask
from werkzeug.test import TestResponse

from tests.counter.conftest import Counter
from tests.pages import Page, read_page

NBSP = "\N{NO-BREAK SPACE}"


def shown(answer: TestResponse, status: int) -> Page:
    """Returns the page that came with this status."""
    assert answer.status_code == status
    return read_page(answer.text)


@pytest.mark.parametrize(
    ("language", "box", "words"),
    [
        (
            "de",
            "code",
            "„Nord!“ ist kein Kürzel einer Filiale; schreiben Sie bis zu 20 Kleinbuchstaben, "
            "Ziffern und Bindestriche, etwa nord.",
        ),
        (
            "fr",
            "code",
            f"«{NBSP}Nord!{NBSP}» n’est pas un code de succursale{NBSP}; écrivez jusqu’à 20 "
            "minuscules, chiffres et traits d’union, comme nord.",
        ),
    ],
)
def test_what_a_verb_refuses(
    app: Flask, counter: Counter, language: str, box: str, words: str
) -> None:
    app.config["COUNTER_LANGUAGE"] = language
    answer = counter.fill("/branches", code="Nord!")
    assert shown(answer, 422).message(box) == words


@pytest.mark.parametrize(
    ("language", "typed", "words"),
    [
        (
            "de",
            "0",
            "0 liegt außerhalb des Möglichen; schreiben Sie eine ganze Zahl von 1 bis 1000000000.",
        ),
        (
            "fr",
            "1,5",
            f"1,5 n’est pas entier{NBSP}; écrivez un nombre entier de 1 à 1000000000.",
        ),
    ],
)
def test_what_a_validator_refuses(
    app: Flask, counter: Counter, language: str, typed: str, words: str
) -> None:
    app.config["COUNTER_LANGUAGE"] = language
    answer = counter.fill("/slips", number=typed)
    assert shown(answer, 422).message("number") == words


@pytest.mark.parametrize(
    ("language", "words"),
    [
        ("de", "„abc“ ist keine Zahl; geben Sie eine Zahl von Maschen an, etwa 22 oder 22½."),
        (
            "fr",
            f"«{NBSP}abc{NBSP}» n’est pas un nombre{NBSP}; donnez un nombre de mailles "
            "comme 22 ou 22½.",
        ),
    ],
)
def test_what_the_ask_refuses_beside_its_box(
    app: Flask, counter: Counter, language: str, words: str
) -> None:
    app.config["COUNTER_LANGUAGE"] = language
    assert shown(counter.fill("/", stitches="abc"), 422).message("stitches") == words


@pytest.mark.parametrize(
    ("language", "words"),
    [
        ("de", ("Diese Seite gibt es nicht", "Unter Nummer 99 ist nichts zurückgelegt.")),
        ("fr", ("Cette page n’existe pas", "Il n’y a pas de mise de côté 99.")),
    ],
)
def test_a_page_that_is_not_there(
    app: Flask, counter: Counter, language: str, words: tuple[str, ...]
) -> None:
    app.config["COUNTER_LANGUAGE"] = language
    page = shown(counter.client.get("/holds/99"), 404)
    assert [each in page.text for each in words] == [True, True]


@pytest.mark.parametrize(
    ("language", "words"), [("de", "Als Strichcode: "), ("fr", f"Comme code-barres{NBSP}: ")]
)
def test_what_is_odd_about_a_scan(app: Flask, counter: Counter, language: str, words: str) -> None:
    app.config["COUNTER_LANGUAGE"] = language
    assert words in counter.look("/shelf?q=40063813339").text
