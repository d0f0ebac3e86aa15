"""One more skein of a lot: where it is, and how another lot is blended in."""

from flask import Blueprint, render_template, request

from shopdesk.counter.forms.after_sale_forms import OneMoreForm
from shopdesk.counter.refusals import problem_sentence
from shopdesk.counter.request import asked_branch, shop
from shopdesk.craft.errors import InputError
from shopdesk.services.one_more import SkeinsFound, find_one_more

pages = Blueprint("one_more", __name__)


@pages.get("/one-more")
def one_more() -> str | tuple[str, int]:
    """Shows the form, and what was found for it."""
    form, found = OneMoreForm(formdata=request.args), SkeinsFound()
    if form.find.typed:
        try:
            found = find_one_more(shop(), form.sought(asked_branch()))
        except InputError as refusal:
            for problem in refusal.problems:
                form[problem.place or "find"].errors = [problem_sentence(problem)]
    page = render_template(
        "one_more.html", form=form, found=found.found, colours=found.colours,
        boxes=[form.find, form.colour, form.lot],
    )  # fmt: skip
    return (page, 422) if form.find.errors or form.colour.errors else page
