"""The shelf: finding yarns as one types or scans, a yarn's page, and the label check."""

from flask import Blueprint, abort, make_response, redirect, render_template, request, url_for
from werkzeug.wrappers import Response

from shopdesk.answering.label.check import check_label, check_labels
from shopdesk.counter.evidence import profile_evidence
from shopdesk.counter.forms.shelf_finding_form import ShelfFindingForm
from shopdesk.counter.forms.unlabelled_form import UnlabelledForm
from shopdesk.counter.pictures.label_map import label_map
from shopdesk.counter.request import counter_reader, engine, settings
from shopdesk.craft.care import care_sayings
from shopdesk.craft.yarn import CareLabel
from shopdesk.shelf.loading import shelf_yarn, shelf_yarns
from shopdesk.shelf.search import find_yarns, sku_of, suggest
from shopdesk.shelf.yarn_view import YarnView, yarn_view
from shopdesk.slips.papers import PaperUnknown
from shopdesk.slips.tickets import draw_tickets, ticket_of, ticket_papers
from shopdesk.store.database import reading

pages = Blueprint("shelf", __name__)

LONGEST_TYPED = 80
MOST_TICKETS = 400


@pages.get("/shelf")
def shelf() -> Response | str | tuple[str, int]:
    """Shows what is found; a scanned barcode or a whole article number leads to its yarn."""
    form = ShelfFindingForm(formdata=request.args)
    wish = form.wish()
    if wish is None:
        return render_template("shelf.html", form=form, found=None), 422
    with reading(engine()) as session:
        sku = sku_of(session, wish.text) if wish.text else None
        if sku is not None:
            return redirect(url_for("shelf.yarn", sku=sku), 303)
        found = find_yarns(session, wish)
    return render_template("shelf.html", form=form, found=found)


@pages.get("/shelf/suggest")
def suggestions() -> str:
    """Gives the first yarns that go on from what is being typed, as a piece of the page."""
    with reading(engine()) as session:
        found = suggest(session, request.args.get("q", "")[:LONGEST_TYPED])
    return render_template("shelf/suggestions.html", found=found)


@pages.get("/shelf/yarn")
def yarn() -> str:
    """Shows all that is known of the yarn `?sku=`."""
    view = view_of(request.args.get("sku", ""))
    checked = check_label(view.yarn)
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
    with reading(engine()) as session:
        checked = check_labels(shelf_yarns(session, with_stock=False))
    return render_template(
        "shelf/check.html",
        questioned=[one for one in checked if one.findings],
        count=len(checked),
        map=label_map(checked),
    )


@pages.get("/shelf/unlabelled")
def without_label() -> str | tuple[str, int]:
    """Shows what a yarn without a label may be, from what was measured on it."""
    form = UnlabelledForm(formdata=request.args)
    found = form.found() if request.args else None
    figures = profile_evidence(found.profile, counter_reader()) if found else ()
    page = render_template("shelf/unlabelled.html", form=form, found=found, figures=figures)
    return (page, 422) if request.args and found is None else page


@pages.get("/shelf/tickets.pdf")
def tickets() -> Response:
    """Gives shelf tickets of the yarns `?sku=` (as often as wanted) on `?paper=`."""
    skus = request.args.getlist("sku")[:MOST_TICKETS]
    with reading(engine()) as session:
        found = [one for sku in skus if (one := shelf_yarn(session, sku)) is not None]
    if not found:
        abort(404, "There is no yarn of this article number on the shelf.")
    reader = settings().reader()
    try:
        pdf = draw_tickets(
            [ticket_of(one, reader) for one in found], request.args.get("paper", ticket_papers()[0])
        )
    except PaperUnknown as unknown:
        abort(400, str(unknown))
    answer = make_response(pdf)
    answer.mimetype = "application/pdf"
    answer.headers["Content-Disposition"] = 'inline; filename="tickets.pdf"'
    return answer


def view_of(sku: str) -> YarnView:
    """Returns one yarn's page as data, or ends the request: there is no such yarn."""
    with reading(engine()) as session:
        view = yarn_view(session, sku)
    if view is None:
        abort(404, "There is no yarn of this article number on the shelf.")
    return view
