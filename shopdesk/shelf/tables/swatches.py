"""Swatches that customers brought back: to which slip each belongs, and what its scale said."""

from sqlalchemy import CheckConstraint, Float, ForeignKey
from sqlalchemy.orm import Mapped, mapped_column

from shopdesk.shelf.base import Base
from shopdesk.shelf.columns import Key


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
