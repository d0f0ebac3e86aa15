"""The ask as a JSON document: its models, its JSON Schema, and reading it into an Ask.

A number may be a JSON number or a string as a person writes it ('3,5', '1 1/2'). Each field's
description says what would be right; it is also what a refusal tells the user.
"""

from collections.abc import Iterable, Mapping
from decimal import Decimal
from typing import Annotated, Any, Literal

from pydantic import (
    BaseModel,
    BeforeValidator,
    ConfigDict,
    Field,
    StringConstraints,
    ValidationError,
    WithJsonSchema,
    model_validator,
)

from shopdesk.answering.model.ask import (
    OTHER_ITEM,
    STOCKINETTE,
    Drying,
    Feature,
    ItemKind,
    StitchPattern,
    Washing,
    Wearer,
)
from shopdesk.craft.errors import InputErrors, Path, Problem
from shopdesk.craft.numerals import RIGHT, WRITTEN_PATTERN, NumberRefused, read_number
from shopdesk.craft.yarn import Construction, Craft


class AskRefused(InputErrors):
    """The document cannot be answered; `problems` lists every reason found."""

    whole = "the ask"


SMALLEST = Decimal("0.001")


def _strict_number(value: object) -> object:
    number = _number_of(value)
    if number.is_finite() and 0 < abs(number) < SMALLEST:
        raise ValueError(f"a number this small cannot be meant; the least is {SMALLEST}")
    return number


def _number_of(value: object) -> Decimal:
    if isinstance(value, str):
        try:
            return read_number(value)
        except NumberRefused as refusal:
            offered = "" if refusal.right == RIGHT else f" ({refusal.right})"
            raise ValueError(refusal.wrong + offered) from None
    if isinstance(value, bool) or not isinstance(value, int | float | Decimal):
        raise ValueError("this is not a number")
    return Decimal(str(value))


Number = Annotated[
    Decimal,
    BeforeValidator(_strict_number),
    WithJsonSchema({"anyOf": [{"type": "number"}, {"type": "string", "pattern": WRITTEN_PATTERN}]}),
]
Positive = Annotated[Number, Field(gt=0, le=100000)]
Stitches = Annotated[Number, Field(gt=0, le=2000)]
Percent = Annotated[Number, Field(gt=0, le=100)]
Money = Annotated[Number, Field(ge=0, le=1000000)]
Word = Annotated[str, StringConstraints(strip_whitespace=True, min_length=1, max_length=80)]


class Document(BaseModel):
    """A part of the ask; fields that are not named here are refused."""

    model_config = ConfigDict(extra="forbid", frozen=True)


class LengthDoc(Document):
    value: Positive = Field(description="a length such as 10, 3,5 or 1 1/2")
    unit: Literal["m", "yd", "cm", "mm", "in", "ft"] = Field(
        description="one of m, yd, cm, mm, in, ft"
    )


class MassDoc(Document):
    value: Positive = Field(description="a mass such as 50 or 1 3/4")
    unit: Literal["g", "kg", "oz", "lb"] = Field(description="one of g, kg, oz, lb")


class PutUpDoc(Document):
    mass: MassDoc = Field(description='an object such as {"value": 50, "unit": "g"}')
    length: LengthDoc = Field(description='an object such as {"value": 125, "unit": "m"}')


class ToolDoc(Document):
    size: Word = Field(
        description="a size such as '4.0' in mm, or a US or UK number such as '10 1/2'"
    )
    system: Literal["mm", "US", "UK"] = Field(description="one of mm, US, UK")


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
            raise ValueError(f"the range {self.stitches} to {self.stitches_high} is reversed")
        return self


class GaugeDoc(Document):
    stitches: Stitches = Field(description="a number of stitches such as 22 or 22.5")
    rows: Stitches | None = Field(None, description="a number of rows such as 30, or nothing")
    over: LengthDoc = Field(description='an object such as {"value": 10, "unit": "cm"}')
    stitch_pattern: StitchPattern = Field(
        STOCKINETTE, description="a stitch pattern named in the schema"
    )
    after_washing: bool | None = Field(None, description="true, false or null for unknown")


class FibreDoc(Document):
    fibre: Word = Field(description="a fibre name such as wool, cotton or polyamide")
    percent: Percent = Field(description="a share of 100 such as 75")


class CountDoc(Document):
    written: Word = Field(description="a yarn count such as '2/28' or '30 tex'")
    system: Word = Field(description="the count's system, such as Nm, Ne, worsted or tex")


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


Values = Annotated[list[Positive], Field(min_length=1, max_length=30)]
VALUES_HELP = "one number, or one for each size, in the order of sizes.names"


class LengthAmountDoc(Document):
    kind: Literal["length"] = Field(description="length, balls, mass or unknown")
    values: Values = Field(description=VALUES_HELP)
    unit: Literal["m", "yd"] = Field(description="one of m, yd")


class BallsAmountDoc(Document):
    kind: Literal["balls"] = Field(description="length, balls, mass or unknown")
    values: Values = Field(description=VALUES_HELP)
    put_up: PutUpDoc = Field(description="mass and length of one ball")


class MassAmountDoc(Document):
    kind: Literal["mass"] = Field(description="length, balls, mass or unknown")
    values: Values = Field(description=VALUES_HELP)
    unit: Literal["g", "kg", "oz", "lb"] = Field(description="one of g, kg, oz, lb")
    put_up: PutUpDoc = Field(description="mass and length of one ball")


class UnknownAmountDoc(Document):
    kind: Literal["unknown"] = Field(description="length, balls, mass or unknown")


AmountDoc = Annotated[
    LengthAmountDoc | BallsAmountDoc | MassAmountDoc | UnknownAmountDoc,
    Field(discriminator="kind"),
]


class OwnYarnDoc(Document):
    length: LengthDoc | None = Field(None, description="the length in hand")
    mass: MassDoc | None = Field(None, description="the weight in hand; then put_up is needed too")
    put_up: PutUpDoc | None = Field(None, description="mass and length of one full ball of it")

    @model_validator(mode="after")
    def _length_or_weighed(self) -> "OwnYarnDoc":
        if self.length is None and (self.mass is None or self.put_up is None):
            raise ValueError("give a length, or a mass together with its put_up")
        return self


class PartDoc(Document):
    name: Word = Field("main", description="a short name such as MC or sleeves")
    amount: AmountDoc = Field(description='an object such as {"kind": "unknown"}')
    own: OwnYarnDoc | None = Field(None, description="yarn of this part already in hand")


class ChestsDoc(Document):
    values: Values = Field(description="one finished measurement for each size, in their order")
    unit: Literal["cm", "in", "m", "mm", "ft", "yd"] = Field(
        description="one of cm, in, m, mm, ft, yd"
    )


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
            raise ValueError(f"the chosen size '{self.chosen}' is not one of the names")
        if len(set(self.names)) != len(self.names):
            raise ValueError("two sizes have the same name")
        return self


class MeasurementsDoc(Document):
    chest: LengthDoc | None = Field(None, description="finished chest or bust, all around")
    width: LengthDoc | None = Field(None, description="finished width")
    length: LengthDoc | None = Field(None, description="finished length")
    around: LengthDoc | None = Field(None, description="around the head, hand or leg")
    foot: LengthDoc | None = Field(None, description="length of the foot")


class ItemDoc(Document):
    kind: ItemKind = Field(OTHER_ITEM, description="an item kind named in the schema")
    measurements: MeasurementsDoc = Field(
        default_factory=lambda: MeasurementsDoc.model_validate({}),
        description="the finished item's measurements",
    )
    features: list[Feature] = Field([], max_length=20, description="features named in the schema")


class WishesDoc(Document):
    avoid_fibres: list[Word] = Field([], max_length=20, description="fibre names to avoid")
    colour_family: Word | None = Field(None, description="a colour family such as blue")
    price_limit: Money | None = Field(
        None, description="the most the whole item's yarn may cost, such as 60"
    )
    one_lot_only: bool = Field(False, description="true or false")
    in_stock_only: bool = Field(False, description="true or false")


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


def ask_schema() -> dict[str, Any]:
    """Returns the JSON Schema (draft 2020-12) of the ask document."""
    schema = AskDoc.model_json_schema()
    return {"$schema": "https://json-schema.org/draft/2020-12/schema", **schema}


def check_document(document: object) -> AskDoc:
    """Returns the checked models of a parsed JSON document. Raises AskRefused."""
    if not isinstance(document, Mapping):
        raise AskRefused([Problem((), "this is not a JSON object", "write { ... }")])
    try:
        return AskDoc.model_validate(document)
    except ValidationError as refusal:
        raise AskRefused(_problem(error) for error in refusal.errors()) from None


def _problem(error: Any) -> Problem:
    path = _document_path(error["loc"])
    right = _right_at(path)
    kind, context = error["type"], error.get("ctx", {})
    if kind == "missing":
        return Problem(path, "this field is missing", f"give {right}")
    if kind == "extra_forbidden":
        return Problem(path, "this field is not known", _known_fields(path[:-1]))
    if kind == "value_error":
        return Problem(path, str(context["error"]), f"give {right}" if right else "correct it")
    message = str(error["msg"])
    return Problem(path, message[:1].lower() + message[1:], f"give {right}")


_UNION_TAGS = ("length", "balls", "mass", "unknown")


def _document_path(loc: Iterable[str | int]) -> Path:
    """Drops the tag that the models put behind 'amount' to say which kind was read."""
    path: list[str | int] = []
    for step in loc:
        if path and path[-1] == "amount" and step in _UNION_TAGS and "tag" not in path:
            path.append("tag")
            continue
        path.append(step)
    return tuple(step for step in path if step != "tag")


def _models_at(path: Path) -> list[type[BaseModel]]:
    models: list[type[BaseModel]] = [AskDoc]
    for step in path:
        if isinstance(step, int):
            continue
        found: list[type[BaseModel]] = []
        for model in models:
            field = model.model_fields.get(step)
            if field is not None:
                found += _models_in(field.annotation)
        models = found
    return models


def _models_in(annotation: Any) -> list[type[BaseModel]]:
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return [annotation]
    arguments = getattr(annotation, "__args__", ())
    return [model for argument in arguments for model in _models_in(argument)]


def _right_at(path: Path) -> str:
    names = [step for step in path if isinstance(step, str)]
    if not names:
        return "a gauge or a designer's weight, and an amount or 'unknown'"
    for model in _models_at(path[: len(path) - 1 - path[::-1].index(names[-1])]):
        field = model.model_fields.get(names[-1])
        if field is not None and field.description:
            return field.description
    return ""


def _known_fields(path: Path) -> str:
    names = sorted({name for model in _models_at(path) for name in model.model_fields})
    return "known here are " + ", ".join(names)
