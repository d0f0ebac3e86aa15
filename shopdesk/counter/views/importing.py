"""Tables in and out: upload, what the columns hold, the dry run, apply, undo, export."""

from collections.abc import Iterator
from contextlib import suppress
from typing import cast

from flask import Blueprint, Response, abort, current_app, flash, redirect, request, url_for
from flask import render_template as render
from sqlalchemy import Engine, select
from werkzeug.wrappers import Response as AnyResponse

from shopdesk.counter.forms.upload_form import UploadForm, chosen_fields
from shopdesk.counter.jobs import Job, Jobs, Progress
from shopdesk.counter.request import engine
from shopdesk.craft.errors import InputError
from shopdesk.exchange.columns import read_said
from shopdesk.exchange.exporting import EXPORTS, csv_lines
from shopdesk.exchange.importing import KINDS, LinesRefused, dry_run, import_file
from shopdesk.exchange.lines import FileDefaults
from shopdesk.exchange.problems import FileRefused
from shopdesk.exchange.reports import Report
from shopdesk.exchange.undoing import UndoRefused, last_import, undo
from shopdesk.exchange.uploads import (
    Upload,
    headings_of,
    import_of,
    keep_upload,
    on_disk,
    say_of_upload,
    upload_fields,
    upload_of,
)
from shopdesk.shelf.writing import writing
from shopdesk.store.database import reading
from shopdesk.store.models import ImportRun

pages = Blueprint("importing", __name__)

SECONDS_TO_WAIT = 2.0
MOST_LISTED = 20
MOST_LINES = 100
_JOBS = "shopdesk_imports"


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
        form.file.errors = ["No file was chosen; choose one"]
    if form.kind.data not in KINDS:
        form.kind.errors = ["Choose what the lines are"]
    if file is None or form.file.errors or form.kind.errors:
        return _imports(form), 422
    wishes = FileDefaults(form.branch.typed, form.delivery.typed)
    with writing(engine()) as session:
        name = file.filename or ""
        token = keep_upload(session, str(form.kind.data), name, file.read(), wishes)
    return redirect(url_for("importing.look", token=token), 303)


@pages.get("/imports/<token>")
def look(token: str) -> str | AnyResponse | tuple[str, int]:
    """Shows what a file would do, how far the work on it is, or what it did."""
    found, shelf = _upload(token), engine()
    done = _done_page(token)
    if done is not None:
        return done
    applying = _jobs().find(f"apply {token}")
    job = applying or _jobs().begin(f"look {token}", lambda show: _look(shelf, found, show))
    if not job.ended(SECONDS_TO_WAIT):
        page = render("import_running.html", upload=found, job=job, applying=applying is not None)
        return Response(page, headers={"Refresh": "1"})
    for name in ("apply", "look"):
        _jobs().take_away(f"{name} {token}")
    return _outcome(found, job)


@pages.post("/imports/<token>")
def decide(token: str) -> AnyResponse:
    """Changes what the columns hold, or takes the file in."""
    found, shelf = _upload(token), engine()
    do = request.form.get("do", "")
    if _done_page(token) is not None:
        return redirect(url_for("importing.look", token=token), 303)
    if do in ("apply", "apply-rest"):
        without = do == "apply-rest"
        _jobs().begin(f"apply {token}", lambda show: _apply(shelf, found, show, without))
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
        done = undo(engine(), int(number))
        flash(f"Import {done.number} of {done.kind} is undone.")
    except UndoRefused as refusal:
        flash(f"Nothing was undone: {refusal}.")
    return redirect(url_for("importing.imports"), 303)


@pages.get("/exports/<kind>.csv")
def export(kind: str) -> Response:
    """Sends a table of the shelf, as the import takes it back."""
    if kind not in EXPORTS:
        abort(404)
    shelf = engine()

    def lines() -> Iterator[str]:
        with reading(shelf) as session:
            yield "\ufeff"
            yield from csv_lines(session, kind)

    sent = Response(lines(), mimetype="text/csv")
    sent.headers["Content-Disposition"] = f"attachment; filename={kind}.csv"
    return sent


def _imports(form: UploadForm) -> str:
    with reading(engine()) as session:
        latest = select(ImportRun).order_by(ImportRun.id.desc()).limit(MOST_LISTED)
        runs = session.scalars(latest).all()
        last = last_import(session)
        return render("imports.html", form=form, runs=runs, last=last, exports=list(EXPORTS))


def _upload(token: str) -> Upload:
    with reading(engine()) as session:
        found = upload_of(session, token)
    if found is None:
        abort(404, "This file is not kept any more; upload it once again.")
    return found


def _jobs() -> Jobs[Report]:
    return cast(Jobs[Report], current_app.extensions.setdefault(_JOBS, Jobs()))


def _look(shelf: Engine, found: Upload, show: Progress) -> Report:
    with on_disk(shelf, found) as source:
        return dry_run(shelf, source, show)


def _apply(shelf: Engine, found: Upload, show: Progress, without_refused: bool) -> Report:
    with on_disk(shelf, found) as source:
        return import_file(
            shelf,
            source,
            without_refused=without_refused,
            request_key=found.token,
            progress=show,
        )


def _done_page(token: str) -> str | None:
    with reading(engine()) as session:
        run, last = import_of(session, token), last_import(session)
        return None if run is None else render("import_done.html", run=run, last=last)


def _outcome(found: Upload, job: Job[Report]) -> str | tuple[str, int]:
    """Shows how a job ended: a report, why the file cannot be read, or the import it made."""
    try:
        report = job.result()
    except LinesRefused as refused:
        return _report_page(found, refused.report, "Nothing was imported: lines are refused.")
    except InputError as refusal:
        return _refusal_page(found, refusal)
    return _done_page(found.token) or _report_page(found, report)


def _report_page(found: Upload, report: Report, told: str = "") -> tuple[str, int]:
    page = render(
        "import.html", upload=found, report=report, told=told, columns=report.columns,
        keys=_keys(found), most=MOST_LINES,
    )  # fmt: skip
    return page, 200


def _refusal_page(found: Upload, refusal: InputError) -> tuple[str, int]:
    columns: tuple[tuple[str, str | None], ...] = ()
    with suppress(FileRefused), on_disk(engine(), found) as source:
        columns = headings_of(engine(), source)
    page = render(
        "import.html", upload=found, report=None, told=str(refusal), columns=columns,
        keys=_keys(found), most=MOST_LINES,
    )  # fmt: skip
    return page, 422


def _keys(found: Upload) -> list[str]:
    with reading(engine()) as session:
        return sorted(field.key for field in upload_fields(session, found.kind))


def _keep_columns(found: Upload) -> None:
    with on_disk(engine(), found) as source:
        headings = headings_of(engine(), source)
    chosen = chosen_fields(headings, request.form)
    with writing(engine()) as session:
        try:
            said = read_said(chosen.items(), upload_fields(session, found.kind))
        except InputError:
            abort(400)
        say_of_upload(session, found.token, {**found.said, **said}, found.wishes)
