"""What is left over: unopened skeins back on the shelf, and the metres in a part-ball."""

from flask import Blueprint, flash, redirect, render_template, request, url_for
from werkzeug.wrappers import Response

from shopdesk.counter.forms.after_sale_forms import ReturnForm, ScaleForm
from shopdesk.counter.refusals import problem_sentence, refuse_page, show_problems
from shopdesk.counter.request import asked_branch, other_branch, shop
from shopdesk.craft.errors import InputError
from shopdesk.services.asks import new_request_key
from shopdesk.services.leftovers import (
    BroughtBack,
    ReturnView,
    may_come_back,
    take_back,
    weigh_remnant,
)
from shopdesk.services.sales import SlipUnknown

pages = Blueprint("leftovers", __name__)


@pages.get("/left-over")
def scale() -> str | tuple[str, int]:
    """Shows the metres that a part-ball holds (?sku=&grams=)."""
    form, metres = ScaleForm(formdata=request.args if request.args else None), None
    if request.args:
        try:
            metres = weigh_remnant(shop(), form.sku.typed, form.grams.typed)
        except InputError as refusal:
            show_problems(form, refusal.problems)
    boxes = [form.sku, form.grams]
    page = render_template("leftovers.html", form=form, metres=metres, boxes=boxes)
    return (page, 422) if form.sku.errors or form.grams.errors else page


@pages.get("/slips/<int:number>/returns")
def returns(number: int) -> str:
    """Shows what may come back of a slip by the shop's rule."""
    form = ReturnForm(formdata=None)
    form.key.data = new_request_key()
    return _page(_view(number), form)


@pages.post("/slips/<int:number>/returns")
def bring_back(number: int) -> Response | tuple[str, int]:
    """Puts unopened skeins back on the shelf; sent twice it does so once."""
    form, view = ReturnForm(), _view(number)
    form.offer(view)
    place = form.lot.data or ""
    if not form.skeins.validate(form) or place not in map(str, range(len(view.lines))):
        return _page(view, form), 422
    where, skeins = view.lines[int(place)].where, int(form.skeins.number or 0)
    brought = BroughtBack(
        number,
        where.colour_code,
        where.lot,
        skeins,
        form.staff.typed,
        slip_branch=asked_branch(),
        request_key=form.key.data or None,
    )
    try:
        take_back(shop(), brought)
    except InputError as refusal:
        form.skeins.errors = [problem_sentence(problem) for problem in refusal.problems]
        return _page(view, form), 422
    flash(f"Back on the shelf: {skeins} of {where}.")
    return redirect(url_for("leftovers.returns", number=number, branch=other_branch()), 303)


def _view(number: int) -> ReturnView:
    try:
        return may_come_back(shop().in_branch(asked_branch()), number)
    except SlipUnknown as refusal:
        refuse_page(404, refusal)


def _page(view: ReturnView, form: ReturnForm) -> str:
    form.offer(view)
    return render_template("returns.html", view=view, form=form, boxes=[form.lot, form.skeins])
