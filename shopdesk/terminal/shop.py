"""Opens the shop's shelf for a verb, or says in words why that cannot be."""

from pathlib import Path
from typing import TYPE_CHECKING

from shopdesk.shelf.place import Place, find_place

if TYPE_CHECKING:
    from sqlalchemy import Engine


class ShopMissing(RuntimeError):
    """There is no database yet where the command looks for one."""


def open_shop(data: str | None) -> tuple[Place, "Engine"]:
    """Returns the place and the engine of a shop that is set up; `data` is the option --data.

    Creates nothing. Raises ShopMissing, ShelfFault and what find_place raises.
    """
    from shopdesk.shelf.database import open_shelf
    from shopdesk.shelf.upgrading import check_version

    place = find_place(data)
    _require_file(place.database_file)
    engine = open_shelf(place.url)
    check_version(engine)
    return place, engine


def _require_file(file: Path | None) -> None:
    if file is not None and not file.exists():
        raise ShopMissing(
            f"there is no shop at {file}; `shopdesk serve` sets one up, "
            "or name its folder with --data"
        )
