"""The form that a table is uploaded with, and the choice of what each column holds."""

from collections.abc import Iterable, Mapping

from flask_wtf import FlaskForm
from wtforms import FileField

from shopdesk.counter.forms.fields import OneOfField, TextField
from shopdesk.exchange.importing import KINDS

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
