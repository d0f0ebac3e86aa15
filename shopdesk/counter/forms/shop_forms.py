"""The shop's settings, and signing in, carrying on with what was typed when a session ended."""

import json
from collections.abc import Iterable

from flask_wtf import FlaskForm
from wtforms import HiddenField, PasswordField, TextAreaField

from shopdesk.counter.forms.fields import NumberField, OneOfField, PickField, TextField
from shopdesk.parsing.json_text import JsonRefused, read_json
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


OUR_OWN = ("csrf_token",)


class SigningForm(FlaskForm):
    """`back` is where staff wanted to go; `sent` holds the boxes that were sent there."""

    passphrase = PasswordField("Passphrase", render_kw={"autocomplete": "current-password"})
    back = HiddenField()
    sent = HiddenField()

    def keep(self, pairs: Iterable[tuple[str, str]]) -> None:
        """Takes the boxes of another form along."""
        self.sent.data = json.dumps([pair for pair in pairs if pair[0] not in OUR_OWN])

    def kept(self) -> list[tuple[str, str]]:
        """Returns the boxes that were taken along; none if they are not as `keep` wrote them."""
        try:
            pairs = read_json((self.sent.data or "[]").encode(errors="replace"))
        except JsonRefused:
            return []
        if not isinstance(pairs, list):
            return []
        return [
            (pair[0], pair[1])
            for pair in pairs
            if isinstance(pair, list) and len(pair) == 2 and all(isinstance(p, str) for p in pair)
        ]
