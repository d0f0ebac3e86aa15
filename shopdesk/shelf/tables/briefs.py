"""What an answer looks for yarns by, worked out from label and measurements and kept ready."""

from sqlalchemy import Float, Index, String
from sqlalchemy.orm import Mapped, mapped_column

from shopdesk.shelf.base import Base
from shopdesk.shelf.columns import YarnKey


class YarnBrief(Base):
    """One yarn on offer in brief: nothing here is known that does not follow from its other rows.

    `stitches` are natural stitches per 10 cm, `density` in g/cm3; `categories` has bit n set for
    weight category n; `doubts` counts the sentences on where the evidence disagrees, which are
    JSON in `doubts_text`; `metres` are those of the put-up that is sold; `blend` has the fibres
    between commas (',silk,wool,'), and is empty where they are not known; `nature` is written
    by `shopdesk.shelf.natures`; `made_by` names the rules it was worked out by.
    """

    __tablename__ = "yarn_brief"
    __table_args__ = (
        Index("ix_yarn_brief_stitches", "stitches"),
        Index("ix_yarn_brief_tex", "tex"),
        Index("ix_yarn_brief_made_by", "made_by"),
    )

    yarn_id: Mapped[YarnKey] = mapped_column(primary_key=True)
    sku: Mapped[str] = mapped_column(String(40))
    name: Mapped[str] = mapped_column(String(120))
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
    nature: Mapped[str] = mapped_column(String(200))
    price_minor: Mapped[int]
    metres: Mapped[float | None] = mapped_column(Float)
    made_by: Mapped[str] = mapped_column(String(20))
