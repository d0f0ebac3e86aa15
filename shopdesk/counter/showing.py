"""What templates may call: sentences and figures in the shop's words and units."""

from typing import Any

from flask import Flask
from wtforms import Field

PAGES_IN_BAR = (("asking.counter", "Counter"),)


def register(app: Flask) -> None:
    """Adds the filters and globals that templates use."""
    app.jinja_env.trim_blocks = True
    app.jinja_env.lstrip_blocks = True
    app.jinja_env.filters.update(opened=opened, target=target)
    app.jinja_env.globals.update(pages_in_bar=PAGES_IN_BAR)


def opened(form: Any, names: str) -> bool:
    """True if one of these fields (names parted by blanks) holds something or is wrong."""
    return any(form[name].data or form[name].errors for name in names.split())


def target(field: Field) -> str:
    """Returns the id that a link to this field leads to: for radio buttons the first one."""
    return f"{field.id}-0" if field.type in ("OneOfField", "SomeOfField") else str(field.id)
