"""Published amounts beside what Shopdesk estimates: `python -m tests.craft.back_test` prints them.

What is published is one length, or a range for every size of an adult, whose middle is held
against the estimate; or grams, which are as many metres as the yarn's weight lets 100 g have.
"""

import csv
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from statistics import median

from shopdesk.craft.figures import Basis, Figure
from shopdesk.craft.item_needs import need_from_item
from shopdesk.craft.items import Measurements

HERE = Path(__file__).parent
METRES = {"m": 1.0, "yd": 0.9144}
GRAMS = {"g": 1.0, "oz": 28.35}
MEASURES = ("chest_cm", "width_cm", "length_cm", "around_cm", "foot_cm")


@dataclass(frozen=True)
class Row:
    """A published amount in metres, its two ends, and the estimate for it."""

    name: str
    item: str
    source: str
    status: str
    from_memory: str
    low_m: float
    high_m: float
    estimate: Figure

    @property
    def middle_m(self) -> float:
        return (self.low_m + self.high_m) / 2

    @property
    def holds(self) -> bool:
        """True if the published figure lies in the stated range."""
        return self.low_m <= self.estimate.high and self.estimate.low <= self.high_m

    @property
    def middle_holds(self) -> bool:
        """True if it does so too at the middle of what grams may be in metres."""
        return self.estimate.low <= self.middle_m <= self.estimate.high

    @property
    def names_what_narrows(self) -> bool:
        return any(note.code == "amount.would_narrow" for note in self.estimate.notes)


def read(name: str) -> list[dict[str, str]]:
    """Returns the rows of a table in this folder."""
    with (HERE / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def rows() -> list[Row]:
    """Returns every published amount that says item, size, gauge and amount."""
    return [_row(row) for row in read("published_amounts.csv")]


def _ends(text: str) -> tuple[float, float]:
    low, _, high = text.partition("-")
    return float(low), float(high or low)


def _row(row: Mapping[str, str]) -> Row:
    low, high = _published_m(row)
    small, large = (_estimate(row, end) for end in (0, 1))
    middle = (small.value + large.value) / 2
    estimate = Figure(middle, small.low, large.high, Basis.ESTIMATE, small.notes)
    said = (row[name] for name in ("name", "item", "source", "status", "from_memory"))
    return Row(*said, low, high, estimate)


def _published_m(row: Mapping[str, str]) -> tuple[float, float]:
    low, high = _ends(row["amount"])
    unit = row["amount_unit"]
    if unit in METRES:
        middle = (low + high) / 2 * METRES[unit]
        return middle, middle
    grams = (low + high) / 2 * GRAMS[unit]
    per_100 = (float(row[name]) for name in ("m_per_100g_low", "m_per_100g_high"))
    thin, thick = (grams * metres / 100 for metres in per_100)
    return thin, thick


def _estimate(row: Mapping[str, str], end: int) -> Figure:
    cm = {name: _ends(row[name])[end] for name in MEASURES if row[name]}
    found = need_from_item(
        row["item"],
        Measurements(**cm),
        float(row["stitches"]),
        None,
        row["stitch_pattern"],
        row["wearer"],
    )
    assert found is not None, row["name"]
    return found


def held_out(every: Iterable[Row]) -> Iterator[tuple[str, float, int, int]]:
    """Yields for each source how the others would scale all estimates, and how it then fares.

    The source, the median of published over estimated of all other sources, the rows of this
    source that then hold, and all of its rows.
    """
    every = list(every)
    for source in sorted({row.source for row in every}):
        mine = [row for row in every if row.source == source]
        others = [row.middle_m / row.estimate.value for row in every if row.source != source]
        scale = median(others)
        ends = [(row, row.estimate.low * scale, row.estimate.high * scale) for row in mine]
        hold = sum(row.low_m <= high and low <= row.high_m for row, low, high in ends)
        yield source, scale, hold, len(mine)


def told() -> Iterator[str]:
    """Yields the lines of the table, its sums, and what could not be held against anything."""
    every = rows()
    yield f"{'published':36} {'metres':>11}   {'estimate':>16} {'high/low':>8}"
    for row in every:
        found = row.estimate
        yield (
            f"{row.name[:36]:36} {row.low_m:5.0f}-{row.high_m:5.0f}   "
            f"{found.low:4.0f} {found.value:5.0f} {found.high:5.0f} {found.high / found.low:8.2f} "
            f"{'in' if row.holds else 'OUT':3} {'in' if row.middle_holds else 'OUT':3} "
            f"{row.status:2} {row.from_memory}"
        )
    for name, some in (("all", every), ("without memory", without_memory(every))):
        holds, middles = sum(r.holds for r in some), sum(r.middle_holds for r in some)
        yield f"{name}: {holds} of {len(some)} hold, {middles} at the middle of their metres"
    for source, scale, hold, count in held_out(every):
        yield f"held out, others x {scale:.2f}: {hold} of {count}, {source}"
    for lacking in read("published_amounts_lacking.csv"):
        yield f"lacks {lacking['lacking']}: {lacking['name']}, {lacking['amount']}"


def without_memory(every: Iterable[Row]) -> list[Row]:
    """Returns the rows whose estimate rests on nothing that is only remembered."""
    return [row for row in every if not row.from_memory]


if __name__ == "__main__":
    print("\n".join(told()))
