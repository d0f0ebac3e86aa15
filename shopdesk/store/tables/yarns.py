"""Yarns as stored: label facts, measurements, colours, and what is kept beside to find them."""

from decimal import Decimal

from sqlalchemy import CheckConstraint, Float, ForeignKey, Index, String, UniqueConstraint, false
from sqlalchemy.orm import Mapped, MappedColumn, mapped_column, relationship, validates

from shopdesk.craft import lengths
from shopdesk.parsing.gtins import article_key
from shopdesk.store.types import Base, Day, DecimalText, Key, YarnKey


def _positive(column: str) -> CheckConstraint:
    return CheckConstraint(f"{column} > 0", name=f"{column}_positive")


def _upward(low: str, high: str) -> CheckConstraint:
    return CheckConstraint(f"{low} <= {high}", name=f"{low}_upward")


def _measure() -> MappedColumn[float | None]:
    return mapped_column(Float)


class Yarn(Base):
    """One house yarn: what its band or cone says, its price, and how it is kept.

    Metres, grams, mm and stitches per 10 cm are floats in the unit that the column is named
    after; the price is in the currency's minor units. NULL means that the label does not say.
    Nothing measured by the shop is stored here.
    """

    __tablename__ = "yarn"
    __table_args__ = (
        _positive("put_up_g"),
        _positive("put_up_m"),
        _positive("plies"),
        _upward("knit_stitches_low", "knit_stitches_high"),
        _upward("crochet_stitches_low", "crochet_stitches_high"),
        CheckConstraint("price_minor >= 0", name="price_minor_not_negative"),
    )

    id: Mapped[Key]
    sku: Mapped[str] = mapped_column(String(lengths.SKU), unique=True)
    name: Mapped[str] = mapped_column(String(lengths.YARN), index=True)
    gtin: Mapped[str | None] = mapped_column(String(14))
    gtin_key: Mapped[str | None] = mapped_column(String(14), index=True)
    weight_name: Mapped[str | None] = mapped_column(String(lengths.WEIGHT_NAME))
    put_up_printed: Mapped[str] = mapped_column(
        String(lengths.PUT_UP), default="", server_default=""
    )
    put_up_g: Mapped[float | None] = _measure()
    put_up_m: Mapped[float | None] = _measure()
    count_written: Mapped[str | None] = mapped_column(String(lengths.COUNT))
    count_system: Mapped[str | None] = mapped_column(String(lengths.COUNT))
    knit_stitches_low: Mapped[float | None] = _measure()
    knit_stitches_high: Mapped[float | None] = _measure()
    knit_rows: Mapped[float | None] = _measure()
    needle_mm_low: Mapped[float | None] = _measure()
    needle_mm_high: Mapped[float | None] = _measure()
    crochet_stitches_low: Mapped[float | None] = _measure()
    crochet_stitches_high: Mapped[float | None] = _measure()
    crochet_rows: Mapped[float | None] = _measure()
    hook_mm_low: Mapped[float | None] = _measure()
    hook_mm_high: Mapped[float | None] = _measure()
    plies: Mapped[int | None]
    construction: Mapped[str | None] = mapped_column(String(20))
    wash_c: Mapped[int | None]
    wash_action: Mapped[str | None] = mapped_column(String(20))
    bleach: Mapped[str | None] = mapped_column(String(20))
    tumble: Mapped[str | None] = mapped_column(String(20))
    natural_drying: Mapped[str | None] = mapped_column(String(20))
    iron_c: Mapped[int | None]
    dry_clean: Mapped[str | None] = mapped_column(String(20))
    wet_clean: Mapped[str | None] = mapped_column(String(20))
    price_minor: Mapped[int]
    notes: Mapped[str] = mapped_column(String(lengths.NOTES), default="", server_default="")
    hand_dyed: Mapped[bool] = mapped_column(default=False)
    retired: Mapped[bool] = mapped_column(default=False)
    version_id: Mapped[int] = mapped_column(default=1)

    fibres: Mapped[list["YarnFibre"]] = relationship(
        cascade="all, delete-orphan", passive_deletes=True, order_by="YarnFibre.position"
    )
    attributes: Mapped[list["YarnAttribute"]] = relationship(
        cascade="all, delete-orphan", passive_deletes=True
    )
    measurements: Mapped[list["YarnMeasurement"]] = relationship(
        cascade="all, delete-orphan", passive_deletes=True, order_by="YarnMeasurement.taken_on"
    )
    colourways: Mapped[list["Colourway"]] = relationship(
        cascade="all, delete-orphan",
        passive_deletes=True,
        order_by="Colourway.code",
        back_populates="yarn",
    )

    __mapper_args__ = {"version_id_col": version_id}  # noqa: RUF012

    @validates("gtin")
    def _keep_key(self, _name: str, gtin: str | None) -> str | None:
        self.gtin_key = article_key(gtin) if gtin else None
        return gtin


class YarnFibre(Base):
    """One line of a yarn's blend; the lines of a yarn add up to exactly 100."""

    __tablename__ = "yarn_fibre"

    yarn_id: Mapped[YarnKey] = mapped_column(primary_key=True)
    position: Mapped[int] = mapped_column(primary_key=True)
    fibre: Mapped[str] = mapped_column(String(40), index=True)
    percent: Mapped[Decimal] = mapped_column(DecimalText)


class YarnAttribute(Base):
    """A word about the fibre that is no fibre name: superwash, merino, organic."""

    __tablename__ = "yarn_attribute"

    yarn_id: Mapped[YarnKey] = mapped_column(primary_key=True)
    attribute: Mapped[str] = mapped_column(String(40), primary_key=True)


class YarnMeasurement(Base):
    """What the shop, or a customer of it, measured on the yarn; never what the label says.

    `stitches` and `stitch_rows` are per 10 cm. `slip_number` is that of the slip that a
    customer's swatch belongs to; `asked_for` says that the shop had asked how it came out.
    """

    __tablename__ = "yarn_measurement"
    __table_args__ = (
        _positive("wraps_per_inch"),
        _positive("stitches"),
        _positive("length_m"),
        _positive("mass_g"),
    )

    id: Mapped[Key]
    yarn_id: Mapped[YarnKey] = mapped_column(index=True)
    kind: Mapped[str] = mapped_column(String(20))
    taken_on: Mapped[Day]
    taken_by: Mapped[str] = mapped_column(String(lengths.STAFF), default="", server_default="")
    wraps_per_inch: Mapped[float | None] = _measure()
    stitches: Mapped[float | None] = _measure()
    stitch_rows: Mapped[float | None] = _measure()
    tool_mm: Mapped[float | None] = _measure()
    washed: Mapped[bool | None]
    stitch_pattern: Mapped[str] = mapped_column(
        String(40), default="stockinette", server_default="stockinette"
    )
    craft: Mapped[str] = mapped_column(String(10), default="knit", server_default="knit")
    length_m: Mapped[float | None] = _measure()
    mass_g: Mapped[float | None] = _measure()
    from_customer: Mapped[bool] = mapped_column(default=False)
    hand: Mapped[str | None] = mapped_column(String(lengths.HAND))
    slip_number: Mapped[int | None]
    strands: Mapped[int] = mapped_column(default=1, server_default="1")
    asked_for: Mapped[bool] = mapped_column(default=False, server_default=false())


class Colourway(Base):
    """A colour of a yarn. A retired one is offered only while some of it is left."""

    __tablename__ = "colourway"
    __table_args__ = (
        UniqueConstraint("yarn_id", "code", name="uq_colourway_yarn_code"),
        Index("ix_colourway_gtin_key", "gtin_key"),
    )

    id: Mapped[Key]
    yarn_id: Mapped[YarnKey]
    code: Mapped[str] = mapped_column(String(lengths.COLOUR_CODE))
    name: Mapped[str] = mapped_column(String(lengths.COLOUR))
    family: Mapped[str] = mapped_column(String(20))
    dark: Mapped[bool] = mapped_column(default=False)
    gtin: Mapped[str | None] = mapped_column(String(14))
    gtin_key: Mapped[str | None] = mapped_column(String(14))
    retired: Mapped[bool] = mapped_column(default=False)

    yarn: Mapped[Yarn] = relationship(back_populates="colourways")

    @validates("gtin")
    def _keep_key(self, _name: str, gtin: str | None) -> str | None:
        self.gtin_key = article_key(gtin) if gtin else None
        return gtin


class DyeLot(Base):
    """A dye lot of a colour. `lot` is '' for a yarn that comes without lots."""

    __tablename__ = "dye_lot"
    __table_args__ = (UniqueConstraint("colourway_id", "lot", name="uq_dye_lot_colourway_lot"),)

    id: Mapped[Key]
    colourway_id: Mapped[int] = mapped_column(ForeignKey("colourway.id", ondelete="CASCADE"))
    lot: Mapped[str] = mapped_column(String(lengths.LOT), default="", server_default="")


LONGEST_WORD = 40
PLAIN_TEXT = String(LONGEST_WORD).with_variant(String(LONGEST_WORD, collation="C"), "postgresql")
"""Text compared byte by byte, so that a range of an index holds all words that begin alike."""


class YarnWord(Base):
    """One word of a yarn's name, article number or weight name, in small letters and plain."""

    __tablename__ = "yarn_word"
    __table_args__ = (
        Index("ix_yarn_word_yarn_id", "yarn_id"),
        {"sqlite_with_rowid": False},
    )

    word: Mapped[str] = mapped_column(PLAIN_TEXT, primary_key=True)
    yarn_id: Mapped[YarnKey] = mapped_column(primary_key=True)


class YarnIndex(Base):
    """The summary of one yarn on offer: nothing in it but what follows from its other rows.

    `stitches` are natural stitches per 10 cm, `density` in g/cm3; `categories` has bit n set for
    weight category n; `doubts` counts the sentences on where the evidence disagrees, which are
    JSON in `doubts_text`; `metres` are those of the put-up that is sold; `blend` has the fibres
    between commas (',silk,wool,'), and is empty where they are not known; `wear_and_care` is
    written by `shopdesk.shelf.yarn_index`; `made_by` names the rules it was worked out by.
    """

    __tablename__ = "yarn_brief"
    __table_args__ = (
        Index("ix_yarn_brief_stitches", "stitches"),
        Index("ix_yarn_brief_tex", "tex"),
        Index("ix_yarn_brief_made_by", "made_by"),
    )

    yarn_id: Mapped[YarnKey] = mapped_column(primary_key=True)
    sku: Mapped[str] = mapped_column(String(lengths.SKU))
    name: Mapped[str] = mapped_column(String(lengths.YARN))
    stitches: Mapped[float | None] = mapped_column(Float)
    stitches_low: Mapped[float | None] = mapped_column(Float)
    stitches_high: Mapped[float | None] = mapped_column(Float)
    stitches_basis: Mapped[str | None] = mapped_column(String(20))
    tex: Mapped[float | None] = mapped_column(Float)
    density: Mapped[float | None] = mapped_column(Float)
    categories: Mapped[int]
    doubts: Mapped[int]
    doubts_text: Mapped[str] = mapped_column(String(2000))
    blend: Mapped[str] = mapped_column(String(1000))
    wear_and_care: Mapped[str] = mapped_column("nature", String(1000), key="wear_and_care")
    price_minor: Mapped[int]
    metres: Mapped[float | None] = mapped_column(Float)
    made_by: Mapped[str] = mapped_column(String(20))
