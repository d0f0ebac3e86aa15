"""Finding one more skein by slip number, barcode or the band's own words."""

from flask_wtf import FlaskForm

from shopdesk.counter.forms.fields import TextField
from shopdesk.services.one_more import SkeinSought, skein_sought


class OneMoreForm(FlaskForm):
    """`find` takes what is at hand: a slip's number, a scanned barcode or an article number."""

    class Meta:
        """It changes nothing and holds nothing about anybody, so it is sent in the address."""

        csrf = False

    find = TextField("Slip number, barcode or article number", render_kw={"autocomplete": "off"})
    colour = TextField("Colour’s code", "With an article number.")
    lot = TextField("Dye lot", "As on the band.")

    def sought(self, slip_branch: str) -> SkeinSought:
        """Returns what is looked for; a slip is one of `slip_branch`."""
        return skein_sought(self.find.typed, self.colour.typed, self.lot.typed, slip_branch)
