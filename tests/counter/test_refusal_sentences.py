"""Each message of a form is a sentence: a capital or what was typed, and a full stop."""

import io
import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from html import unescape
from typing import Any

import pytest
from flask import Flask
from sqlalchemy import Engine
from werkzeug.test import TestResponse

from shopdesk.counter.application import create_app
from shopdesk.counter.refusals import said_alone
from shopdesk.craft.messages import message
from shopdesk.shelf.writing import writing
from shopdesk.store.settings import ShopSettings, save_settings
from tests.counter.conftest import SECRET, Counter
from tests.counter.test_asking import BAD_NUMBERS, FULL, NUMBER_BOXES
from tests.counter.test_choosing import first_colour, yarn_path
from tests.counter.test_holds import BAND, WRONG
from tests.counter.test_reading_pattern import UNREADABLE, paste
from tests.counter.test_settings import BAD, GOOD
from tests.counter.test_shelf import (
    BAD_WISHES,
    EDIT,
    MEASURE,
    STOCK,
    WRONG_CHANGES,
    WRONG_MEASUREMENTS,
    WRONG_UNLABELLED,
    WRONG_YARNS,
)
from tests.counter.test_shelf_colours import ADD, WRONG_COLOURS
from tests.counter.test_shelf_colours import GOOD as GOOD_COLOUR
from tests.counter.test_swatches import LOOSE, NEW, SIZED, WRONG_SWATCHES
from tests.services.slips_at_counter import a_slip, stock_shelf

LANGUAGES = ["en-GB", "de", "fr"]
QUOTES = ("'", "„", "«")
BESIDE = re.compile(r'<p class="wrong" id="[^"]*">(.*?)</p>', re.DOTALL)
SPAN = re.compile(r"<span>(.*?)</span>", re.DOTALL)
AT_THE_HEAD = re.compile(r'<section class="summary".*?</section>', re.DOTALL)
ITEM = re.compile(r"<li>(?!<a)(.*?)</li>", re.DOTALL)

Sent = Iterable[tuple[TestResponse, Mapping[str, Any]]]
"""The answers to wrong forms, each with what was typed."""


def shown(html: str) -> list[str]:
    """Returns the messages beside the boxes of a page, and those at its head without a box."""
    beside = [one for found in BESIDE.findall(html) for one in SPAN.findall(found)]
    head = [one for found in AT_THE_HEAD.findall(html) for one in ITEM.findall(found)]
    return [unescape(one) for one in (*beside, *head)]


def is_sentence(words: str, typed: Iterable[str]) -> bool:
    """True for a sentence that begins with a capital, a digit, a quotation or what was typed."""
    begun = words[0].isupper() or words[0].isdecimal() or words.startswith(QUOTES)
    as_typed = any(len(one) > 0 and words.startswith(one) for one in typed)
    return (begun or as_typed) and words.endswith(".") and not words.endswith("..")


def texts(typed: Mapping[str, Any]) -> Iterator[str]:
    for value in typed.values():
        yield from (str(one)[:20] for one in (value if isinstance(value, list) else [value]))


def ask_forms(counter: Counter) -> Sent:
    boxes = counter.look().boxes
    others = [name for name in boxes if name not in (*NUMBER_BOXES, "csrf_token", "sheet")]
    for bad in (*BAD_NUMBERS, "", "x" * 500):
        for some in (NUMBER_BOXES, others):
            typed = {**FULL, **dict.fromkeys(some, bad)}
            yield counter.fill(**typed), typed
    typed = {**FULL, "designer-band_stitches_high": "20", "sizes": "S, M", "chests": "90; 96; 100"}
    yield counter.fill(**typed), typed


def patterns(counter: Counter) -> Sent:
    for words, data, _ in UNREADABLE:
        files = {} if data is None else {"file": (io.BytesIO(data), "pattern")}
        yield paste(counter, words, **files), {}


def shelf_forms(counter: Counter) -> Sent:
    stock = STOCK + "&colour=01&lot=6760"
    for box, bad in WRONG_YARNS:
        yield counter.fill(EDIT, **{box: bad}), {box: bad}
    for typed, _ in WRONG_CHANGES:
        yield counter.fill(stock, counter.look(stock), **typed), typed
    for typed, _ in WRONG_MEASUREMENTS:
        yield counter.fill(MEASURE, **typed), typed
    for box, bad in WRONG_COLOURS:
        yield counter.fill(ADD, **{**GOOD_COLOUR, box: bad}), {box: bad}
    empty = dict.fromkeys(counter.look("/shelf/yarn/new").boxes, "abc")
    typed = {**empty, **counter.look("/shelf/yarn/new").sent(), "sku": "", "name": ""}
    yield counter.fill("/shelf/yarn/new", **typed), typed


def shelf_searches(counter: Counter) -> Sent:
    for box in ("gauge", "price_to"):
        for bad in BAD_WISHES:
            yield counter.client.get("/shelf", query_string={box: bad}), {box: bad}
    for asked, _ in WRONG_UNLABELLED:
        query = {"length": "", **asked}
        yield counter.client.get("/shelf/unlabelled", query_string=query), query


def settings(counter: Counter) -> Sent:
    for box, every in BAD.items():
        for bad in every:
            yield counter.fill("/settings", **{**GOOD, box: bad}), {box: bad}


def imports(counter: Counter) -> Sent:
    for kind in ("stock", "plants"):
        yield counter.fill("/imports", kind=kind), {}


def swatches(counter: Counter) -> Sent:
    path = yarn_path(counter, SIZED)
    page = counter.look(path)
    counter.fill(path, page, colour_0=first_colour(page), staff="MR")
    for box, bad in WRONG_SWATCHES:
        yield counter.fill(NEW, **{**LOOSE, box: bad}), {box: bad}
    for asked in ("slip=9", "slip=x", "yarn=no"):
        yield counter.client.get(f"/swatches?{asked}"), {}


def choices(counter: Counter) -> Sent:
    path = yarn_path(counter, SIZED)
    yield counter.fill(path), {}
    page = counter.look(path)
    for bad in (bad for bad in BAD_NUMBERS if bad != "0"):
        lots = {name: bad for name in page.boxes if name.startswith("lot_")}
        yield counter.fill(path, page, colour_0=first_colour(page), staff="MR", **lots), lots


def holds(counter: Counter) -> Sent:
    for box, (bad, _) in WRONG.items():
        yield counter.fill("/holds/new", **{**BAND, box: bad}), {box: bad}
    for typed in ({"skeins": "21"}, {"sku": "t-9"}, {"colour": "none"}, {"lot": "m1"}):
        yield counter.fill("/holds/new", **{**BAND, **typed}), typed
    counter.fill("/holds/new", **BAND)
    for bad in ("", "0", "5", "x"):
        yield counter.fill("/holds/1", do="part", skeins=bad), {"skeins": bad}
    for bad in ("2020-01-01", "", "soon"):
        yield counter.fill("/holds/1", do="extend", until=bad), {"until": bad}


def lists(counter: Counter) -> Sent:
    for find in ("T-9", "77", "4006381333932", "x"):
        yield counter.client.get(f"/one-more?find={find}"), {"find": find}
    for grams in ("x", "0", "20000", "-1"):
        asked = {"sku": "T-9", "grams": grams}
        yield counter.client.get("/left-over", query_string=asked), asked
    yield counter.fill("/slips", number="abc", day="soon", name="x" * 300), {"number": "abc"}
    yield counter.fill("/branches", code="Nord!"), {"code": "Nord!"}
    yield counter.fill("/customers"), {}
    yield counter.fill("/slips/1/returns", skeins="6"), {"skeins": "6"}


ON_A_FEW_YARNS = [ask_forms, patterns, shelf_forms, shelf_searches, settings, imports, swatches,
                  choices]  # fmt: skip
FORMS = [*ON_A_FEW_YARNS, holds, lists]


@pytest.fixture
def counter_for(demo_shelf: Engine, shelf: Engine) -> Callable[[Any, str], Counter]:
    """Gives a counter with what some forms need on its shelf, which speaks a language."""

    def made(forms: Any, language: str) -> Counter:
        there = demo_shelf if forms in ON_A_FEW_YARNS else shelf
        if there is shelf:
            stock_shelf(shelf)
            a_slip(shelf)
            with writing(shelf) as session:
                save_settings(session, ShopSettings(return_days=30))
        app = create_app(there, SECRET)
        app.config["COUNTER_LANGUAGE"] = language
        return Counter(app.test_client())

    return made


@pytest.mark.parametrize("language", LANGUAGES)
@pytest.mark.parametrize("forms", FORMS)
def test_each_message_is_a_sentence(
    counter_for: Callable[[Any, str], Counter], forms: Callable[[Counter], Sent], language: str
) -> None:
    spoiled = list[str]()
    for answer, typed in forms(counter_for(forms, language)):
        found = shown(answer.text)
        assert (answer.status_code in (409, 422), bool(found)) == (True, True), typed
        spoiled += [one for one in found if not is_sentence(one, texts(typed))]
    assert sorted(set(spoiled)) == []


@pytest.mark.parametrize(
    ("refused", "words"),
    [
        (message("problem_form.no_day"), "This is not a day."),
        (message("problem_page.no_slip", number=3), "There is no slip 3."),
        (message("problem_visit.no_colour", sku="t-1", colour="04"), "t-1 has no colour 04."),
        (message("problem_form.cannot_be", text="½"), "½ cannot be."),
        (message("problem_pattern.pdf_large", mb=20), "This PDF is too large (20 MB)."),
    ],
)
def test_a_sentence_begins_as_typed_or_with_a_capital_and_ends_once(
    app: Flask, refused: Any, words: str
) -> None:
    with app.app_context():
        assert said_alone(refused) == words


@pytest.mark.parametrize(
    "words", ["this is wrong.", "This is wrong", "This is wrong..", "abc cannot be."]
)
def test_what_is_no_sentence_is_noticed(words: str) -> None:
    assert not is_sentence(words, ["xyz", ""])
    assert is_sentence("xyz cannot be.", ["xyz"])


def test_messages_are_found_on_a_page(counter: Counter) -> None:
    assert shown(counter.fill(stitches="<b>").text)[0].startswith("'<b>' is not a number; ")
