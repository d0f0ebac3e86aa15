"""The counter: the form that an ask is typed into, or filled from a pattern's own words."""

import re
from typing import Any

from flask import Blueprint, redirect, render_template, request, url_for
from flask_wtf.csrf import CSRFError
from werkzeug.datastructures import FileStorage, MultiDict
from werkzeug.wrappers import Response

from shopdesk.answering.ask.ask_reading import read_ask
from shopdesk.answering.model.ask import Ask
from shopdesk.counter.answered import AnsweredAsk, AskInVisit, ask_document_in_visit, hand_over
from shopdesk.counter.errors import STALE_PAGE
from shopdesk.counter.forms.ask_form import (
    AskForm,
    ask_document_of,
    ask_form_data,
    received,
    show_problems,
)
from shopdesk.counter.forms.file_forms import PatternTextForm
from shopdesk.counter.refusals import problem_sentence, said_alone
from shopdesk.counter.request import shop
from shopdesk.counter.source_panel import form_data, panel_of, take, taken
from shopdesk.craft.errors import InputError, InputErrors, Problem
from shopdesk.craft.hand_tool import MOST_PERCENT
from shopdesk.craft.messages import message
from shopdesk.patterns.reading import PatternReading
from shopdesk.patterns.text.cleaning import TextRefused
from shopdesk.services.answers import AskPut, ask_the_shelf
from shopdesk.services.asks import new_request_key, token_of
from shopdesk.services.pattern_texts import read_pattern_text

pages = Blueprint("asking", __name__)
pattern_pages = Blueprint("reading_pattern", __name__)

_NOTHING_FOUND = Problem(
    (), message("problem_form.nothing_found"), message("problem_form.paste_it")
)
_REMOVE = re.compile(r"remove-(parts-[0-9]{1,2})", re.ASCII)
_TAKE = re.compile(r"take-([0-9]{1,3})-([0-9]{1,3})", re.ASCII)


@pages.get("/")
def counter() -> str:
    """Shows an empty form, or that of a saved ask (?ask=TOKEN), or for a kept hand (?hand=4)."""
    token = request.args.get("ask", "")
    if not token:
        return counter_page(AskForm(formdata=None, data=_with_hand()))
    return counter_page(AskForm(formdata=ask_form_data(ask_document_in_visit(token))))


def _with_hand() -> dict[str, str]:
    """Returns the boxes of a kept hand that the address names; nothing where it names none."""
    hand = request.args.get("hand", 0.0, type=float)
    if not 0 < abs(hand) <= MOST_PERCENT:
        return {}
    return {"hand": f"{abs(hand):g}", "hand_way": "tighter" if hand > 0 else "looser"}


@pages.post("/")
def ask() -> Response | str | tuple[str, int]:
    """Takes the form: adds or removes a part, or keeps the ask and goes on to its answer."""
    do = request.form.get("do", "answer")
    removed = _REMOVE.fullmatch(do)
    chosen = _TAKE.fullmatch(do)
    if chosen is not None:
        return _taken(int(chosen[1]), int(chosen[2]))
    form = _sent_form(without=removed[1] if removed else "")
    if do != "answer":
        return _changed(form, do)
    document, problems = ask_document_of(form)
    asked, refusals = _read(document)
    problems += refusals
    if asked is None or problems:
        form_errors = show_problems(form, problems)
        return counter_page(form, form_errors), 422
    try:
        token = _answered(form.sheet.data or new_request_key(), document, asked)
    except InputErrors as refused:
        return counter_page(form, show_problems(form, refused.problems)), 422
    return redirect(url_for("answers.answer", token=token), 303)


@pages.errorhandler(CSRFError)
def _stale(error: CSRFError) -> tuple[str, int]:
    """Shows what was typed once more, with a form token that is good again."""
    return counter_page(_sent_form(), [said_alone(STALE_PAGE)]), 400


def _sent_form(without: str = "") -> AskForm:
    sent: MultiDict[str, str] = MultiDict(request.form)
    return AskForm(formdata=received(sent, without))


def _changed(form: AskForm, do: str) -> str:
    if do == "add-part":
        form.add_part()
    elif do == "add-fibre":
        form.add_fibre()
    return counter_page(form, start_at=do)


def _taken(number: int, way: int) -> str:
    """Fills one field by the reading of the pattern's words that was picked."""
    source = _sent_source()
    sent: MultiDict[str, str] = MultiDict(request.form)
    if source is not None:
        sent = take(source, number, way, sent)
        source = taken(source, number, way) or source
    return counter_page(AskForm(formdata=received(sent)), start_at="source", source=source)


def _answered(request_key: str, document: dict[str, Any], asked: Ask) -> str:
    """Puts the ask to the shelf and leaves its answer for the next page. Returns its token."""
    answer = ask_the_shelf(shop(), AskPut(document, asked, request_key))
    token = token_of(request_key, document)
    hand_over(AnsweredAsk(AskInVisit(token, document, asked), answer))
    return token


def _read(document: dict[str, Any]) -> tuple[Ask | None, list[Problem]]:
    """Returns the ask that a document makes, or what is wrong with it."""
    try:
        return read_ask(document), []
    except InputError as refused:
        return None, list(refused.problems)


def counter_page(
    form: AskForm,
    form_errors: list[str] | None = None,
    start_at: str = "",
    *,
    source: PatternReading | None = None,
    paste: PatternTextForm | None = None,
    opened: bool = False,
) -> str:
    """Returns the counter's page; `source` is the pattern's text that the form is filled from."""
    form.sheet.data = form.sheet.data or new_request_key()
    source = source or _sent_source()
    return render_template(
        "counter.html",
        form=form,
        form_errors=form_errors or [],
        start_at=start_at,
        source=panel_of(source, form) if source is not None else None,
        paste=paste or PatternTextForm(formdata=None),
        paste_opened=opened,
    )


def _sent_source() -> PatternReading | None:
    """Reads the pattern's text again that the page carried along, if it did."""
    text = request.form.get("pattern_text", "")
    try:
        return read_pattern_text(text) if text else None
    except TextRefused:
        return None


@pattern_pages.get("/pattern")
def paste() -> str:
    """Shows the counter with the place for the pattern's text open."""
    return counter_page(AskForm(formdata=None), paste=PatternTextForm(formdata=None), opened=True)


@pattern_pages.post("/pattern")
def read() -> str | tuple[str, int]:
    """Reads the text or file and shows the form filled from it, with the words beside it.

    Nothing of the text is kept: the page itself carries it until the form is sent.
    """
    sent = PatternTextForm()
    try:
        found = _reading(sent)
    except TextRefused as refusal:
        box = sent.file if _file() is not None else sent.text
        box.errors = [said_alone(refusal)]
        return counter_page(AskForm(formdata=None), paste=sent, opened=True), 422
    if not found.readings:
        sent.text.data = found.text
        sent.text.errors = [problem_sentence(_NOTHING_FOUND)]
        return counter_page(AskForm(formdata=None), paste=sent, opened=True), 422
    form = AskForm(formdata=MultiDict(form_data(found)))
    return counter_page(form, source=found, start_at="source")


def _file() -> FileStorage | None:
    file = request.files.get("file")
    return file if file is not None and file.filename else None


def _reading(sent: PatternTextForm) -> PatternReading:
    file = _file()
    given = file.read() if file is not None else str(sent.text.data or "")
    return read_pattern_text(given, sent.language.data)
