"""The house's branches, and skeins on their way from one to another."""

from flask import Blueprint, flash, redirect, render_template, url_for
from werkzeug.wrappers import Response

from shopdesk.counter.forms.hold_forms import BranchForm, TransferForm
from shopdesk.counter.refusals import said_alone
from shopdesk.counter.request import known_branches, shop
from shopdesk.craft.errors import InputError
from shopdesk.services.asks import new_request_key
from shopdesk.services.branches import add_branch, transfer_skeins

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
        made = add_branch(shop(), form.code.typed, form.name.typed)
    except InputError as refusal:
        form.code.errors = [said_alone(refusal)]
        return _page(TransferForm(formdata=None), form), 422
    flash(f"There is a branch {made.shown} now.")
    return redirect(url_for("branches.branches"), 303)


@pages.post("/branches/transfer")
def transfer() -> Response | tuple[str, int]:
    """Sends skeins to another branch; sent twice it does so once."""
    form, empty = TransferForm(), BranchForm(formdata=None)
    wanted = form.transfer()
    if wanted is None:
        return _page(form, empty), 422
    try:
        left = transfer_skeins(shop(), wanted)
    except InputError as refusal:
        return _page(form, empty, [said_alone(refusal)]), 422
    flash(f"{wanted.skeins} sent to {wanted.to_branch}; {left} are free where they came from.")
    return redirect(url_for("branches.branches"), 303)


def _page(form: TransferForm, new: BranchForm, form_errors: list[str] | None = None) -> str:
    found = known_branches()
    form.offer(found)
    return render_template(
        "branches.html", branches=found, form=form, new=new, form_errors=form_errors or [],
        boxes=[form.skeins, new.code],
    )  # fmt: skip
