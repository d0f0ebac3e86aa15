"""One yarn of an answer: its whole judgement, and choosing colour, lots and what was told."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime

from flask import Blueprint, abort, redirect, render_template, request, url_for
from werkzeug.wrappers import Response

from shopdesk.answering.model.answer import Answer, Candidate, Caution, Selection
from shopdesk.counter.answered import Answered, answered, judged_apart
from shopdesk.counter.forms.choice_form import YarnSelection
from shopdesk.counter.pictures.fabric_drawing import fabric_drawing
from shopdesk.counter.request import elsewhere, engine, here_first, own_branch, settings
from shopdesk.craft.messages import Message
from shopdesk.craft.yarn import ShelfYarn
from shopdesk.services.asks import new_request_key
from shopdesk.services.slips import SlipOrder, SlipRefused, make_slip
from shopdesk.shelf.loading import shelf_yarn
from shopdesk.shelf.writing import writing
from shopdesk.slips.slip_lines import SelectionError
from shopdesk.store.database import reading
from shopdesk.wording.formatting import capital

pages = Blueprint("choosing", __name__)

LONGEST_KEY = 64


@dataclass(frozen=True, slots=True)
class YarnPage:
    """The yarn of the page: as judged, the wish that rules it out, and how it may be chosen."""

    made: Answered
    candidate: Candidate
    shelf: Mapping[str, ShelfYarn]
    ruled_out: Message | None
    cautions: tuple[Caution, ...]
    choice: YarnSelection

    def answer(self) -> Answer:
        """Returns the answer with this yarn in it, also where a wish rules it out."""
        answer = self.made.answer
        if answer.candidate(self.candidate.sku) is not None:
            return answer
        return replace(answer, candidates=(*answer.candidates, self.candidate))


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
        number = _make(looked, choice)
    except (SlipRefused, SelectionError) as refused:
        return _page(looked, [f"{capital(refused.wrong)}; {refused.right}"]), 422
    return redirect(url_for("slips.slip", number=number), 303)


def _make(looked: YarnPage, choice: Selection) -> int:
    form = looked.choice.form
    order = SlipOrder(
        ask_document=looked.made.document,
        choice=choice,
        staff=form.staff.typed,
        on=datetime.now().astimezone().date(),
        language=form.language.data,
        paper=form.paper.data,
        customer_name=form.customer_name.typed or None,
        supersedes=looked.choice.supersedes(),
        request_key=str(form.key.data or "")[:LONGEST_KEY] or None,
        contact=looked.choice.contact(),
        branch=own_branch(),
    )
    with writing(engine()) as session:
        return make_slip(session, looked.answer(), looked.shelf, order).summary.number


def _look(token: str) -> YarnPage:
    made, sku = answered(token), request.args.get("sku", "")
    candidate, taken = made.answer.candidate(sku), None
    apart = judged_apart(made.ask, [sku]).get(sku) if candidate is None else None
    if apart is not None:
        candidate, taken = apart.candidate, apart.unmet
    shelf = _shelf(sku, candidate)
    if candidate is None or sku not in shelf:
        abort(404, "The shelf has no such yarn on offer.")
    both = (*candidate.cautions, *made.answer.cautions)
    cautions = tuple({caution.code: caution for caution in both}.values())
    choice = YarnSelection(candidate, here_first(shelf[sku]), cautions, settings())
    choice.elsewhere = elsewhere(shelf[sku])
    return YarnPage(made, candidate, shelf, taken, cautions, choice)


def _shelf(sku: str, candidate: Candidate | None) -> dict[str, ShelfYarn]:
    """Returns the yarn and the one it is held with, by SKU, as far as the shelf has them."""
    second = candidate.companion.sku if candidate and candidate.companion else None
    with reading(engine()) as session:
        found = [shelf_yarn(session, wanted) for wanted in (sku, second) if wanted]
    return {yarn.sku: yarn for yarn in found if yarn is not None}


def _page(looked: YarnPage, homeless: Sequence[str] = ()) -> str:
    return render_template(
        "yarn.html",
        looked=looked,
        homeless=homeless,
        candidate=looked.candidate,
        choice=looked.choice,
        form=looked.choice.form,
        drawing=fabric_drawing(looked.made.ask, looked.candidate),
    )
