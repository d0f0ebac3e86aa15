"""A yarn without a label, as it lies on the counter: a weighed piece, the whole, wraps, fibre."""

from collections.abc import Callable
from typing import Any

from flask_wtf import FlaskForm

from shopdesk.answering.unlabelled import Piece, Unlabelled, unlabelled
from shopdesk.counter.forms.fields import TextField
from shopdesk.counter.forms.lists import numbers_listed
from shopdesk.craft.errors import InputError
from shopdesk.craft.numerals import read_number
from shopdesk.craft.yarn import FibreShare
from shopdesk.exchange.blends import blend_cell
from shopdesk.exchange.cells import length, mass

MOST_READINGS = 12


class UnlabelledForm(FlaskForm):
    """Sent as an address: nothing is kept, and nothing in it is about a customer."""

    class Meta:
        csrf = False

    length = TextField("Length measured off", "Such as 10 m, or 11 yd.")
    mass = TextField("Its mass", "Such as 4.4 g.")
    whole = TextField("Mass of all that is left", "Such as 63 g; may be empty.")
    wraps = TextField("Wraps per inch", "Each reading: 11, 12, 11.")
    fibres = TextField("Fibres", "If the customer knows: wool 80, nylon 20.")

    def found(self) -> Unlabelled | None:
        """Returns what follows, or None with messages beside the boxes that are wrong."""
        metres = self._read(self.length, lambda text: length(text, ""))
        piece_g = self._read(self.mass, lambda text: mass(text, ""))
        whole = self._read(self.whole, lambda text: mass(text, ""))
        wraps = self._read(self.wraps, _readings) or []
        blend = self._read(self.fibres, lambda text: blend_cell(text, "")["fibres"]) or ()
        if (metres is None) != (piece_g is None):
            empty = self.mass if piece_g is None else self.length
            empty.errors = empty.errors or ["Write both the length and its mass"]
        if not (metres or wraps):
            self.length.errors = self.length.errors or ["Measure a length, or wrap it"]
        if any(field.errors for field in self):
            return None
        piece = Piece(metres, piece_g) if metres and piece_g else None
        return unlabelled(piece, whole, wraps, tuple(FibreShare(*share) for share in blend))

    @staticmethod
    def _read(field: TextField, read: Callable[[str], Any]) -> Any:
        if not field.typed:
            return None
        try:
            return read(field.typed)
        except InputError as refusal:
            field.errors = [f"{refusal.wrong}; {refusal.right}"]
            return None


def _readings(text: str) -> list[float]:
    right = "write each reading, such as 11, 12, 11"
    found = [float(read_number(one, right)) for one in numbers_listed(text.replace(", ", "; "))]
    if not found or len(found) > MOST_READINGS or not all(0 < one <= 100 for one in found):
        raise InputError(f"'{text[:40]}' cannot be wraps per inch", right)
    return found
