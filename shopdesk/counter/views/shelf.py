"""The shelf: finding yarns as one types or scans, a yarn's page, and the label check."""

from flask import Blueprint, make_response, redirect, render_template, request, url_for
from werkzeug.wrappers import Response

from shopdesk.counter.evidence import profile_evidence
from shopdesk.counter.forms.shelf_forms import ShelfFindingForm, UnlabelledForm
from shopdesk.counter.pictures.label_map import label_map
from shopdesk.counter.refusals import refuse_page, show_problems
from shopdesk.counter.request import counter_reader, shop
from shopdesk.craft.care import care_sayings
from shopdesk.craft.errors import InputErrors
from shopdesk.craft.messages import message
from shopdesk.craft.yarn import CareLabel
from shopdesk.services.labels import check_shelf, check_yarn, identify_yarn, print_tickets
from shopdesk.services.yarn_finding import find_yarns, identify_scan, show_yarn, suggest_yarns
from shopdesk.shelf.loading import YarnUnknown
from shopdesk.shelf.yarn_view import YarnView
from shopdesk.slips.papers import PaperUnknown
from shopdesk.slips.tickets import ticket_papers

pages = Blueprint("shelf", __name__)

NOT_THERE = message("problem_page.no_yarn")


@pages.get("/shelf")
def shelf() -> Response | str | tuple[str, int]:
    """Shows what is found; a scanned barcode or a whole article number leads to its yarn."""
    form = ShelfFindingForm(formdata=request.args)
    wish = form.wish()
    if wish is None:
        return render_template("shelf.html", form=form, found=None), 422
    sku = identify_scan(shop(), wish.text)
    if sku is not None:
        return redirect(url_for("shelf.yarn", sku=sku), 303)
    return render_template("shelf.html", form=form, found=find_yarns(shop(), wish))


@pages.get("/shelf/suggest")
def suggestions() -> str:
    """Gives the first yarns that go on from what is being typed, as a piece of the page."""
    found = suggest_yarns(shop(), request.args.get("q", ""))
    return render_template("shelf/suggestions.html", found=found)


@pages.get("/shelf/yarn")
def yarn() -> str:
    """Shows all that is known of the yarn `?sku=`."""
    view = view_of(request.args.get("sku", ""))
    checked = check_yarn(shop(), view.yarn.sku)
    return render_template(
        "shelf/yarn.html",
        view=view,
        papers=ticket_papers(),
        checked=checked,
        figures=profile_evidence(checked.profile, counter_reader()),
        care=care_sayings(view.yarn.label.care or CareLabel()),
    )


@pages.get("/shelf/check")
def check() -> str:
    """Shows the label check of the whole shelf, the worst first."""
    checked = check_shelf(shop())
    return render_template(
        "shelf/check.html",
        questioned=[one for one in checked if one.findings],
        count=len(checked),
        map=label_map(checked),
    )


@pages.get("/shelf/unlabelled")
def without_label() -> str | tuple[str, int]:
    """Shows what a yarn without a label may be, from what was measured on it."""
    form, found = UnlabelledForm(formdata=request.args), None
    if request.args:
        try:
            found = identify_yarn(form.typed())
        except InputErrors as refusal:
            show_problems(form, refusal.problems)
    figures = profile_evidence(found.profile, counter_reader()) if found else ()
    page = render_template("shelf/unlabelled.html", form=form, found=found, figures=figures)
    return (page, 422) if request.args and found is None else page


@pages.get("/shelf/tickets.pdf")
def tickets() -> Response:
    """Gives shelf tickets of the yarns `?sku=` (as often as wanted) on `?paper=`."""
    try:
        paper = request.args.get("paper", ticket_papers()[0])
        pdf = print_tickets(shop(), request.args.getlist("sku"), paper)
    except YarnUnknown:
        refuse_page(404, NOT_THERE)
    except PaperUnknown as unknown:
        refuse_page(400, unknown)
    answer = make_response(pdf)
    answer.mimetype = "application/pdf"
    answer.headers["Content-Disposition"] = 'inline; filename="tickets.pdf"'
    return answer


def view_of(sku: str) -> YarnView:
    """Returns one yarn's page as data, or ends the request: there is no such yarn."""
    try:
        return show_yarn(shop(), sku)
    except YarnUnknown:
        refuse_page(404, NOT_THERE)
