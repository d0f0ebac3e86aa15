"""Slips that went home: what each said, in data and in words, and what produced it."""

from typing import Any

from sqlalchemy import JSON, ForeignKey, String, UniqueConstraint
from sqlalchemy.orm import Mapped, mapped_column

from shopdesk.shelf.base import Base
from shopdesk.shelf.columns import Day, Key, Moments
from shopdesk.wording.voice import CrochetTerms, Units


class Slip(Base):
    """One slip, numbered without gaps in its branch. Only the customer's name may be changed.

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
    staff: Mapped[str] = mapped_column(String(60))
    title: Mapped[str] = mapped_column(String(80))
    sku: Mapped[str] = mapped_column(String(40), index=True)
    yarn: Mapped[str] = mapped_column(String(120))
    paper: Mapped[str] = mapped_column(String(20))
    units: Mapped[Units] = mapped_column(String(10))
    crochet_terms: Mapped[CrochetTerms] = mapped_column(String(2))
    ask: Mapped[dict[str, Any]] = mapped_column(JSON)
    choice: Mapped[dict[str, Any]] = mapped_column(JSON)
    content: Mapped[dict[str, Any]] = mapped_column(JSON)
    words: Mapped[dict[str, Any]] = mapped_column(JSON)
    customer_name: Mapped[str | None] = mapped_column(String(120))
    customer_key: Mapped[str | None] = mapped_column(String(200), index=True)
    supersedes_id: Mapped[int | None] = mapped_column(
        ForeignKey("slip.id", ondelete="RESTRICT"), unique=True
    )
    request_key: Mapped[str | None] = mapped_column(String(64), unique=True)
