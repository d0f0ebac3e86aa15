"""Forms that a file is chosen with: a table to be taken in, and a pattern to be read."""

from collections.abc import Iterable, Mapping

from flask_wtf import FlaskForm
from wtforms import FileField, TextAreaField

from shopdesk.counter.forms.fields import OneOfField, PickField, TextField
from shopdesk.exchange.importing import KINDS
from shopdesk.patterns.tokens.lexicon import LANGUAGES
from shopdesk.reference.languages import languages

KIND_WORDS = {
    "yarns": "Yarns",
    "colours": "Colours of yarns",
    "stock": "A count of stock",
    "deliveries": "A delivery",
}


class UploadForm(FlaskForm):
    """A file, what its lines are, and what holds for all of them."""

    file = FileField("File", description="CSV or .xlsx, up to 32 MB.")
    kind = OneOfField(
        "Its lines are", [(kind, KIND_WORDS[kind]) for kind in KINDS], default="yarns"
    )
    delivery = TextField("Delivery note", "Of a delivery without such a column.")
    branch = TextField("Branch", "Of lines that name none; empty: the first branch.")


def chosen_fields(
    headings: Iterable[tuple[str, str | None]], sent: Mapping[str, str]
) -> dict[str, str]:
    """Returns the headings whose field was chosen otherwise than it is, with the new field."""
    chosen = {}
    for place, (heading, now) in enumerate(headings):
        key = sent.get(f"column-{place}")
        if key is not None and key != (now or ""):
            chosen[heading] = key
    return chosen


class PatternTextForm(FlaskForm):
    """The pattern's own words; they are read and not kept."""

    text = TextAreaField(
        "Text of the pattern",
        description="Materials, gauge, sizes; the working instructions are not needed.",
        render_kw={"rows": 8, "autocomplete": "off", "spellcheck": "false"},
    )
    file = FileField("or its file", description="A PDF with text, or a text file; up to 20 MB.")
    language = PickField(
        "Language",
        [("", "told from its words"), *((key, languages()[key].name) for key in LANGUAGES)],
        default="",
    )
