"""What lies on the shelf of each branch, and the trail of every change to it."""

from sqlalchemy import CheckConstraint, ForeignKey, Index, String
from sqlalchemy.orm import Mapped, mapped_column

from shopdesk.shelf.base import Base
from shopdesk.shelf.columns import Key, Moments


class Branch(Base):
    """A shop of the house with its own stock; every shelf has at least one."""

    __tablename__ = "branch"

    id: Mapped[Key]
    code: Mapped[str] = mapped_column(String(20), unique=True)
    name: Mapped[str] = mapped_column(String(80), default="", server_default="")


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
    staff: Mapped[str] = mapped_column(String(60), default="", server_default="")
    note: Mapped[str] = mapped_column(String(200), default="", server_default="")
