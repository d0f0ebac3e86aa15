"""Reads an ask document into an Ask in fixed units, with every problem found at once."""

from collections.abc import Callable, Sequence
from decimal import Decimal
from typing import TypeVar

from shopdesk.answering.ask.ask_quantities import (
    doc_chests,
    doc_millimetres,
    doc_own,
    doc_put_up,
    doc_quantity,
    of_chosen_size,
)
from shopdesk.answering.ask.document import (
    AskDoc,
    AskRefused,
    BallsAmountDoc,
    BandGaugeDoc,
    CareDoc,
    CountDoc,
    DesignerYarnDoc,
    FibreDoc,
    GaugeDoc,
    LengthAmountDoc,
    LengthDoc,
    MassAmountDoc,
    PartDoc,
    ToolDoc,
    UnknownAmountDoc,
    check_document,
)
from shopdesk.answering.model.ask import (
    OTHER_PATTERN,
    AmountKind,
    Ask,
    DesignerYarn,
    Measurements,
    Part,
    PatternAmount,
    PatternGauge,
    PatternTool,
    StitchPattern,
    Wishes,
)
from shopdesk.craft.blend import attribute_named, checked_blend
from shopdesk.craft.care import checked_care
from shopdesk.craft.counts import CountAmbiguous, CountRefused, count_tex
from shopdesk.craft.errors import InputError, Path, Problem
from shopdesk.craft.fabric import pattern_fabric
from shopdesk.craft.fibres import fibre_named
from shopdesk.craft.gauge import per_10cm
from shopdesk.craft.tools import ToolRefused, tool_mm
from shopdesk.craft.weights import categories_named
from shopdesk.craft.yarn import BandGauge, CareLabel, Craft, FibreShare, YarnCount
from shopdesk.parsing.quantities import Quantity, centimetres, grams, metres

T = TypeVar("T")


def read_ask(document: object) -> Ask:
    """Returns the Ask of a parsed JSON document. Raises AskRefused with every problem found."""
    return _Reader(check_document(document)).read()


class _Reader:
    """Turns checked models into an Ask, collecting problems instead of stopping at the first."""

    def __init__(self, document: AskDoc) -> None:
        self.document = document
        self.problems: list[Problem] = []

    def read(self) -> Ask:
        doc = self.document
        self._require_gauge_or_weight()
        gauge, chests = self._gauge(), self._size_chests()
        ask = Ask(
            title=doc.title,
            craft=doc.craft,
            item=doc.item.kind,
            measurements=self._measurements(chests),
            features=frozenset(doc.item.features),
            gauge=gauge,
            tool=self._pattern_tool(),
            designer_yarn=self._designer_yarn(doc.designer_yarn),
            size_names=tuple(doc.sizes.names) if doc.sizes else (),
            chosen_size=doc.sizes.chosen if doc.sizes else None,
            size_chests_cm=chests,
            parts=self._parts(),
            wearer=doc.wearer,
            washing=doc.washing,
            drying=doc.drying,
            wishes=self._wishes(),
        )
        if self.problems:
            raise AskRefused(self.problems)
        return ask

    def _refuse(self, path: Path, wrong: str, right: str) -> None:
        self.problems.append(Problem(path, wrong, right))

    def _require_gauge_or_weight(self) -> None:
        designer = self.document.designer_yarn
        known = designer and (
            designer.weight or designer.gauge or designer.put_up or designer.count
        )
        if self.document.gauge is None and not known:
            self._refuse(
                ("gauge",),
                "neither the pattern's gauge nor the designer's yarn is given",
                "give the gauge, or the weight, put-up or gauge of the designer's yarn",
            )

    def _gauge(self) -> PatternGauge | None:
        doc = self.document.gauge
        if doc is None:
            return None
        over = doc_millimetres(doc.over)
        stitches = self._plausible_stitches(
            ("gauge", "stitches"), per_10cm(float(doc.stitches), over)
        )
        rows = per_10cm(float(doc.rows), over) if doc.rows is not None else None
        if rows is not None:
            self._plausible_stitches(("gauge", "rows"), rows)
        return PatternGauge(stitches, rows, self._stitch_pattern(doc), doc.after_washing)

    def _stitch_pattern(self, doc: GaugeDoc) -> StitchPattern:
        """The pattern the gauge is counted in; unknown in crochet where nothing is said."""
        pattern, craft = doc.stitch_pattern, self.document.craft
        if craft is Craft.CROCHET and "stitch_pattern" not in doc.model_fields_set:
            return OTHER_PATTERN
        if not pattern_fabric(pattern).is_of(craft):
            made = "knitted" if craft is Craft.CROCHET else "crochet"
            self._refuse(
                ("gauge", "stitch_pattern"),
                f"'{pattern.value}' is a {made} stitch but the craft is {craft.value}",
                f"give a stitch pattern of {craft.value}, or change the craft",
            )
        return pattern

    def _plausible_stitches(self, path: Path, value: float) -> float:
        if not 1 <= value <= 120:
            self._refuse(
                path,
                f"that makes {value:.4g} per 10 cm, which no hand-made fabric has",
                "check the number and the length it is counted over",
            )
        return value

    def _pattern_tool(self) -> PatternTool | None:
        doc = self.document.tool
        if doc is None:
            return None
        mm = self._tool_mm(doc, ("tool", "size"))
        return PatternTool(mm, f"{doc.system} {doc.size}") if mm is not None else None

    def _tool_mm(self, doc: ToolDoc, path: Path, craft: Craft | None = None) -> float | None:
        try:
            return tool_mm(doc.size, doc.system, craft or self.document.craft)
        except ToolRefused as refusal:
            self._refuse(path, refusal.wrong, refusal.right)
            return None

    def _measurements(self, chests: Sequence[float]) -> Measurements:
        doc = self.document.item.measurements
        values = {
            f"{name}_cm": self._length_cm(name, getattr(doc, name))
            for name in ("chest", "width", "length", "around", "foot")
        }
        if values["chest_cm"] is None and values["width_cm"] is None and chests:
            values["chest_cm"] = of_chosen_size(self.document.sizes, chests)
        return Measurements(**values)

    def _size_chests(self) -> tuple[float, ...]:
        sizes = self.document.sizes
        if sizes is None or sizes.chest is None:
            return ()
        path: Path = ("sizes", "chest", "values")
        if len(sizes.chest.values) != len(sizes.names):
            wrong = f"{len(sizes.chest.values)} chests for {len(sizes.names)} sizes"
            self._refuse(path, wrong, "give one for each size, or none")
        for chest in doc_chests(sizes):
            self._plausible_cm(path, chest)
        return doc_chests(sizes)

    def _length_cm(self, name: str, doc: LengthDoc | None) -> float | None:
        if doc is None:
            return None
        value = centimetres(doc_quantity(doc))
        self._plausible_cm(("item", "measurements", name), value)
        return value

    def _plausible_cm(self, path: Path, value: float) -> None:
        if not 1 <= value <= 1000:
            self._refuse(
                path,
                f"{value:.4g} cm is not a plausible measurement of an item",
                "give the finished measurement, between 1 and 1000 cm",
            )

    def _designer_yarn(self, doc: DesignerYarnDoc | None) -> DesignerYarn | None:
        if doc is None:
            return None
        path: Path = ("designer_yarn",)
        for index, name in enumerate(doc.weight):
            if not categories_named(name):
                self._refuse(
                    (*path, "weight", index),
                    f"'{name}' is not a weight name that is known here",
                    "give a name such as fingering, DK or aran, or a number from 0 to 7",
                )
        return DesignerYarn(
            weight_names=tuple(doc.weight),
            put_up=doc_put_up(doc.put_up),
            count=self._count(doc.count, (*path, "count")),
            gauge=self._band_gauge(doc.gauge, (*path, "gauge")),
            wraps_per_inch=float(doc.wraps_per_inch) if doc.wraps_per_inch is not None else None,
            fibres=self._blend(doc.fibres, (*path, "fibres")),
            attributes=frozenset(self._attributes(doc.attributes, (*path, "attributes"))),
            construction=doc.construction,
            strands=doc.strands,
            care=self._care(doc.care, (*path, "care")),
        )

    def _count(self, doc: CountDoc | None, path: Path) -> YarnCount | None:
        if doc is None:
            return None
        count = YarnCount(doc.written, doc.system)
        try:
            count_tex(count)
        except CountAmbiguous as refusal:
            self._refuse((*path, "system"), str(refusal), "give the system the count is written in")
        except CountRefused as refusal:
            self._refuse((*path, "written"), refusal.wrong, refusal.right)
        return count

    def _band_gauge(self, doc: BandGaugeDoc | None, path: Path) -> BandGauge | None:
        if doc is None:
            return None
        over = doc_millimetres(doc.over)
        low = self._plausible_stitches((*path, "stitches"), per_10cm(float(doc.stitches), over))
        high = per_10cm(float(doc.stitches_high), over) if doc.stitches_high is not None else low
        mm = self._tool_mm(doc.tool, (*path, "tool", "size")) if doc.tool else None
        rows = per_10cm(float(doc.rows), over) if doc.rows is not None else None
        return BandGauge(low, high, rows, mm, mm, self.document.craft)

    def _blend(self, docs: Sequence[FibreDoc], path: Path) -> tuple[FibreShare, ...]:
        if not docs:
            return ()
        try:
            return checked_blend([(doc.fibre, doc.percent) for doc in docs])
        except InputError as refusal:
            for problem in refusal.problems:
                where = (*path, *problem.path, "fibre") if problem.path else path
                self._refuse(where, problem.wrong, problem.right)
            return ()

    def _attributes(self, names: Sequence[str], path: Path) -> list[str]:
        return self._named(
            names, path, attribute_named, "give a word such as superwash, merino or organic"
        )

    def _named(
        self, names: Sequence[str], path: Path, known: Callable[[str], str | None], right: str
    ) -> list[str]:
        keys: list[str] = []
        for index, name in enumerate(names):
            key = known(name)
            if key is None:
                self._refuse((*path, index), f"'{name}' is not known here", right)
            else:
                keys.append(key)
        return keys

    def _care(self, doc: CareDoc | None, path: Path) -> CareLabel | None:
        if doc is None:
            return None
        try:
            return checked_care(doc.model_dump())
        except InputError as refusal:
            self.problems += [problem.under(*path) for problem in refusal.problems]
            return None

    def _parts(self) -> tuple[Part, ...]:
        names = [part.name for part in self.document.parts]
        for index, name in enumerate(names):
            if name in names[:index]:
                self._refuse(
                    ("parts", index, "name"),
                    f"two parts are named '{name}'",
                    "give each part a name of its own, such as MC and CC",
                )
        return tuple(self._part(doc, index) for index, doc in enumerate(self.document.parts))

    def _part(self, doc: PartDoc, index: int) -> Part:
        amount = self._amount(doc, ("parts", index, "amount", "values"))
        return Part(doc.name, amount, doc_own(doc.own))

    def _amount(self, part: PartDoc, path: Path) -> PatternAmount:
        doc = part.amount
        if isinstance(doc, UnknownAmountDoc):
            return PatternAmount()
        value = self._value_of_chosen_size(doc.values, path)
        if isinstance(doc, LengthAmountDoc):
            length = metres(Quantity(value, doc.unit))
            return PatternAmount(AmountKind.LENGTH, length_m=length)
        if isinstance(doc, BallsAmountDoc):
            return PatternAmount(
                AmountKind.BALLS, balls=float(value), put_up=doc_put_up(doc.put_up)
            )
        return self._mass_amount(doc, value)

    def _mass_amount(self, doc: MassAmountDoc, value: Decimal) -> PatternAmount:
        mass = grams(Quantity(value, doc.unit))
        return PatternAmount(AmountKind.MASS, mass_g=mass, put_up=doc_put_up(doc.put_up))

    def _value_of_chosen_size(self, values: Sequence[Decimal], path: Path) -> Decimal:
        sizes = self.document.sizes
        if len(values) == 1:
            return values[0]
        if sizes is None:
            self._refuse(path, f"{len(values)} values but no sizes", "give sizes, or one value")
            return values[0]
        if len(values) != len(sizes.names):
            self._refuse(
                path,
                f"{len(values)} values for {len(sizes.names)} sizes",
                "give one value for each size in the order of sizes.names, or a single one",
            )
            return values[0]
        return values[sizes.names.index(sizes.chosen)]

    def _wishes(self) -> Wishes:
        doc = self.document.wishes
        avoid = self._named(
            doc.avoid_fibres,
            ("wishes", "avoid_fibres"),
            fibre_named,
            "give a fibre name such as wool, mohair or acrylic",
        )
        return Wishes(
            avoid_fibres=frozenset(avoid),
            colour_family=doc.colour_family.casefold() if doc.colour_family else None,
            price_limit=doc.price_limit,
            one_lot_only=doc.one_lot_only,
            in_stock_only=doc.in_stock_only,
        )
