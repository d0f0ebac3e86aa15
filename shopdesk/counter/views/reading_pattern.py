"""The pattern's own words: pasted or uploaded, read, and the counter's form filled from them."""

from flask import Blueprint, request
from werkzeug.datastructures import FileStorage, MultiDict

from shopdesk.counter.forms.ask_form import AskForm
from shopdesk.counter.forms.pattern_text_form import PatternTextForm
from shopdesk.counter.source_panel import form_data
from shopdesk.counter.views.asking import counter_page
from shopdesk.patterns.reading import PatternReading
from shopdesk.patterns.text.cleaning import TextRefused
from shopdesk.services.pattern_texts import read_pattern_text

pages = Blueprint("reading_pattern", __name__)


@pages.get("/pattern")
def paste() -> str:
    """Shows the counter with the place for the pattern's text open."""
    return counter_page(AskForm(formdata=None), paste=PatternTextForm(formdata=None), opened=True)


@pages.post("/pattern")
def read() -> str | tuple[str, int]:
    """Reads the text or file and shows the form filled from it, with the words beside it.

    Nothing of the text is kept: the page itself carries it until the form is sent.
    """
    sent = PatternTextForm()
    try:
        found = _reading(sent)
    except TextRefused as refusal:
        box = sent.file if _file() is not None else sent.text
        box.errors = [str(refusal)]
        return counter_page(AskForm(formdata=None), paste=sent, opened=True), 422
    if not found.readings:
        sent.text.data = found.text
        sent.text.errors = ["nothing a pattern says was found here; paste its materials and gauge"]
        return counter_page(AskForm(formdata=None), paste=sent, opened=True), 422
    form = AskForm(formdata=MultiDict(form_data(found)))
    return counter_page(form, source=found, start_at="source")


def _file() -> FileStorage | None:
    file = request.files.get("file")
    return file if file is not None and file.filename else None


def _reading(sent: PatternTextForm) -> PatternReading:
    file = _file()
    given = file.read() if file is not None else str(sent.text.data or "")
    return read_pattern_text(given, sent.language.data)
