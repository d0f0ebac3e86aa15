"""The ask as a JSON document: what each part may hold, and what it is in the Ask's fixed units."""

from collections.abc import Sequence
from decimal import Decimal
from typing import Annotated, Any, Literal

from pydantic import Field, model_validator

from shopdesk.answering.ask.customer_document import HandDoc, WishesDoc
from shopdesk.answering.ask.document_base import (
    AskPlace,
    Document,
    Values,
    Word,
    cannot_be,
)
from shopdesk.answering.ask.yarn_document import (
    CareDoc,
    DesignerYarnDoc,
    FibreDoc,
    GaugeDoc,
    LengthDoc,
    MassDoc,
    PutUpDoc,
    ToolDoc,
    read_attributes,
    read_blend,
)
from shopdesk.answering.model.ask import (
    OTHER_ITEM,
    AmountKind,
    Ask,
    Drying,
    Feature,
    ItemKind,
    OwnYarn,
    Part,
    PatternAmount,
    Washing,
    Wearer,
)
from shopdesk.craft.errors import InputErrors
from shopdesk.craft.items import Measurements
from shopdesk.craft.messages import message, significant
from shopdesk.craft.yarn import Craft
from shopdesk.parsing.quantities import Quantity, centimetres, grams, metres

VALUES_HELP = "one number, or one for each size, in the order of sizes.names"


class AskRefused(InputErrors):
    """The document cannot be answered; `problems` lists every reason found."""

    whole = message("problem_ask.whole")


def _of_chosen_size(values: Sequence[Decimal], at: AskPlace, sizes: "SizesDoc | None") -> Decimal:
    first, *others = values
    if not others:
        return first
    if sizes is None:
        wrong = message("problem_ask.values_no_sizes", count=len(values))
        at.refuse(wrong, message("problem_ask.give_sizes"))
        return first
    if len(values) != len(sizes.names):
        names = len(sizes.names)
        wrong = message("problem_ask.values_for_sizes", values=len(values), sizes=names)
        at.refuse(wrong, message("problem_ask.one_value_each"))
        return first
    return values[sizes.place()]


def _plausible_cm(at: AskPlace, value: float) -> float:
    if not 1 <= value <= 1000:
        at.refuse(
            message("problem_ask.no_measurement", size_exact=significant(value, 4)),
            message("problem_ask.give_finished"),
        )
    return value


class LengthAmountDoc(Document):
    kind: Literal["length"] = Field(description="length, balls, mass or unknown")
    values: Values = Field(description=VALUES_HELP)
    unit: Literal["m", "yd"] = Field(description="one of m, yd")

    def read(self, at: AskPlace, sizes: "SizesDoc | None") -> PatternAmount:
        value = _of_chosen_size(self.values, at / "values", sizes)
        return PatternAmount(AmountKind.LENGTH, length_m=metres(Quantity(value, self.unit)))


class BallsAmountDoc(Document):
    kind: Literal["balls"] = Field(description="length, balls, mass or unknown")
    values: Values = Field(description=VALUES_HELP)
    put_up: PutUpDoc | None = Field(None, description="mass and length of one ball")

    def read(self, at: AskPlace, sizes: "SizesDoc | None") -> PatternAmount:
        balls = float(_of_chosen_size(self.values, at / "values", sizes))
        put_up = self.put_up.read() if self.put_up else None
        return PatternAmount(AmountKind.BALLS, balls=balls, put_up=put_up)


class MassAmountDoc(Document):
    kind: Literal["mass"] = Field(description="length, balls, mass or unknown")
    values: Values = Field(description=VALUES_HELP)
    unit: Literal["g", "kg", "oz", "lb"] = Field(description="one of g, kg, oz, lb")
    put_up: PutUpDoc | None = Field(None, description="mass and length of one ball")

    def read(self, at: AskPlace, sizes: "SizesDoc | None") -> PatternAmount:
        value = _of_chosen_size(self.values, at / "values", sizes)
        mass = grams(Quantity(value, self.unit))
        put_up = self.put_up.read() if self.put_up else None
        return PatternAmount(AmountKind.MASS, mass_g=mass, put_up=put_up)


class UnknownAmountDoc(Document):
    kind: Literal["unknown"] = Field(description="length, balls, mass or unknown")

    def read(self, at: AskPlace, sizes: "SizesDoc | None") -> PatternAmount:
        return PatternAmount()


AmountDoc = Annotated[
    LengthAmountDoc | BallsAmountDoc | MassAmountDoc | UnknownAmountDoc,
    Field(discriminator="kind"),
]


class OwnYarnDoc(Document):
    """Yarn in hand: the one that the pattern names, or the house yarn `sku`."""

    length: LengthDoc | None = Field(None, description="the length in hand")
    mass: MassDoc | None = Field(
        None, description="the weight in hand; then put_up or sku is needed too"
    )
    put_up: PutUpDoc | None = Field(None, description="mass and length of one full ball of it")
    sku: Word | None = Field(None, description="the SKU of the house yarn that it is")
    strands: int | None = Field(
        None, ge=1, le=4, description="1 to 4 strands of it held together; else as in the pattern"
    )
    fibres: list[FibreDoc] = Field(
        [], max_length=12, description="fibres with shares that add up to 100"
    )
    attributes: list[Word] = Field(
        [], max_length=12, description="words such as superwash or merino"
    )
    care: CareDoc | None = Field(None, description="care axes in words")

    @model_validator(mode="after")
    def _length_or_weighed(self) -> "OwnYarnDoc":
        by_mass = self.mass is not None and (self.put_up or self.sku)
        if self.length is None and not by_mass:
            raise cannot_be(message("problem_ask.length_or_mass"))
        return self

    def read(self, at: AskPlace) -> OwnYarn:
        return OwnYarn(
            length_m=self.length.metres() if self.length else None,
            mass_g=self.mass.grams() if self.mass else None,
            put_up=self.put_up.read() if self.put_up else None,
            sku=self.sku,
            strands=self.strands,
            fibres=read_blend(self.fibres, at / "fibres"),
            attributes=read_attributes(self.attributes, at / "attributes"),
            care=self.care.read(at / "care") if self.care else None,
        )


class PartDoc(Document):
    name: Word = Field("main", description="a short name such as MC or sleeves")
    amount: AmountDoc = Field(description='an object such as {"kind": "unknown"}')
    own: OwnYarnDoc | None = Field(None, description="yarn of this part already in hand")

    def read(self, at: AskPlace, sizes: "SizesDoc | None") -> Part:
        amount = self.amount.read(at / "amount", sizes)
        return Part(self.name, amount, self.own.read(at / "own") if self.own else None)


class ChestsDoc(Document):
    values: Values = Field(description="one finished measurement for each size, in their order")
    unit: Literal["cm", "in", "m", "mm", "ft", "yd"] = Field(
        description="one of cm, in, m, mm, ft, yd"
    )

    def read(self, at: AskPlace, sizes: int) -> tuple[float, ...]:
        if len(self.values) != sizes:
            wrong = message("problem_ask.chests_for_sizes", chests=len(self.values), sizes=sizes)
            (at / "values").refuse(wrong, message("problem_ask.one_chest_each"))
        cm = (centimetres(Quantity(value, self.unit)) for value in self.values)
        return tuple(_plausible_cm(at / "values", value) for value in cm)


class SizesDoc(Document):
    names: list[Word] = Field(min_length=1, max_length=30, description="the sizes in order")
    chosen: Word = Field(description="one of sizes.names")
    chest: ChestsDoc | None = Field(
        None,
        description="the finished chest (or width) of every size, such as "
        '{"values": [96, 101, 106], "unit": "cm"}; a swatch that is off is held against it',
    )

    @model_validator(mode="after")
    def _chosen_is_listed(self) -> "SizesDoc":
        if self.chosen not in self.names:
            raise cannot_be(message("problem_ask.chosen_not_named", size=self.chosen))
        if len(set(self.names)) != len(self.names):
            raise cannot_be(message("problem_ask.sizes_alike"))
        return self

    def place(self) -> int:
        """Returns where the chosen size stands among the names."""
        return self.names.index(self.chosen)


class MeasurementsDoc(Document):
    chest: LengthDoc | None = Field(None, description="finished chest or bust, all around")
    width: LengthDoc | None = Field(None, description="finished width")
    length: LengthDoc | None = Field(None, description="finished length")
    around: LengthDoc | None = Field(None, description="around the head, hand or leg")
    foot: LengthDoc | None = Field(None, description="length of the foot")

    def read(self, at: AskPlace) -> dict[str, float]:
        """Returns the measurements that are given, in cm, by their name in the Ask."""
        given = ((name, length) for name, length in self if length is not None)
        return {f"{name}_cm": _plausible_cm(at / name, length.cm()) for name, length in given}


class ItemDoc(Document):
    kind: ItemKind = Field(OTHER_ITEM, description="an item kind named in the schema")
    measurements: MeasurementsDoc = Field(
        default_factory=lambda: MeasurementsDoc.model_validate({}),
        description="the finished item's measurements",
    )
    features: list[Feature] = Field([], max_length=20, description="features named in the schema")


class AskDoc(Document):
    """A customer's pattern and wishes. The gauge or the designer's weight is needed."""

    title: Word = Field("pattern", description="a few words of your own, such as 'striped hat'")
    craft: Craft = Field(Craft.KNIT, description="knit or crochet")
    item: ItemDoc = Field(
        default_factory=lambda: ItemDoc.model_validate({}), description="what is to be made"
    )
    gauge: GaugeDoc | None = Field(None, description="the pattern's gauge")
    tool: ToolDoc | None = Field(None, description="the needle or hook the pattern names")
    designer_yarn: DesignerYarnDoc | None = Field(None, description="the yarn it was designed in")
    sizes: SizesDoc | None = Field(None, description="names of the sizes and the chosen one")
    parts: list[PartDoc] = Field(
        min_length=1, max_length=12, description="one part for each colour that is counted"
    )
    wearer: Wearer = Field(Wearer.UNKNOWN, description="who it is for, as named in the schema")
    washing: Washing = Field(Washing.UNKNOWN, description="how it will be washed")
    drying: Drying = Field(Drying.UNKNOWN, description="how it will be dried")
    wishes: WishesDoc = Field(
        default_factory=lambda: WishesDoc.model_validate({}), description="the customer's wishes"
    )

    hand: HandDoc | None = Field(
        None,
        description="by how much the knitter always works tighter or looser than usual, such as "
        '{"percent": 4, "way": "tighter"}; it moves the tool to start with and nothing else',
    )

    def read(self) -> Ask:
        """Returns the Ask in fixed units. Raises AskRefused with every problem found."""
        at, sizes = AskPlace(self.craft), self.sizes
        self._require_gauge_or_weight(at)
        gauge, chests = self.gauge.read(at / "gauge") if self.gauge else None, self._chests(at)
        ask = Ask(
            title=self.title,
            craft=self.craft,
            item=self.item.kind,
            measurements=self._measurements(at / "item" / "measurements", chests),
            features=frozenset(self.item.features),
            gauge=gauge,
            tool=self.tool.read(at / "tool") if self.tool else None,
            designer_yarn=(
                self.designer_yarn.read(at / "designer_yarn") if self.designer_yarn else None
            ),
            size_names=tuple(sizes.names) if sizes else (),
            chosen_size=sizes.chosen if sizes else None,
            size_chests_cm=chests,
            parts=self._parts(at / "parts"),
            wearer=self.wearer,
            washing=self.washing,
            drying=self.drying,
            wishes=self.wishes.read(at / "wishes"),
            hand_percent=self.hand.read() if self.hand else 0.0,
        )
        if at.problems:
            raise AskRefused(at.problems)
        return ask

    def _require_gauge_or_weight(self, at: AskPlace) -> None:
        designer = self.designer_yarn
        if self.gauge is None and not (designer and designer.says_how_thick()):
            (at / "gauge").refuse(
                message("problem_ask.no_gauge"), message("problem_ask.give_gauge")
            )

    def _chests(self, at: AskPlace) -> tuple[float, ...]:
        sizes = self.sizes
        if sizes is None or sizes.chest is None:
            return ()
        return sizes.chest.read(at / "sizes" / "chest", len(sizes.names))

    def _measurements(self, at: AskPlace, chests: Sequence[float]) -> Measurements:
        given = self.item.measurements.read(at)
        place = self.sizes.place() if self.sizes else 0
        if place < len(chests) and not given.keys() & {"chest_cm", "width_cm"}:
            given["chest_cm"] = chests[place]
        return Measurements(**given)

    def _parts(self, at: AskPlace) -> tuple[Part, ...]:
        names = [part.name for part in self.parts]
        for index, name in enumerate(names):
            if name in names[:index]:
                (at / index / "name").refuse(
                    message("problem_ask.parts_alike", name=name),
                    message("problem_ask.name_parts"),
                )
        return tuple(part.read(at / index, self.sizes) for index, part in enumerate(self.parts))


def ask_schema() -> dict[str, Any]:
    """Returns the JSON Schema (draft 2020-12) of the ask document."""
    schema = AskDoc.model_json_schema()
    return {"$schema": "https://json-schema.org/draft/2020-12/schema", **schema}
