"""Finding one more skein by slip number, barcode or the band's own words."""

from flask_wtf import FlaskForm

from shopdesk.counter.forms.fields import TextField


class OneMoreForm(FlaskForm):
    """`find` takes what is at hand: a slip's number, a scanned barcode or an article number."""

    class Meta:
        """It changes nothing and holds nothing about anybody, so it is sent in the address."""

        csrf = False

    find = TextField("Slip number, barcode or article number", render_kw={"autocomplete": "off"})
    colour = TextField("Colour’s code", "With an article number.")
    lot = TextField("Dye lot", "As on the band.")
