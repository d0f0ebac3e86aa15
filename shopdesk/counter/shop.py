"""The shelf that a request works on."""

from typing import cast

from flask import Flask, current_app
from sqlalchemy import Engine

_KEY = "shopdesk"


def open_for(app: Flask, engine: Engine) -> None:
    """Gives the application its shelf."""
    app.extensions[_KEY] = engine


def engine() -> Engine:
    """Returns the engine of the application that serves this request."""
    return cast(Engine, current_app.extensions[_KEY])
