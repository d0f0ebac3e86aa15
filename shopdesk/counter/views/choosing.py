"""One yarn of an answer: its whole judgement, and choosing colour, lots and what was told."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from flask import Blueprint, redirect, render_template, request, url_for
from werkzeug.wrappers import Response

from shopdesk.answering.model.answer import Selection
from shopdesk.counter.answered import AskInVisit, ask_in_visit
from shopdesk.counter.forms.choice_form import YarnSelection
from shopdesk.counter.pictures.fabric_drawing import fabric_drawing
from shopdesk.counter.refusals import refuse_page, said_alone
from shopdesk.counter.request import branch_name, known_branches, settings, shop
from shopdesk.craft import lengths
from shopdesk.craft.messages import message
from shopdesk.services.answers import JudgedYarn, judge_yarn
from shopdesk.services.asks import new_request_key
from shopdesk.services.selection import stock_elsewhere
from shopdesk.services.slips import SlipOrder, SlipRefused, make_slip
from shopdesk.slips.slip_lines import SelectionError

pages = Blueprint("choosing", __name__)


@dataclass(frozen=True, slots=True)
class YarnPage:
    """The yarn of the page as judged for a saved ask, and how it may be chosen."""

    saved: AskInVisit
    judged: JudgedYarn
    choice: YarnSelection


@pages.get("/asks/<token>/yarn")
def yarn(token: str) -> str:
    """Shows the judgement of the yarn `?sku=` and the form to choose it."""
    looked = _look(token)
    looked.choice.form.key.data = new_request_key()
    return _page(looked)


@pages.post("/asks/<token>/yarn")
def choose(token: str) -> Response | tuple[str, int]:
    """Makes the slip of the chosen yarn, or shows what is wrong with the choice."""
    looked = _look(token)
    choice = looked.choice.read()
    if choice is None:
        return _page(looked), 422
    try:
        made = make_slip(shop(), looked.judged, _order(looked, choice))
    except (SlipRefused, SelectionError) as refused:
        return _page(looked, [said_alone(refused)]), 422
    return redirect(url_for("slips.slip", number=made.summary.number), 303)


def _order(looked: YarnPage, choice: Selection) -> SlipOrder:
    form = looked.choice.form
    return SlipOrder(
        ask_document=looked.saved.document,
        choice=choice,
        staff=form.staff.typed,
        language=form.language.data,
        paper=form.paper.data,
        customer_name=form.customer_name.typed or None,
        supersedes=looked.choice.supersedes(),
        request_key=str(form.key.data or "")[: lengths.REQUEST_KEY] or None,
        contact=looked.choice.contact(),
    )


def _look(token: str) -> YarnPage:
    saved, sku = ask_in_visit(token), request.args.get("sku", "")
    judged = judge_yarn(shop(), saved.ask, [sku]).get(sku)
    if judged is None:
        refuse_page(404, message("problem_page.no_such_yarn"))
    return YarnPage(saved, judged, YarnSelection(judged, settings(), _elsewhere(sku)))


def _elsewhere(sku: str) -> dict[str, Mapping[str, int]]:
    """Returns, by colour's code, the skeins that may be promised in other branches, by name."""
    if len(known_branches()) == 1:
        return {}
    return {
        colour: {branch_name(code): skeins for code, skeins in places.items()}
        for colour, places in stock_elsewhere(shop(), sku).items()
    }


def _page(looked: YarnPage, form_errors: Sequence[str] = ()) -> str:
    return render_template(
        "yarn.html",
        looked=looked,
        form_errors=form_errors,
        candidate=looked.judged.candidate,
        choice=looked.choice,
        form=looked.choice.form,
        drawing=fabric_drawing(looked.judged.ask, looked.judged.candidate),
    )
