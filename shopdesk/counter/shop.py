"""The shelf and the settings that a request works with."""

from typing import cast

from flask import Flask, current_app, g
from sqlalchemy import Engine

from shopdesk.store.database import reading
from shopdesk.store.settings import ShopSettings, load_settings
from shopdesk.wording.formatting import ReaderPreferences

_KEY = "shopdesk"


def open_for(app: Flask, engine: Engine) -> None:
    """Gives the application its shelf."""
    app.extensions[_KEY] = engine


def engine() -> Engine:
    """Returns the engine of the application that serves this request."""
    return cast(Engine, current_app.extensions[_KEY])


def settings() -> ShopSettings:
    """Returns the shop's settings as they were at the request's first look."""
    if "settings" not in g:
        with reading(engine()) as session:
            g.settings = load_settings(session)
    return cast(ShopSettings, g.settings)


def counter_reader() -> ReaderPreferences:
    """Returns how the counter speaks to staff: English words, the shop's units and money."""
    reader = settings().reader()
    return reader if reader.texts == "en" else settings().reader("en-GB")
