"""Branches, the stock of each lot in them, its movements, and what is on hold."""

from sqlalchemy import CheckConstraint, Float, ForeignKey, Index, String, UniqueConstraint
from sqlalchemy.orm import Mapped, mapped_column

from shopdesk.craft import lengths
from shopdesk.store.types import Base, Day, Key, Moments

FIRST_BRANCH = "main"
"""The code of the branch that every shelf has from the first."""


class Branch(Base):
    """A shop of the house with its own stock; every shelf has at least one."""

    __tablename__ = "branch"

    id: Mapped[Key]
    code: Mapped[str] = mapped_column(String(lengths.BRANCH_CODE), unique=True)
    name: Mapped[str] = mapped_column(String(lengths.BRANCH), default="", server_default="")


class Stock(Base):
    """Skeins of one dye lot that lie in one branch. Always the sum of its movements."""

    __tablename__ = "stock"
    __table_args__ = (
        CheckConstraint("on_hand >= 0", name="on_hand_not_negative"),
        {"sqlite_with_rowid": False},
    )

    lot_id: Mapped[int] = mapped_column(
        ForeignKey("dye_lot.id", ondelete="RESTRICT"), primary_key=True, autoincrement=False
    )
    branch_id: Mapped[int] = mapped_column(
        ForeignKey("branch.id", ondelete="RESTRICT"), primary_key=True, autoincrement=False
    )
    on_hand: Mapped[int]


class StockMovement(Base):
    """One change of stock: when, by how many, why and by whom. Never changed, never removed."""

    __tablename__ = "stock_movement"
    __table_args__ = (Index("ix_stock_movement_lot_id", "lot_id", "branch_id"),)

    id: Mapped[Key]
    lot_id: Mapped[int] = mapped_column(ForeignKey("dye_lot.id", ondelete="RESTRICT"))
    branch_id: Mapped[int] = mapped_column(ForeignKey("branch.id", ondelete="RESTRICT"))
    at: Mapped[Moments]
    change: Mapped[int]
    reason: Mapped[str] = mapped_column(String(20))
    staff: Mapped[str] = mapped_column(String(lengths.STAFF), default="", server_default="")
    note: Mapped[str] = mapped_column(String(lengths.NOTE), default="", server_default="")


class Contact(Base):
    """A customer's name and telephone number, both optional, in one row that can be removed whole.

    `name_key` and `phone_key` are what is compared in a search. `may_ask` is the customer's leave
    to be asked about the swatch of the slip. `hand_percent` is by how much the customer works
    tighter (below 0: looser) than usual, kept only where they agreed to it.
    """

    __tablename__ = "contact"

    id: Mapped[Key]
    left_at: Mapped[Moments] = mapped_column(index=True)
    name: Mapped[str] = mapped_column(String(lengths.CUSTOMER), default="", server_default="")
    name_key: Mapped[str] = mapped_column(
        String(lengths.NAME_KEY), default="", server_default="", index=True
    )
    phone: Mapped[str] = mapped_column(String(40), default="", server_default="")
    phone_key: Mapped[str] = mapped_column(String(40), default="", server_default="", index=True)
    may_ask: Mapped[bool] = mapped_column(default=False)
    hand_percent: Mapped[float | None] = mapped_column(Float)
    slip_id: Mapped[int | None] = mapped_column(
        ForeignKey("slip.id", ondelete="CASCADE"), index=True
    )


class Hold(Base):
    """Skeins of one dye lot in one branch, on hold until the end of the day `until`.

    It counts while it is open (`closed_at` is empty) and `ends_at`, the moment after that day,
    is still to come. `outcome` says how it was closed: collected, released or expired.
    """

    __tablename__ = "hold"
    __table_args__ = (
        CheckConstraint("skeins > 0", name="skeins_positive"),
        UniqueConstraint("request_key", "lot_id", "branch_id", name="uq_hold_request_key"),
        Index("ix_hold_open", "lot_id", "branch_id", "closed_at"),
    )

    id: Mapped[Key]
    lot_id: Mapped[int] = mapped_column(ForeignKey("dye_lot.id", ondelete="RESTRICT"))
    branch_id: Mapped[int] = mapped_column(ForeignKey("branch.id", ondelete="RESTRICT"))
    skeins: Mapped[int]
    until: Mapped[Day]
    ends_at: Mapped[Moments] = mapped_column(index=True)
    made_at: Mapped[Moments]
    made_by: Mapped[str] = mapped_column(String(lengths.STAFF), default="", server_default="")
    closed_at: Mapped[Moments | None]
    closed_by: Mapped[str] = mapped_column(String(lengths.STAFF), default="", server_default="")
    outcome: Mapped[str | None] = mapped_column(String(20))
    slip_id: Mapped[int | None] = mapped_column(
        ForeignKey("slip.id", ondelete="RESTRICT"), index=True
    )
    contact_id: Mapped[int | None] = mapped_column(
        ForeignKey("contact.id", ondelete="SET NULL"), index=True
    )
    request_key: Mapped[str | None] = mapped_column(String(lengths.REQUEST_KEY))


class SlipReturn(Base):
    """Unopened skeins of a slip that came back; so many of a lot may never exceed the slip's."""

    __tablename__ = "slip_return"
    __table_args__ = (
        CheckConstraint("skeins > 0", name="skeins_positive"),
        UniqueConstraint("request_key", name="uq_slip_return_request_key"),
    )

    id: Mapped[Key]
    slip_id: Mapped[int] = mapped_column(ForeignKey("slip.id", ondelete="RESTRICT"), index=True)
    lot_id: Mapped[int] = mapped_column(ForeignKey("dye_lot.id", ondelete="RESTRICT"))
    branch_id: Mapped[int] = mapped_column(ForeignKey("branch.id", ondelete="RESTRICT"))
    skeins: Mapped[int]
    at: Mapped[Moments]
    staff: Mapped[str] = mapped_column(String(lengths.STAFF), default="", server_default="")
    request_key: Mapped[str | None] = mapped_column(String(lengths.REQUEST_KEY))
