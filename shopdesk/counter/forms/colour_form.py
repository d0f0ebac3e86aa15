"""A new colour of a yarn, as a form of the yarn's page."""

from flask_wtf import FlaskForm
from wtforms import BooleanField

from shopdesk.counter.forms.fields import PickField, TextField, choices_of
from shopdesk.craft.colours import colour_families
from shopdesk.exchange.columns import Values
from shopdesk.parsing.gtins import GtinRefused, read_gtin

LONGEST_CODE, LONGEST_NAME = 40, 80


class ColourForm(FlaskForm):
    """Code, name and family of a colour, and its own barcode where it has one."""

    code = TextField("Colour’s code", "As on the band, such as 04.")
    colour_name = TextField("Colour’s name")
    family = PickField("Colour", choices_of(colour_families()))
    dark = BooleanField("Dark, or a colour that may bleed")
    gtin = TextField("Barcode", "May be empty.")

    def values(self) -> Values | None:
        """Returns what is to be stored, or None with a message at each wrong box."""
        for field, longest in ((self.code, LONGEST_CODE), (self.colour_name, LONGEST_NAME)):
            if not 0 < len(field.typed) <= longest:
                field.errors = [f"Write 1 to {longest} characters"]
        if self.family.data not in colour_families():
            self.family.errors = ["This is not one of the list; pick one of it"]
        gtin = self._gtin()
        if any(field.errors for field in self):
            return None
        name = self.colour_name.typed
        return {"name": name, "family": self.family.data, "dark": self.dark.data, "gtin": gtin}

    def _gtin(self) -> str | None:
        if not self.gtin.typed:
            return None
        try:
            return read_gtin(self.gtin.typed).digits
        except GtinRefused as refusal:
            self.gtin.errors = [f"{refusal.wrong}; {refusal.right}"]
            return None
