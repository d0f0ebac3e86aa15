"""A shelf of many yarns and colours, and a file of stock for it, of any size."""

import csv
from pathlib import Path

from sqlalchemy import Engine, insert

from shopdesk.shelf.writing import writing
from shopdesk.store.models import Colourway, Yarn

COLOURS = 20
LOTS = 2
HEADINGS = ("sku", "colour", "lot", "skeins")


def put_many_colours(engine: Engine, yarns: int) -> None:
    """Puts so many yarns of 20 colours each on an empty shelf, without stock."""
    with writing(engine) as session:
        rows = [
            {"sku": _sku(n), "name": f"Yarn {n}", "price_minor": 500, "version_id": 1}
            for n in range(yarns)
        ]
        session.execute(insert(Yarn), rows)
        for start in range(0, yarns, 500):
            session.execute(insert(Colourway), list(_colours(start, min(start + 500, yarns))))


def _colours(first: int, end: int) -> list[dict[str, object]]:
    kept = {"name": "Slate", "family": "grey", "dark": False, "retired": False}
    return [
        {"yarn_id": n + 1, "code": f"{colour:02d}", **kept}
        for n in range(first, end)
        for colour in range(COLOURS)
    ]


def stock_rows(yarns: int, more: int = 0) -> list[tuple[str, str, str, str]]:
    """Returns a line of stock for each of two lots of every colour."""
    return [
        (_sku(n), f"{colour:02d}", f"{n % 97}A{lot}", str((n * colour + lot + more) % 30))
        for n in range(yarns)
        for colour in range(COLOURS)
        for lot in range(LOTS)
    ]


def stock_file(path: Path, yarns: int, more: int = 0) -> Path:
    """Writes those lines to a CSV file."""
    with path.open("w", encoding="utf-8", newline="") as file:
        writer = csv.writer(file)
        writer.writerow(HEADINGS)
        writer.writerows(stock_rows(yarns, more))
    return path


def _sku(number: int) -> str:
    return f"SKU-{number:05d}"
