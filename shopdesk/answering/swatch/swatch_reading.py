"""A swatch as somebody typed it, read strictly into fixed units with every problem named."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import TypeVar

from shopdesk.answering.model.ask import StitchPattern
from shopdesk.craft import lengths
from shopdesk.craft.errors import InputErrors, Problem
from shopdesk.craft.fabric import pattern_fabric
from shopdesk.craft.gauge import per_10cm
from shopdesk.craft.messages import Message, message, significant
from shopdesk.craft.numerals import NumberRefused, read_number
from shopdesk.craft.swatch import Gauge, WeighedSwatch
from shopdesk.craft.swatch_limits import fits_on
from shopdesk.craft.tools import ToolRefused, tool_mm
from shopdesk.craft.yarn import Craft
from shopdesk.parsing.quantities import LENGTH_UNITS, MASS_UNITS, centimetres, grams, read_quantity

T = TypeVar("T")
MOST_COUNTED = 2000
SHORTEST_CM, LONGEST_CM = 1.0, 300.0
FEWEST_PER_10CM, MOST_PER_10CM = 1.0, 120.0
LIGHTEST_G, HEAVIEST_G = 0.1, 5000.0


@dataclass(frozen=True, slots=True)
class SwatchEntry:
    """What was typed, '' for nothing; lengths and the mass with their unit ('4 in', '12 g').

    `rows_over` is only for rows counted over another length than the stitches.
    """

    stitches: str
    over: str = "10 cm"
    rows: str = ""
    rows_over: str = ""
    washed: str = ""
    tool: str = ""
    tool_system: str = "mm"
    width: str = ""
    height: str = ""
    mass: str = ""
    hand: str = ""
    stitch_pattern: str = ""


@dataclass(frozen=True, slots=True)
class MeasuredSwatch:
    """A swatch per 10 cm, in cm, g and mm. None is what was not measured or not said."""

    gauge: Gauge
    over_cm: float
    stitch_pattern: StitchPattern
    washed: bool | None = None
    tool_mm: float | None = None
    width_cm: float | None = None
    height_cm: float | None = None
    mass_g: float | None = None
    hand: str | None = None

    @property
    def weighed(self) -> WeighedSwatch | None:
        """The swatch as its scale and ruler have it, or None where one of them is missing."""
        if self.mass_g is None or self.width_cm is None or self.height_cm is None:
            return None
        return WeighedSwatch(self.mass_g, self.width_cm, self.height_cm)


def read_swatch(entry: SwatchEntry, craft: Craft, usual: StitchPattern) -> MeasuredSwatch:
    """Returns the swatch of an entry, in the `usual` stitch pattern unless it names another.

    Raises InputErrors with every problem found, each under the name of its field.
    """
    return _Reader(entry, craft, usual).read()


class _Reader:
    """Reads field by field, collecting problems instead of stopping at the first."""

    def __init__(self, entry: SwatchEntry, craft: Craft, usual: StitchPattern) -> None:
        self.entry = entry
        self.craft = craft
        self.usual = usual
        self.problems: list[Problem] = []

    def read(self) -> MeasuredSwatch:
        entry = self.entry
        over = self._length("over", entry.over)
        rows_over = self._length("rows_over", entry.rows_over) if entry.rows_over.strip() else over
        stitches = self._count("stitches", entry.stitches, over)
        rows = self._count("rows", entry.rows, rows_over) if entry.rows.strip() else None
        width, height = self._side("width"), self._side("height")
        mass = self._mass()
        self._require_sides(width, height, mass)
        self._require_inside("over", over, width)
        if rows is not None:
            own = "rows_over" if entry.rows_over.strip() else "over"
            self._require_inside(own, rows_over, height)
        washed, tool = self._washed(), self._tool()
        pattern, hand = self._pattern(), self._hand()
        if self.problems:
            raise InputErrors(self.problems)
        assert over is not None
        shortest = min(over, rows_over or over) if rows is not None else over
        return MeasuredSwatch(
            Gauge(stitches, rows), shortest, pattern, washed, tool, width, height, mass, hand
        )

    def _refuse(self, field: str, wrong: Message, right: Message) -> None:
        self.problems.append(Problem((field,), wrong, right))

    def _tried(self, field: str, read: Callable[[], T], otherwise: T) -> T:
        try:
            return read()
        except (NumberRefused, ToolRefused) as refusal:
            self.problems += [problem.under(field) for problem in refusal.problems]
            return otherwise

    def _between(
        self, field: str, value: float, low: float, high: float, unit: str
    ) -> float | None:
        if low <= value <= high:
            return value
        self._refuse(
            field,
            message("problem_ask.cannot_be", size_exact=significant(value, 4), unit=unit),
            message(
                "problem_ask.can_be",
                low_exact=significant(low, 6),
                high_exact=significant(high, 6),
                unit=unit,
            ),
        )
        return None

    def _length(self, field: str, typed: str) -> float | None:
        quantity = self._tried(field, lambda: read_quantity(typed, LENGTH_UNITS, "cm"), None)
        if quantity is None:
            return None
        return self._between(field, centimetres(quantity), SHORTEST_CM, LONGEST_CM, "cm")

    def _count(self, field: str, typed: str, over_cm: float | None) -> float:
        right = message(
            "problem_ask.count_rows" if field == "rows" else "problem_ask.count_stitches"
        )
        number = self._tried(field, lambda: read_number(typed, right), None)
        if number is None:
            return 0.0
        if not 0 < number <= MOST_COUNTED:
            wrong = message(
                "problem_ask.no_such_rows" if field == "rows" else "problem_ask.no_such_stitches",
                text=typed.strip()[:40],
            )
            self._refuse(field, wrong, right)
            return 0.0
        if over_cm is None:
            return 0.0
        count = per_10cm(float(number), over_cm * 10)
        if not FEWEST_PER_10CM <= count <= MOST_PER_10CM:
            self._refuse(
                field,
                message("problem_ask.no_fabric", count_exact=significant(count, 4)),
                message("problem_ask.check_over"),
            )
        return count

    def _side(self, field: str) -> float | None:
        typed = getattr(self.entry, field)
        return self._length(field, typed) if typed.strip() else None

    def _mass(self) -> float | None:
        typed = self.entry.mass
        if not typed.strip():
            return None
        quantity = self._tried("mass", lambda: read_quantity(typed, MASS_UNITS, "g"), None)
        if quantity is None:
            return None
        return self._between("mass", grams(quantity), LIGHTEST_G, HEAVIEST_G, "g")

    def _require_sides(self, width: float | None, height: float | None, mass: float | None) -> None:
        wrong = {problem.place for problem in self.problems}
        for field, side in (("width", width), ("height", height)):
            if mass is not None and side is None and field not in wrong:
                self._refuse(
                    field,
                    message("problem_ask.weighed_only"),
                    message("problem_ask.give_width"),
                )

    def _require_inside(self, field: str, over: float | None, side: float | None) -> None:
        wrong = {problem.place for problem in self.problems}
        if over is None or side is None or fits_on(over, side) or field in wrong:
            return
        self._refuse(
            field,
            message("problem_ask.over_the_edge", over_cm=over, side_cm=side),
            message("problem_ask.check_sides"),
        )

    def _washed(self) -> bool | None:
        said = {"": None, "yes": True, "no": False}
        if self.entry.washed not in said:
            wrong = message("problem_ask.no_answer")
            self._refuse("washed", wrong, message("problem_ask.say_yes"))
        return said.get(self.entry.washed)

    def _tool(self) -> float | None:
        size, system = self.entry.tool.strip(), self.entry.tool_system
        if not size:
            return None
        return self._tried("tool", lambda: tool_mm(size, system, self.craft), None)

    def _pattern(self) -> StitchPattern:
        named = self.entry.stitch_pattern or self.usual.value
        pattern = next((each for each in StitchPattern if each.value == named), None)
        if pattern is None:
            wrong = message("problem_ask.not_listed")
            self._refuse("stitch_pattern", wrong, message("problem_ask.take_listed"))
            return self.usual
        if not pattern_fabric(pattern).is_of(self.craft):
            is_knit = self.craft is Craft.KNIT
            wrong = message(
                "problem_ask.not_knitted" if is_knit else "problem_ask.not_crochet",
                stitch=pattern.value,
            )
            right = message("problem_ask.take_knitted" if is_knit else "problem_ask.take_crochet")
            self._refuse("stitch_pattern", wrong, right)
        return pattern

    def _hand(self) -> str | None:
        hand = " ".join(self.entry.hand.split())
        if len(hand) > lengths.HAND:
            right = message("problem_ask.letters_most", count=lengths.HAND)
            self._refuse("hand", message("problem_ask.too_long_text"), right)
        return hand or None
