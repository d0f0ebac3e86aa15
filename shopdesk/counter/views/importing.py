"""Tables in and out: upload, what the columns hold, the dry run, apply, undo, export."""

from collections.abc import Iterator
from typing import cast

from flask import Blueprint, Response, abort, current_app, flash, redirect, request, url_for
from flask import render_template as render
from werkzeug.wrappers import Response as AnyResponse

from shopdesk.counter.forms.file_forms import UploadForm, chosen_fields
from shopdesk.counter.jobs import Job, Jobs
from shopdesk.counter.refusals import refuse_box, refuse_page, said_alone
from shopdesk.counter.request import shop
from shopdesk.craft.errors import InputError
from shopdesk.craft.messages import message
from shopdesk.exchange.exporting import EXPORTS
from shopdesk.exchange.importing import KINDS, LinesRefused
from shopdesk.exchange.lines import FileDefaults
from shopdesk.exchange.reports import Report
from shopdesk.exchange.undoing import UndoRefused
from shopdesk.exchange.uploads import Upload
from shopdesk.services.table_files import (
    UploadUnknown,
    choose_columns,
    column_fields,
    export_table,
    find_upload,
    import_of_upload,
    list_imports,
    look_at_upload,
    take_in_upload,
    undo_import,
    upload_headings,
    upload_table,
)

pages = Blueprint("importing", __name__)

SECONDS_TO_WAIT = 2.0
MOST_LINES = 100
_JOBS = "shopdesk_imports"
_NOT_IMPORTED = message("problem_page.not_imported")


@pages.get("/imports")
def imports() -> str:
    """Shows the form for a file, the imports that were made, and the exports."""
    return _imports(UploadForm(formdata=None))


@pages.post("/imports")
def upload() -> AnyResponse | tuple[str, int]:
    """Keeps a file and goes on to what it would do."""
    form = UploadForm()
    file = request.files.get("file")
    if file is None or not file.filename:
        refuse_box(form.file, message("problem_form.no_file"), message("problem_form.choose_file"))
    if form.kind.data not in KINDS:
        refuse_box(form.kind, message("problem_form.choose_lines"))
    if file is None or form.file.errors or form.kind.errors:
        return _imports(form), 422
    wishes = FileDefaults(form.branch.typed, form.delivery.typed)
    name, content = file.filename or "", file.read()
    token = upload_table(shop(), str(form.kind.data), name, content, wishes)
    return redirect(url_for("importing.look", token=token), 303)


@pages.get("/imports/<token>")
def look(token: str) -> str | AnyResponse | tuple[str, int]:
    """Shows what a file would do, how far the work on it is, or what it did."""
    found, here = _upload(token), shop()
    done = _done_page(token)
    if done is not None:
        return done
    applying = _jobs().find(f"apply {token}")
    job = applying or _jobs().begin(f"look {token}", lambda show: look_at_upload(here, found, show))
    if not job.ended(SECONDS_TO_WAIT):
        page = render("import_running.html", upload=found, job=job, applying=applying is not None)
        return Response(page, headers={"Refresh": "1"})
    for name in ("apply", "look"):
        _jobs().take_away(f"{name} {token}")
    return _outcome(found, job)


@pages.post("/imports/<token>")
def decide(token: str) -> AnyResponse:
    """Changes what the columns hold, or takes the file in."""
    found, here = _upload(token), shop()
    do = request.form.get("do", "")
    if _done_page(token) is not None:
        return redirect(url_for("importing.look", token=token), 303)
    if do in ("apply", "apply-rest"):
        without = do == "apply-rest"
        _jobs().begin(f"apply {token}", lambda show: take_in_upload(here, found, without, show))
    elif do == "columns":
        _keep_columns(found)
        _jobs().take_away(f"look {token}")
    else:
        abort(400)
    return redirect(url_for("importing.look", token=token), 303)


@pages.post("/imports/undo")
def undo_last() -> AnyResponse:
    """Undoes the latest import, if it is still the one that the page showed."""
    number = request.form.get("number", "")
    if not (number.isascii() and number.isdecimal() and len(number) < 10):
        abort(400)
    try:
        done = undo_import(shop(), int(number))
        flash(f"Import {done.number} of {done.kind} is undone.")
    except UndoRefused as refusal:
        sentence = refusal.problem.sentence
        flash(said_alone(message("problem_page.not_undone", sentence=sentence)))
    return redirect(url_for("importing.imports"), 303)


@pages.get("/exports/<kind>.csv")
def export(kind: str) -> Response:
    """Sends a table of the shelf, as the import takes it back."""
    if kind not in EXPORTS:
        abort(404)
    lines = export_table(shop(), kind)

    def marked() -> Iterator[str]:
        yield "\ufeff"
        yield from lines

    sent = Response(marked(), mimetype="text/csv")
    sent.headers["Content-Disposition"] = f"attachment; filename={kind}.csv"
    return sent


def _imports(form: UploadForm) -> str:
    found = list_imports(shop())
    return render(
        "imports.html", form=form, runs=found.runs, last=found.last, exports=list(EXPORTS)
    )


def _upload(token: str) -> Upload:
    try:
        return find_upload(shop(), token)
    except UploadUnknown:
        refuse_page(404, message("problem_page.upload_gone"))


def _jobs() -> Jobs[Report]:
    return cast(Jobs[Report], current_app.extensions.setdefault(_JOBS, Jobs()))


def _done_page(token: str) -> str | None:
    found = import_of_upload(shop(), token)
    return None if found is None else render("import_done.html", run=found.runs[0], last=found.last)


def _outcome(found: Upload, job: Job[Report]) -> str | tuple[str, int]:
    """Shows how a job ended: a report, why the file cannot be read, or the import it made."""
    try:
        report = job.result()
    except LinesRefused as refused:
        return _report_page(found, refused.report, said_alone(_NOT_IMPORTED))
    except InputError as refusal:
        return _refusal_page(found, refusal)
    return _done_page(found.token) or _report_page(found, report)


def _report_page(found: Upload, report: Report, told: str = "") -> tuple[str, int]:
    page = render(
        "import.html", upload=found, report=report, told=told, columns=report.columns,
        keys=column_fields(shop(), found.kind), most=MOST_LINES,
    )  # fmt: skip
    return page, 200


def _refusal_page(found: Upload, refusal: InputError) -> tuple[str, int]:
    page = render(
        "import.html", upload=found, report=None, told=said_alone(refusal),
        columns=upload_headings(shop(), found), keys=column_fields(shop(), found.kind),
        most=MOST_LINES,
    )  # fmt: skip
    return page, 422


def _keep_columns(found: Upload) -> None:
    chosen = chosen_fields(upload_headings(shop(), found), request.form)
    try:
        choose_columns(shop(), found, chosen)
    except InputError:
        abort(400)
