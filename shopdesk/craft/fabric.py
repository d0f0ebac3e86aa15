"""Plain knitted fabric by Munden's laws: loop length, yarn per area, firmness and weight."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from math import sqrt

from shopdesk.craft.figures import Basis, Figure
from shopdesk.craft.gauge import require_positive, rows_guess
from shopdesk.craft.messages import Message, message
from shopdesk.craft.yarn import Craft
from shopdesk.reference.tables import constant, table, yes_or_no


class UnknownFabric(ValueError):
    """A stitch pattern that no table knows."""


def loop_mm(stitches: float, rows: float) -> float:
    """Returns the length in mm of the yarn in one stockinette stitch, washed and dried.

    `stitches` and `rows` are per 10 cm: l = root of ks over loops per area (Munden 1959).
    """
    require_positive(stitches=stitches, rows=rows)
    return 10 * sqrt(constant("gauge_models", "munden_ks").value / (stitches * rows / 100))


def metres_per_m2(stitches: float, rows: float) -> float:
    """Returns metres of yarn in a square metre of stockinette; gauge per 10 cm (Munden 1959)."""
    return stitches * rows * 100 * loop_mm(stitches, rows) / 1000


def volume_cover(tex: float, density: float, loop_mm: float) -> float:
    """Returns the fabric's firmness by volume: root of (tex over g/cm3) over loop length in cm.

    Equal values are equally firm whatever the fibre; higher is firmer.
    """
    require_positive(tex=tex, density=density, loop_mm=loop_mm)
    return sqrt(tex / density) / (loop_mm / 10)


def grams_per_m2(stitches: float, rows: float, loop_mm: float, tex: float) -> float:
    """Returns the fabric's mass in g/m2: loops per m2 x loop length in m x tex over 1000."""
    require_positive(stitches=stitches, rows=rows, loop_mm=loop_mm, tex=tex)
    return stitches * rows * 100 * (loop_mm / 1000) * tex / 1000


@dataclass(frozen=True, slots=True)
class PatternFabric:
    """A stitch pattern held against stockinette in the same yarn on the same tool.

    `multiplier` is its yarn per area; `width_ratio` its stitches per 10 cm over stockinette's.
    `craft` is None for a pattern that may be of either; its gauge `tells_gauge` if it says much
    about the yarn. Where a pattern is read, its name alone `names_craft` or `names_fabric`; that
    of a rib may mean an edge, and that of a lace a yarn.
    """

    name: str
    craft: Craft | None
    multiplier: Figure
    width_ratio: Figure
    tells_gauge: bool
    openwork: bool
    strands_inside: bool
    ribs: bool
    cables: bool
    names_craft: bool
    names_fabric: bool

    def is_of(self, craft: Craft) -> bool:
        """True if the pattern is worked in this craft, or may be."""
        return self.craft in (None, craft)


@cache
def pattern_fabrics() -> Mapping[str, PatternFabric]:
    """Returns every stitch pattern by its name, in the table's order."""
    return {row["stitch_pattern"]: _pattern_fabric(row) for row in table("stitch_multipliers")}


def pattern_fabric(stitch_pattern: str) -> PatternFabric:
    """Returns what is known of a stitch pattern by name. Raises UnknownFabric."""
    found = pattern_fabrics().get(stitch_pattern)
    if found is None:
        raise UnknownFabric(f"no stitch pattern is called '{stitch_pattern}'")
    return found


def pattern_metres_per_m2(stitch_pattern: str, stitches: float, rows: float | None) -> Figure:
    """Returns metres of yarn per square metre worked in a stitch pattern.

    `stitches` and `rows` per 10 cm are counted in that pattern. Munden's law holds for
    stockinette, so the count of another pattern is turned into stockinette's first and its
    rows are not used. Raises UnknownFabric.
    """
    fabric = pattern_fabric(stitch_pattern)
    if stitch_pattern == "stockinette" and rows is not None:
        value = metres_per_m2(stitches, rows)
        return Figure(value, value, value, Basis.ESTIMATE)
    middle, fewest, most = (
        metres_per_m2(stitches / ratio, rows_guess(stitches / ratio).value)
        for ratio in (fabric.width_ratio.value, fabric.width_ratio.high, fabric.width_ratio.low)
    )
    multiplier, guess = fabric.multiplier, rows_guess(stitches)
    taller, flatter = sqrt(guess.high / guess.value), sqrt(guess.low / guess.value)
    return Figure(
        middle * multiplier.value,
        min(fewest * multiplier.value, middle * multiplier.low) * flatter,
        max(most * multiplier.value, middle * multiplier.high) * taller,
        Basis.ESTIMATE,
        multiplier.notes + (guess.notes if stitch_pattern == "stockinette" else ()),
    )


def _pattern_fabric(row: Mapping[str, str]) -> PatternFabric:
    return PatternFabric(
        name=row["stitch_pattern"],
        craft=None if row["craft"] == "any" else Craft(row["craft"]),
        multiplier=_figure(
            row["multiplier"], row["low"], row["high"], _pattern_notes(row["status"])
        ),
        width_ratio=_figure(row["width_ratio"], row["width_low"], row["width_high"], ()),
        tells_gauge=yes_or_no(row, "tells_gauge"),
        openwork=yes_or_no(row, "openwork"),
        strands_inside=yes_or_no(row, "strands_inside"),
        ribs=yes_or_no(row, "ribs"),
        cables=yes_or_no(row, "cables"),
        names_craft=yes_or_no(row, "names_craft"),
        names_fabric=yes_or_no(row, "names_fabric"),
    )


def _figure(value: str, low: str, high: str, notes: tuple[Message, ...]) -> Figure:
    return Figure(float(value), float(low), float(high), Basis.ESTIMATE, notes)


def _pattern_notes(status: str) -> tuple[Message, ...]:
    if status == "M":
        return (message("amount.multiplier_judged"),)
    if status == "CP":
        return (message("amount.multiplier_few_swatches"),)
    return ()
