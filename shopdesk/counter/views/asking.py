"""The counter: the form that an ask is typed into."""

import re
from typing import Any

from flask import Blueprint, abort, redirect, render_template, request, url_for
from flask_wtf.csrf import CSRFError
from werkzeug.datastructures import MultiDict
from werkzeug.wrappers import Response

from shopdesk.answering.ask_document import AskRefused, Problem
from shopdesk.answering.ask_reading import read_ask
from shopdesk.counter.answered import Answered, answer_from, hand_over
from shopdesk.counter.forms.ask_form import (
    AskForm,
    ask_document_of,
    ask_form_data,
    received,
    show_problems,
)
from shopdesk.counter.shop import engine
from shopdesk.shelf.database import reading, writing
from shopdesk.shelf.unmet import record_unmet
from shopdesk.visits.drafts import keep_ask, kept_ask, new_sheet, token_of
from shopdesk.visits.unmet_asks import unmet_of

pages = Blueprint("asking", __name__)

_REMOVE = re.compile(r"remove-(parts-[0-9]{1,2})", re.ASCII)
_STALE = "This page was open since before the program was last started; press the button again."


@pages.get("/")
def counter() -> str:
    """Shows an empty form, or the form of a kept ask (?ask=TOKEN)."""
    token = request.args.get("ask", "")
    if not token:
        return _page(AskForm(formdata=None))
    with reading(engine()) as session:
        document = kept_ask(session, token)
    if document is None:
        abort(404, "This ask is not kept any more; type it once again.")
    return _page(AskForm(formdata=ask_form_data(document)))


@pages.post("/")
def ask() -> Response | str | tuple[str, int]:
    """Takes the form: adds or removes a part, or keeps the ask and goes on to its answer."""
    do = request.form.get("do", "answer")
    removed = _REMOVE.fullmatch(do)
    form = _sent_form(without=removed[1] if removed else "")
    if do != "answer":
        return _changed(form, do)
    document, problems = ask_document_of(form)
    problems += _refusals(document)
    if problems:
        homeless = show_problems(form, problems)
        return _page(form, homeless), 422
    token = _keep(form.sheet.data or new_sheet(), document)
    return redirect(url_for("answers.answer", token=token), 303)


@pages.errorhandler(CSRFError)
def _stale(error: CSRFError) -> tuple[str, int]:
    """Shows what was typed once more, with a form token that is good again."""
    return _page(_sent_form(), [_STALE]), 400


def _sent_form(without: str = "") -> AskForm:
    sent: MultiDict[str, str] = MultiDict(request.form)
    return AskForm(formdata=received(sent, without))


def _changed(form: AskForm, do: str) -> str:
    if do == "add-part":
        form.add_part()
    elif do == "add-fibre":
        form.add_fibre()
    return _page(form, start_at=do)


def _keep(sheet: str, document: dict[str, Any]) -> str:
    """Keeps the ask, notes it if nothing fits, and leaves its answer for the next page."""
    asked = read_ask(document)
    with reading(engine()) as session:
        answer = answer_from(session, asked)
    unmet = unmet_of(asked, answer)
    token = token_of(sheet, document)
    with writing(engine()) as session:
        is_new = keep_ask(session, sheet, document)
        if is_new and unmet is not None:
            record_unmet(session, unmet)
    hand_over(Answered(token, document, asked, answer))
    return token


def _refusals(document: dict[str, Any]) -> list[Problem]:
    try:
        read_ask(document)
    except AskRefused as refused:
        return list(refused.problems)
    return []


def _page(form: AskForm, homeless: list[str] | None = None, start_at: str = "") -> str:
    form.sheet.data = form.sheet.data or new_sheet()
    return render_template("counter.html", form=form, homeless=homeless or [], start_at=start_at)
