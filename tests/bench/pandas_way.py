"""The same question put to pandas: read the tables, filter, sum up the stock, sort."""

import sqlite3
import time
from collections.abc import Iterator
from statistics import median

import pandas as pd

from shopdesk.answering.model.ask import Ask
from tests.bench.answers import COLUMNS, asks_by_chance, plain, timed_answers
from tests.bench.lines import Line, shown
from tests.bench.shelves import Shelves

TABLES = {
    "yarn": COLUMNS,
    "yarn_fibre": "yarn_id, fibre, percent",
    "colourway": "id, yarn_id, family",
    "dye_lot": "id, colourway_id",
    "stock": "lot_id, branch_id, on_hand",
}
WINDOW = 0.1
"""Pandas only looks at yarns within so much of the gauge; it judges nothing."""


def wanted_stitches(ask: Ask) -> float | None:
    """Returns the gauge that the ask is about, if it has one."""
    if ask.gauge is not None:
        return ask.gauge.stitches
    designer = ask.designer_yarn
    return designer.gauge.stitches_low if designer and designer.gauge else None


def wanted_fibre(ask: Ask) -> str:
    """Returns the designer's main fibre, or wool."""
    shares = ask.designer_yarn.fibres if ask.designer_yarn else ()
    return max(shares, key=lambda share: share.percent).fibre if shares else "wool"


def pandas_answer(connection: sqlite3.Connection, ask: Ask) -> pd.DataFrame:
    """Returns the yarns of the gauge with the fibre, with their stock, the nearest first."""
    read = {
        name: pd.read_sql(f"SELECT {columns} FROM {name}", connection)
        for name, columns in TABLES.items()
    }
    yarns, fibres = read["yarn"], read["yarn_fibre"]
    stitches = wanted_stitches(ask) or 22.0
    low, high = stitches * (1 - WINDOW), stitches * (1 + WINDOW)
    near = (yarns.knit_stitches_low <= high) & (yarns.knit_stitches_high >= low)
    having = fibres[fibres.fibre == wanted_fibre(ask)].yarn_id
    kept = yarns[near & (yarns.retired == 0) & yarns.id.isin(having)]
    lots = read["dye_lot"].merge(read["colourway"], left_on="colourway_id", right_on="id")
    stock = read["stock"].merge(lots, left_on="lot_id", right_on="id_x")
    left = stock.groupby("yarn_id").on_hand.sum().reset_index()
    found = kept.merge(left, left_on="id", right_on="yarn_id")
    off = (found.knit_stitches_low - stitches).abs()
    return found.assign(off=off).sort_values(["off", "on_hand"], ascending=[True, False])


def measure(shelves: Shelves) -> Iterator[Line]:
    """Yields how many times as long pandas takes as the answer."""
    asks = asks_by_chance(shelves.scale.pandas_asks)
    data = shelves.design()
    timed = timed_answers(data, asks)
    with plain(data) as connection:
        assert any(len(pandas_answer(connection, ask)) for ask in asks)
        seconds = []
        for ask in asks:
            begun = time.perf_counter()
            pandas_answer(connection, ask)
            seconds.append(time.perf_counter() - begun)
    ours, theirs = median(one.seconds for one in timed), median(seconds)
    yield Line(
        "pandas",
        f"pandas reads, filters, sums up and sorts, median of {len(asks)} asks",
        shown(theirs),
        f"full answer: {shown(ours)}",
        theirs / ours,
        "at least 4",
    )
