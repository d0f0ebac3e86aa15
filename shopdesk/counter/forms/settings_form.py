"""The shop's settings as a form: its only way out is the texts that `read_settings` takes."""

from flask_wtf import FlaskForm
from wtforms import HiddenField, TextAreaField

from shopdesk.counter.forms.fields import NumberField, OneOfField, PickField, TextField
from shopdesk.slips.papers import papers
from shopdesk.wording.formatting import LANGUAGES

_DAYS = "In days."


class SettingsForm(FlaskForm):
    """Every box is named as its setting; `seen` tells the settings that the page was made from."""

    seen = HiddenField()
    shop_name = TextField("Shop’s name", render_kw={"autocomplete": "organization"})
    address = TextAreaField("Address", description="As it stands on the slip.")
    return_wording = TextAreaField("Return rule", description="Stands on the slip; may be empty.")
    currency = TextField("Currency", "ISO 4217 code, such as EUR.")
    tax_included = OneOfField("Prices", [("yes", "With tax"), ("no", "Without tax")], default="yes")
    units = OneOfField("Units", [("metric", "Metric"), ("imperial", "Imperial"), ("both", "Both")])
    crochet_terms = OneOfField("Crochet terms", [("US", "US"), ("UK", "UK")])
    paper = PickField("Paper of the slip", [(key, paper.name) for key, paper in papers().items()])
    allowance_percent = NumberField("Allowance", "Percent on top of the need.")
    country = TextField("Country", "Code such as GB, US, DE. Empty: the strictest rules.")
    language = TextField(
        "Language of the slip", f"Such as en-GB; texts are in {', '.join(LANGUAGES)}."
    )
    return_days = NumberField("Unopened skeins come back for", "In days; 0: none do.")
    hold_days = NumberField("A hold lasts", _DAYS)
    swatch_reminder_days = NumberField("Ask after the swatch", _DAYS)
    keep_names_days = NumberField("Keep names for", _DAYS)

    def texts(self) -> dict[str, str]:
        """Returns what was typed, by the setting's name."""
        return {
            name: str(field.data or "")
            for name, field in self._fields.items()
            if name not in ("seen", "csrf_token")
        }
