"""The form that a pattern's text is pasted into, or its file chosen with."""

from flask_wtf import FlaskForm
from wtforms import FileField, TextAreaField

from shopdesk.counter.forms.fields import PickField
from shopdesk.patterns.tokens.lexicon import LANGUAGES
from shopdesk.reference.languages import languages


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
