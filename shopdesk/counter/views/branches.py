"""The house's branches, and skeins on their way from one to another."""

from flask import Blueprint, flash, redirect, render_template, url_for
from werkzeug.wrappers import Response

from shopdesk.counter.forms.hold_forms import BranchForm, TransferForm
from shopdesk.counter.request import engine
from shopdesk.services.asks import new_request_key
from shopdesk.services.branches import BranchRefused, Transfer, add_branch, send
from shopdesk.services.branches import branches as branches_of
from shopdesk.shelf.branch_lots import StockRefused
from shopdesk.shelf.writing import writing
from shopdesk.store.database import reading

pages = Blueprint("branches", __name__)


@pages.get("/branches")
def branches() -> str:
    """Shows the branches and the forms to add one and to send skeins."""
    form = TransferForm(formdata=None)
    form.key.data = new_request_key()
    return _page(form, BranchForm(formdata=None))


@pages.post("/branches")
def add() -> Response | tuple[str, int]:
    """Adds a branch."""
    form = BranchForm()
    try:
        with writing(engine()) as session:
            made = add_branch(session, form.code.typed, form.name.typed)
    except BranchRefused as refusal:
        form.code.errors = [_sentence(refusal)]
        return _page(TransferForm(formdata=None), form), 422
    flash(f"There is a branch {made.shown} now.")
    return redirect(url_for("branches.branches"), 303)


@pages.post("/branches/transfer")
def transfer() -> Response | tuple[str, int]:
    """Sends skeins to another branch; sent twice it does so once."""
    form, empty = TransferForm(), BranchForm(formdata=None)
    if not form.skeins.validate(form):
        return _page(form, empty), 422
    skeins, target = int(form.skeins.number or 0), form.to_branch.data or ""
    wanted = Transfer(form.where(), target, skeins, form.staff.typed, form.key.data or None)
    try:
        with writing(engine()) as session:
            left = send(session, wanted)
    except StockRefused as refusal:
        return _page(form, empty, [_sentence(refusal)]), 422
    flash(f"{skeins} sent to {target}; {left} are free where they came from.")
    return redirect(url_for("branches.branches"), 303)


def _sentence(refusal: Exception) -> str:
    words = str(refusal)
    return words[:1].upper() + words[1:]


def _page(form: TransferForm, new: BranchForm, homeless: list[str] | None = None) -> str:
    with reading(engine()) as session:
        found = branches_of(session)
    form.offer(found)
    return render_template(
        "branches.html", branches=found, form=form, new=new, homeless=homeless or [],
        boxes=[form.skeins, new.code],
    )  # fmt: skip
