"""The shop's settings, and the asks that nothing on the shelf could answer."""

from sqlalchemy import JSON, Float, String, Text
from sqlalchemy.orm import Mapped, mapped_column

from shopdesk.store.types import Base, Key, Moments


class Setting(Base):
    """One setting of the shop; the value is JSON, read by shopdesk.store.settings."""

    __tablename__ = "setting"

    name: Mapped[str] = mapped_column(String(60), primary_key=True)
    value: Mapped[str] = mapped_column(Text)


class UnmetAsk(Base):
    """An ask that no yarn fitted, without anything about the customer.

    `categories` are the standard's numbers, `fibres` what the designer used, `reason` the code
    of the Message that decided most often, `stitches` per 10 cm.
    """

    __tablename__ = "unmet_ask"

    id: Mapped[Key]
    at: Mapped[Moments] = mapped_column(index=True)
    item: Mapped[str] = mapped_column(String(40))
    craft: Mapped[str] = mapped_column(String(10))
    categories: Mapped[list[int]] = mapped_column(JSON)
    stitches: Mapped[float | None] = mapped_column(Float)
    fibres: Mapped[list[str]] = mapped_column(JSON)
    washing: Mapped[str] = mapped_column(String(40), default="", server_default="")
    colour_family: Mapped[str | None] = mapped_column(String(20))
    reason: Mapped[str] = mapped_column(String(80))
