"""What is left over: unopened skeins back on the shelf, and the metres in a part-ball."""

from flask import Blueprint, abort, flash, redirect, render_template, request, url_for
from werkzeug.wrappers import Response

from shopdesk.counter.forms.left_over_forms import ReturnForm, ScaleForm
from shopdesk.counter.request import asked_branch, engine, other_branch, own_branch
from shopdesk.craft.figures import Figure
from shopdesk.services.asks import new_request_key
from shopdesk.services.leftovers import (
    BroughtBack,
    ReturnRefused,
    ReturnView,
    bring_back,
    part_ball,
    returns_of,
)
from shopdesk.services.sales import SlipUnknown
from shopdesk.shelf.branch_lots import StockRefused
from shopdesk.shelf.loading import shelf_yarn
from shopdesk.shelf.writing import writing
from shopdesk.store.database import reading

pages = Blueprint("left_over", __name__)


@pages.get("/left-over")
def scale() -> str | tuple[str, int]:
    """Shows the metres that a part-ball holds (?sku=&grams=)."""
    form = ScaleForm(formdata=request.args if request.args else None)
    metres = _weighed(form) if request.args else None
    boxes = [form.sku, form.grams]
    page = render_template("left_over.html", form=form, metres=metres, boxes=boxes)
    return (page, 422) if form.sku.errors or form.grams.errors else page


@pages.get("/slips/<int:number>/returns")
def returns(number: int) -> str:
    """Shows what may come back of a slip by the shop's rule."""
    form = ReturnForm(formdata=None)
    form.key.data = new_request_key()
    return _page(number, form)


@pages.post("/slips/<int:number>/returns")
def take_back(number: int) -> Response | tuple[str, int]:
    """Puts unopened skeins back on the shelf; sent twice it does so once."""
    form = ReturnForm()
    view = _view(number)
    form.offer(view)
    place = form.lot.data or ""
    if not form.skeins.validate(form) or place not in map(str, range(len(view.lines))):
        return _page(number, form), 422
    where, skeins = view.lines[int(place)].where, int(form.skeins.number or 0)
    try:
        with writing(engine()) as session:
            brought = BroughtBack(
                number,
                where,
                skeins,
                form.staff.typed,
                into=own_branch(),
                request_key=form.key.data or None,
            )
            bring_back(session, brought)
    except (ReturnRefused, StockRefused) as refusal:
        form.skeins.errors = [f"{refusal.wrong[:1].upper()}{refusal.wrong[1:]}; {refusal.right}"]
        return _page(number, form), 422
    flash(f"Back on the shelf: {skeins} of {where}.")
    return redirect(url_for("left_over.returns", number=number, branch=other_branch()), 303)


def _weighed(form: ScaleForm) -> Figure | None:
    with reading(engine()) as session:
        yarn = shelf_yarn(session, form.sku.typed)
    if yarn is None:
        form.sku.errors = ["There is no such yarn; check the article number"]
    if not form.grams.validate(form) or yarn is None:
        return None
    try:
        metres = part_ball(yarn, float(form.grams.number or 0))
    except ReturnRefused as refusal:
        form.grams.errors = [f"{refusal.wrong.capitalize()}; {refusal.right}"]
        return None
    if metres is None:
        form.sku.errors = ["The length of this yarn is not known; weigh a measured length first"]
    return metres


def _view(number: int) -> ReturnView:
    branch = asked_branch()
    try:
        with reading(engine()) as session:
            return returns_of(session, min(number, 2**31 - 1), branch)
    except SlipUnknown as refusal:
        abort(404, str(refusal))


def _page(number: int, form: ReturnForm) -> str:
    view = _view(number)
    form.offer(view)
    return render_template("returns.html", view=view, form=form, boxes=[form.lot, form.skeins])
