"""What is remembered of a visit: slips, swatches, asks, and keys of requests carried out."""

from typing import Any

from sqlalchemy import JSON, CheckConstraint, Float, ForeignKey, String, UniqueConstraint
from sqlalchemy.orm import Mapped, mapped_column

from shopdesk.craft import lengths
from shopdesk.store.types import Base, Day, Key, Moments
from shopdesk.wording.formatting import CrochetTerms, Units


class Slip(Base):
    """One slip, numbered without gaps in its branch. Only the customer's name and hand may go.

    `words` is the slip as it was first printed; `content` is the same without a language;
    `ask` and `choice` are what produced it. `customer_key` is the name as it is searched for.
    """

    __tablename__ = "slip"
    __table_args__ = (UniqueConstraint("branch_id", "number"),)

    id: Mapped[Key]
    branch_id: Mapped[int] = mapped_column(ForeignKey("branch.id", ondelete="RESTRICT"))
    number: Mapped[int]
    made_on: Mapped[Day] = mapped_column(index=True)
    made_at: Mapped[Moments]
    staff: Mapped[str] = mapped_column(String(lengths.STAFF))
    title: Mapped[str] = mapped_column(String(lengths.TITLE))
    sku: Mapped[str] = mapped_column(String(lengths.SKU), index=True)
    yarn: Mapped[str] = mapped_column(String(lengths.YARN))
    paper: Mapped[str] = mapped_column(String(20))
    units: Mapped[Units] = mapped_column(String(10))
    crochet_terms: Mapped[CrochetTerms] = mapped_column(String(2))
    ask: Mapped[dict[str, Any]] = mapped_column(JSON)
    choice: Mapped[dict[str, Any]] = mapped_column(JSON)
    content: Mapped[dict[str, Any]] = mapped_column(JSON)
    words: Mapped[dict[str, Any]] = mapped_column(JSON)
    customer_name: Mapped[str | None] = mapped_column(String(lengths.CUSTOMER))
    customer_key: Mapped[str | None] = mapped_column(String(lengths.NAME_KEY), index=True)
    supersedes_id: Mapped[int | None] = mapped_column(
        ForeignKey("slip.id", ondelete="RESTRICT"), unique=True
    )
    request_key: Mapped[str | None] = mapped_column(String(lengths.REQUEST_KEY), unique=True)


def _positive(column: str) -> CheckConstraint:
    return CheckConstraint(f"{column} > 0", name=f"{column}_positive")


class Swatch(Base):
    """One swatch. Its gauge, tool and hand stand in its measurement, the yarn's own evidence.

    `over_cm` is the shortest length that it was counted over; width, height and grams are of the
    whole swatch, if it was weighed. Without a slip it belongs to the yarn alone.
    """

    __tablename__ = "swatch"
    __table_args__ = tuple(
        _positive(column) for column in ("over_cm", "width_cm", "height_cm", "mass_g")
    )

    id: Mapped[Key]
    measurement_id: Mapped[int] = mapped_column(
        ForeignKey("yarn_measurement.id", ondelete="CASCADE"), unique=True
    )
    slip_id: Mapped[int | None] = mapped_column(
        ForeignKey("slip.id", ondelete="RESTRICT"), index=True
    )
    over_cm: Mapped[float] = mapped_column(Float)
    width_cm: Mapped[float | None] = mapped_column(Float)
    height_cm: Mapped[float | None] = mapped_column(Float)
    mass_g: Mapped[float | None] = mapped_column(Float)


class SavedAsk(Base):
    """One ask document as it was asked; `token` is its random name in addresses."""

    __tablename__ = "kept_ask"

    token: Mapped[str] = mapped_column(String(32), primary_key=True)
    document: Mapped[dict[str, Any]] = mapped_column(JSON)
    kept_at: Mapped[Moments] = mapped_column(index=True)


class UsedRequestKey(Base):
    """The random word of a form whose work was kept."""

    __tablename__ = "done_form"

    key: Mapped[str] = mapped_column(String(lengths.REQUEST_KEY), primary_key=True)
    at: Mapped[Moments] = mapped_column(index=True)
