"""Small shops in folders of their own, for verbs that work on what a test put there."""

import shutil
from collections.abc import Callable
from pathlib import Path

from sqlalchemy import Engine

from shopdesk.store.database import open_shelf


def shop_with(folder: Path, empty_shelf: Path, *filling: Callable[[Engine], object]) -> Path:
    """Returns the new data folder of a shop whose shelf each of `filling` put something on."""
    folder.mkdir()
    shelf = shutil.copy(empty_shelf, folder / "shopdesk.sqlite3")
    engine = open_shelf(f"sqlite:///{shelf}")
    for fill in filling:
        fill(engine)
    engine.dispose()
    return folder
