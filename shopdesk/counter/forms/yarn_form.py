"""A yarn as a form: its boxes are read by the same strict readers as a file's cells."""

import hashlib
from collections.abc import Mapping

from flask_wtf import FlaskForm
from wtforms import HiddenField, TextAreaField

from shopdesk.counter.forms.fields import NumberField, PickField, TextField
from shopdesk.counter.forms.form_problems import problem_sentence
from shopdesk.craft.care import axis_values
from shopdesk.craft.errors import InputError
from shopdesk.craft.yarn import Construction
from shopdesk.exchange.columns import Values
from shopdesk.exchange.yarn_fields import EMPTY, whole_yarn, yarn_fields
from shopdesk.exchange.yarn_lines import written

_UNSAID = ("", "not said")
_NO_YES = (("no", "no"), ("yes", "yes"))
STORED = {"price": "price_minor"}


def _care(axis: str, label: str) -> PickField:
    values = [(str(value), str(value)) for value in reversed(axis_values(axis))]
    return PickField(label, [_UNSAID, *values])


class YarnForm(FlaskForm):
    """Every box is named as its field in an import; `seen` tells what the page was made from."""

    seen = HiddenField()
    sku = TextField("Article number", "SKU; it cannot be changed later.")
    name = TextField("Name")
    gtin = TextField("Barcode", "8, 12, 13 or 14 digits; may be empty.")
    price = TextField("Price of one skein")
    weight_name = TextField("Weight name", "As on the band, such as DK.")
    put_up_printed = TextField("Put-up as printed", "Such as 50 g / 125 m.")
    put_up_g = TextField("Mass", "Such as 50, or 1.75 oz.")
    put_up_m = TextField("Length", "Such as 125, or 137 yd.")
    count_written = TextField("Yarn count", "Of a cone, such as 2/28.")
    count_system = TextField("Count’s system", "Such as Nm or worsted.")
    knit_stitches_low = NumberField("Stitches over 10 cm, from")
    knit_stitches_high = NumberField("to")
    knit_rows = NumberField("Rows over 10 cm")
    needle_mm_low = TextField("Needle in mm, from")
    needle_mm_high = TextField("to")
    crochet_stitches_low = NumberField("Crochet stitches over 10 cm, from")
    crochet_stitches_high = NumberField("to")
    crochet_rows = NumberField("Crochet rows over 10 cm")
    hook_mm_low = TextField("Hook in mm, from")
    hook_mm_high = TextField("to")
    plies = NumberField("Plies")
    construction = PickField("How it is made", [_UNSAID, *((c, c) for c in Construction)])
    fibres = TextField("Fibres", "With shares of 100: wool 75, polyamide 25.")
    attributes = TextField("Words about the fibre", "Such as superwash, merino.")
    wash_c = _care("wash_c", "Wash, at most °C")
    wash_action = _care("wash_action", "Way of washing")
    bleach = _care("bleach", "Bleach")
    tumble = _care("tumble", "Tumble drying")
    natural_drying = _care("natural_drying", "Drying in the air")
    iron_c = _care("iron_c", "Iron, at most °C")
    dry_clean = _care("dry_clean", "Dry cleaning")
    wet_clean = _care("wet_clean", "Wet cleaning")
    hand_dyed = PickField("Hand-dyed", _NO_YES)
    retired = PickField("Retired", _NO_YES, "A retired yarn is not offered any more.")
    notes = TextAreaField("Notes")

    def texts(self) -> dict[str, str]:
        """Returns what was typed, by the field's name."""
        return {
            name: str(field.data or "").strip()
            for name, field in self._fields.items()
            if name not in ("seen", "sku", "csrf_token")
        }

    def values(self, currency: str) -> tuple[Values | None, list[str]]:
        """Returns the yarn, or None with a message at each wrong box and those without a box."""
        values: dict[str, object] = dict(EMPTY)
        texts = self.texts()
        for field in yarn_fields(currency):
            if field.key not in texts:
                continue
            try:
                values.update(field.read(texts[field.key], ""))
            except InputError as refusal:
                self._wrong(field.key, refusal)
        if not texts["price"]:
            self._wrong("price", InputError("no price is written", "write the price of one skein"))
        if any(field.errors for field in self):
            return None, []
        try:
            return whole_yarn(values), []
        except InputError as refusal:
            return None, [_sentence(refusal)]

    def _wrong(self, name: str, refusal: InputError) -> None:
        self[name].errors = [_sentence(refusal)]


def _sentence(refusal: InputError) -> str:
    return problem_sentence(refusal.problems[0])


def yarn_texts(values: Values, currency: str) -> dict[str, str]:
    """Returns what the form's boxes hold so that they say this yarn."""
    named = {stored: box for box, stored in STORED.items()}
    return {named.get(name, name): written(name, each, currency) for name, each in values.items()}


def fingerprint(texts: Mapping[str, str]) -> str:
    """Returns a short text that differs whenever anything of the yarn does."""
    said = "\n".join(f"{name}={texts[name]}" for name in sorted(texts))
    return hashlib.sha256(said.encode()).hexdigest()[:16]
