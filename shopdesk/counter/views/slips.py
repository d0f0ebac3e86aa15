"""Slips that went home: read on the page, printed again as PDF, found by number, day or name."""

from collections.abc import Sequence
from typing import Any

from flask import (
    Blueprint,
    flash,
    make_response,
    redirect,
    render_template,
    request,
    url_for,
)
from werkzeug.wrappers import Response

from shopdesk.answering.ask.ask_sizes import SizeUnknown
from shopdesk.counter.forms.choice_form import slip_languages
from shopdesk.counter.forms.finding_form import FindingForm
from shopdesk.counter.refusals import refuse_page
from shopdesk.counter.request import (
    asked_branch,
    known_branches,
    other_branch,
    own_branch,
    settings,
    shop,
)
from shopdesk.craft.messages import message
from shopdesk.services.slip_records import SlipRecord
from shopdesk.services.slips import ask_again, find_slips, show_slip
from shopdesk.services.swatches import list_swatches
from shopdesk.slips.papers import PaperUnknown, papers

pages = Blueprint("slips", __name__)


@pages.get("/slips")
def slips() -> str:
    """Shows the latest slips and how to find others."""
    return _list(FindingForm(formdata=None))


@pages.post("/slips")
def find() -> Response | str | tuple[str, int]:
    """Finds slips; nothing is changed. The name is sent in the body, so that no log has it."""
    form = FindingForm()
    form.offer(known_branches())
    if not form.check():
        return _list(form), 422
    number = int(form.number.number or 0)
    if number:
        branch = other_branch(form.branch.data or None)
        return redirect(url_for("slips.slip", number=number, branch=branch), 303)
    return _list(form, on=form.day_read(), name=form.name.typed or None)


@pages.get("/slips/<int:number>")
def slip(number: int) -> str:
    """Shows one slip as it went home."""
    record = _record(number)
    language = _language(record)
    swatches = list_swatches(shop().in_branch(asked_branch()), number)
    return render_template(
        "slip.html",
        record=record,
        words=record.words_in(language),
        language=language or record.reader.language,
        languages=slip_languages(record.reader.language),
        papers=papers(),
        swatches=swatches,
    )


@pages.get("/slips/<int:number>.pdf")
def pdf(number: int) -> Response:
    """Gives the slip as a PDF, on its own paper and in its own language unless asked otherwise."""
    record = _record(number)
    try:
        drawn = record.pdf(request.args.get("paper") or None, _language(record))
    except PaperUnknown as unknown:
        refuse_page(400, unknown)
    answer = make_response(drawn)
    answer.mimetype = "application/pdf"
    answer.headers["Content-Disposition"] = f'inline; filename="slip-{number}.pdf"'
    return answer


@pages.post("/slips/<int:number>/again")
def again(number: int) -> Response:
    """Keeps the slip's ask once more, or for another `size`, and leads to its answer today."""
    size = request.form.get("size", "")
    try:
        asked = ask_again(shop(), _record(number), size)
    except SizeUnknown as unknown:
        refuse_page(400, unknown)
    if size:
        flash(_of_size(size, asked.left_open))
    return redirect(url_for("answers.answer", token=asked.token), 303)


def _of_size(size: str, left_open: Sequence[str]) -> str:
    told = f"Asked again for size {size}."
    if not left_open:
        return told
    return f"{told} Known for the old size only, and left open now: {', '.join(left_open)}."


def _record(number: int) -> SlipRecord:
    record = show_slip(shop().in_branch(asked_branch()), number)
    if record is None:
        refuse_page(404, message("problem_page.no_slip", number=number))
    return record


def _language(record: SlipRecord) -> str | None:
    """Returns the language asked for, or None for the slip's own."""
    wanted = request.args.get("language") or None
    offered = [tag for tag, _ in slip_languages(record.reader.language)]
    if wanted is not None and wanted not in offered:
        refuse_page(400, message("problem_page.slip_language", names=", ".join(offered)))
    return wanted


def _list(form: FindingForm, **wanted: Any) -> str:
    form.offer(known_branches())
    branch = form.branch.data if form.branch.data in form.codes() else own_branch()
    form.branch.data = branch
    found = find_slips(shop().in_branch(branch), **wanted)
    return render_template(
        "slips.html", form=form, found=found, searched=bool(wanted), shop=settings()
    )
