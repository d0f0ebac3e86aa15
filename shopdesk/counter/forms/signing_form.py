"""Signing in, and carrying on with what was typed when a session ended meanwhile."""

import json
from collections.abc import Iterable

from flask_wtf import FlaskForm
from wtforms import HiddenField, PasswordField

from shopdesk.parsing.json_text import JsonRefused, read_json

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
