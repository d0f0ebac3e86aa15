"""The yarn and the gauge of an ask document: what each part may hold, and what it is in the Ask."""

from collections.abc import Sequence
from dataclasses import replace
from decimal import Decimal
from typing import Literal

from pydantic import Field, model_validator

from shopdesk.answering.ask.document_base import (
    AskPlace,
    Document,
    Percent,
    Positive,
    Stitches,
    Word,
    cannot_be,
)
from shopdesk.answering.model.ask import (
    OTHER_PATTERN,
    STOCKINETTE,
    DesignerYarn,
    PatternGauge,
    PatternTool,
    StitchPattern,
)
from shopdesk.craft.blend import attribute_named, checked_blend
from shopdesk.craft.care import checked_care
from shopdesk.craft.counts import CountAmbiguous, CountRefused, count_tex
from shopdesk.craft.errors import InputError, InputErrors, Problem
from shopdesk.craft.fabric import pattern_fabric
from shopdesk.craft.gauge import per_10cm
from shopdesk.craft.messages import message, significant
from shopdesk.craft.tools import ToolRefused, tool_mm
from shopdesk.craft.weights import categories_named
from shopdesk.craft.yarn import (
    BandGauge,
    CareLabel,
    Construction,
    Craft,
    FibreShare,
    PutUp,
    YarnCount,
)
from shopdesk.parsing.quantities import Quantity, centimetres, grams, metres, millimetres


def plausible_count(at: AskPlace, count: Decimal, over_mm: float) -> float:
    """Returns stitches or rows counted over a length per 10 cm; refuses what no fabric has."""
    value = per_10cm(float(count), over_mm)
    if not 1 <= value <= 120:
        at.refuse(
            message("problem_ask.no_fabric", count_exact=significant(value, 4)),
            message("problem_ask.check_over"),
        )
    return value


class LengthDoc(Document):
    value: Positive = Field(description="a length such as 10, 3,5 or 1 1/2")
    unit: Literal["m", "yd", "cm", "mm", "in", "ft"] = Field(
        description="one of m, yd, cm, mm, in, ft"
    )

    def mm(self) -> float:
        return millimetres(Quantity(self.value, self.unit))

    def cm(self) -> float:
        return centimetres(Quantity(self.value, self.unit))

    def metres(self) -> float:
        return metres(Quantity(self.value, self.unit))


class MassDoc(Document):
    value: Positive = Field(description="a mass such as 50 or 1 3/4")
    unit: Literal["g", "kg", "oz", "lb"] = Field(description="one of g, kg, oz, lb")

    def grams(self) -> float:
        return grams(Quantity(self.value, self.unit))


class PutUpDoc(Document):
    mass: MassDoc = Field(description='an object such as {"value": 50, "unit": "g"}')
    length: LengthDoc = Field(description='an object such as {"value": 125, "unit": "m"}')

    def read(self) -> PutUp:
        return PutUp(self.mass.grams(), self.length.metres())


class ToolDoc(Document):
    size: Word = Field(
        description="a size such as '4.0' in mm, or a US, UK or Japanese number such as '10 1/2'"
    )
    system: Literal["mm", "US", "UK", "JP"] = Field(description="one of mm, US, UK, JP")

    def mm(self, at: AskPlace) -> float | None:
        try:
            return tool_mm(self.size, self.system, at.craft)
        except ToolRefused as refusal:
            (at / "size").take(refusal)
            return None

    def read(self, at: AskPlace) -> PatternTool | None:
        mm = self.mm(at)
        return PatternTool(mm, f"{self.system} {self.size}") if mm is not None else None


class BandGaugeDoc(Document):
    stitches: Stitches = Field(description="a number of stitches such as 22")
    stitches_high: Stitches | None = Field(
        None, description="the upper number where the band gives a range such as 22-24"
    )
    rows: Stitches | None = Field(None, description="a number of rows such as 30")
    over: LengthDoc = Field(description='an object such as {"value": 10, "unit": "cm"}')
    tool: ToolDoc | None = Field(
        None, description='an object such as {"size": "4.0", "system": "mm"}'
    )

    @model_validator(mode="after")
    def _range_runs_upward(self) -> "BandGaugeDoc":
        if self.stitches_high is not None and self.stitches_high < self.stitches:
            low, high = str(self.stitches), str(self.stitches_high)
            raise cannot_be(message("problem_ask.range_reversed", low=low, high=high))
        return self

    def read(self, at: AskPlace) -> BandGauge:
        over = self.over.mm()
        low = plausible_count(at / "stitches", self.stitches, over)
        high = per_10cm(float(self.stitches_high), over) if self.stitches_high is not None else low
        mm = self.tool.mm(at / "tool") if self.tool else None
        rows = per_10cm(float(self.rows), over) if self.rows is not None else None
        return BandGauge(low, high, rows, mm, mm, at.craft)


class GaugeDoc(Document):
    stitches: Stitches = Field(description="a number of stitches such as 22 or 22.5")
    rows: Stitches | None = Field(None, description="a number of rows such as 30, or nothing")
    over: LengthDoc = Field(description='an object such as {"value": 10, "unit": "cm"}')
    stitch_pattern: StitchPattern = Field(
        STOCKINETTE, description="a stitch pattern named in the schema"
    )
    after_washing: bool | None = Field(None, description="true, false or null for unknown")

    def read(self, at: AskPlace) -> PatternGauge:
        over, rows = self.over.mm(), None
        stitches = plausible_count(at / "stitches", self.stitches, over)
        if self.rows is not None:
            rows = plausible_count(at / "rows", self.rows, over)
        return PatternGauge(stitches, rows, self._pattern(at), self.after_washing)

    def _pattern(self, at: AskPlace) -> StitchPattern:
        """The pattern the gauge is counted in; unknown in crochet where nothing is said."""
        pattern, craft = self.stitch_pattern, at.craft
        if craft is Craft.CROCHET and "stitch_pattern" not in self.model_fields_set:
            return OTHER_PATTERN
        if not pattern_fabric(pattern).is_of(craft):
            is_knit = craft is Craft.KNIT
            (at / "stitch_pattern").refuse(
                message(
                    "problem_ask.crochet_stitch" if is_knit else "problem_ask.knitted_stitch",
                    stitch=pattern.value,
                ),
                message("problem_ask.give_knitted" if is_knit else "problem_ask.give_crochet"),
            )
        return pattern


class FibreDoc(Document):
    fibre: Word = Field(description="a fibre name such as wool, cotton or polyamide")
    percent: Percent = Field(description="a share of 100 such as 75")


class CountDoc(Document):
    written: Word = Field(description="a yarn count such as '2/28' or '30 tex'")
    system: Word = Field(description="the count's system, such as Nm, Ne, worsted or tex")

    def read(self, at: AskPlace) -> YarnCount:
        count = YarnCount(self.written, self.system)
        try:
            count_tex(count)
        except CountAmbiguous as refusal:
            (at / "system").take(refusal)
        except CountRefused as refusal:
            (at / "written").take(refusal)
        return count


class CareDoc(Document):
    """Care axes of ISO 3758 in words; leave out what is unknown."""

    wash_c: int | None = Field(None, description="95, 70, 60, 50, 40 or 30")
    wash_action: str | None = Field(
        None, description="normal, mild, very mild, hand or do not wash"
    )
    bleach: str | None = Field(None, description="any, oxygen only or none")
    tumble: str | None = Field(None, description="normal, low or none")
    natural_drying: str | None = Field(
        None, description="line, drip, flat, line in shade, drip in shade or flat in shade"
    )
    iron_c: int | None = Field(None, description="200, 150, 110, or 0 for none")
    dry_clean: str | None = Field(
        None, description="any, any mild, hydrocarbon, hydrocarbon mild or none"
    )
    wet_clean: str | None = Field(None, description="normal, mild, very mild or none")

    def read(self, at: AskPlace) -> CareLabel | None:
        try:
            return checked_care(self.model_dump())
        except InputError as refusal:
            at.take(refusal)
            return None


class DesignerYarnDoc(Document):
    weight: list[Word] = Field(
        [], max_length=4, description="weight names or numbers such as DK or 3"
    )
    put_up: PutUpDoc | None = Field(None, description="mass and length of one ball")
    count: CountDoc | None = Field(None, description="a count with its system")
    gauge: BandGaugeDoc | None = Field(None, description="the gauge on that yarn's band")
    wraps_per_inch: Positive | None = Field(None, description="a number of wraps such as 11")
    fibres: list[FibreDoc] = Field(
        [], max_length=12, description="fibres with shares that add up to 100"
    )
    attributes: list[Word] = Field(
        [], max_length=12, description="words such as superwash or merino"
    )
    construction: Construction | None = Field(
        None, description="a construction named in the schema"
    )
    strands: int = Field(1, ge=1, le=4, description="1 to 4 strands held together")
    care: CareDoc | None = Field(None, description="care axes in words")

    def says_how_thick(self) -> bool:
        """True if anything of it tells how thick the yarn is."""
        return bool(self.weight or self.gauge or self.put_up or self.count)

    def read(self, at: AskPlace) -> DesignerYarn:
        for index, name in enumerate(self.weight):
            if not categories_named(name):
                (at / "weight" / index).refuse(
                    message("problem_ask.no_weight", name=name),
                    message("problem_ask.give_weight"),
                )
        return DesignerYarn(
            weight_names=tuple(self.weight),
            put_up=self.put_up.read() if self.put_up else None,
            count=self.count.read(at / "count") if self.count else None,
            gauge=self.gauge.read(at / "gauge") if self.gauge else None,
            wraps_per_inch=float(self.wraps_per_inch) if self.wraps_per_inch is not None else None,
            fibres=read_blend(self.fibres, at / "fibres"),
            attributes=read_attributes(self.attributes, at / "attributes"),
            construction=self.construction,
            strands=self.strands,
            care=self.care.read(at / "care") if self.care else None,
        )


def read_blend(fibres: Sequence[FibreDoc], at: AskPlace) -> tuple[FibreShare, ...]:
    """Returns the blend of these lines, or nothing after telling its place what it cannot be."""
    try:
        pairs = [(one.fibre, one.percent) for one in fibres]
        return checked_blend(pairs) if pairs else ()
    except InputErrors as refusal:
        at.take(InputErrors(_at_its_name(problem) for problem in refusal.problems))
        return ()


def read_attributes(names: Sequence[str], at: AskPlace) -> frozenset[str]:
    """Returns what these words say of the fibre; those that are not known are told to the place."""
    return at.known(names, attribute_named, message("problem_ask.give_attribute"))


def _at_its_name(problem: Problem) -> Problem:
    """A problem of one line of the blend is one of its fibre's name."""
    return replace(problem, path=(*problem.path, "fibre")) if problem.path else problem
