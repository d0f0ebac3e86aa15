"""Holds, returns, and what customers left of themselves."""

from datetime import datetime

import sqlalchemy as sa
from alembic import op

revision = "0005"
down_revision = "0004"
branch_labels = None
depends_on = None


def upgrade() -> None:
    _make_contact()
    _make_hold()
    _make_return()


def downgrade() -> None:
    for name in ("slip_return", "hold", "contact"):
        op.drop_table(name)


def _to(
    column: str, target: str, on_delete: str = "RESTRICT", nullable: bool = False
) -> sa.Column[int]:
    return sa.Column(
        column,
        sa.Integer(),
        sa.ForeignKey(f"{target}.id", ondelete=on_delete),
        nullable=nullable,
    )


def _text(name: str, length: int) -> sa.Column[str]:
    return sa.Column(name, sa.String(length), nullable=False, server_default="")


def _moment(name: str, nullable: bool = False) -> sa.Column[datetime]:
    return sa.Column(name, sa.DateTime(timezone=True), nullable=nullable)


def _make_contact() -> None:
    op.create_table(
        "contact",
        sa.Column("id", sa.Integer(), primary_key=True),
        _moment("left_at"),
        _text("name", 120),
        _text("name_key", 200),
        _text("phone", 40),
        _text("phone_key", 40),
        sa.Column("may_ask", sa.Boolean(), nullable=False),
        _to("slip_id", "slip", "CASCADE", nullable=True),
    )
    for column in ("left_at", "name_key", "phone_key", "slip_id"):
        op.create_index(f"ix_contact_{column}", "contact", [column])


def _make_hold() -> None:
    op.create_table(
        "hold",
        sa.Column("id", sa.Integer(), primary_key=True),
        _to("lot_id", "dye_lot"),
        _to("branch_id", "branch"),
        sa.Column("skeins", sa.Integer(), nullable=False),
        sa.Column("until", sa.Date(), nullable=False),
        _moment("ends_at"),
        _moment("made_at"),
        _text("made_by", 60),
        _moment("closed_at", nullable=True),
        _text("closed_by", 60),
        sa.Column("outcome", sa.String(20)),
        _to("slip_id", "slip", nullable=True),
        _to("contact_id", "contact", "SET NULL", nullable=True),
        sa.Column("request_key", sa.String(64)),
        sa.CheckConstraint("skeins > 0", name="skeins_positive"),
        sa.UniqueConstraint("request_key", "lot_id", "branch_id", name="uq_hold_request_key"),
    )
    still_open = sa.text("closed_at IS NULL")
    op.create_index(
        "ix_hold_open",
        "hold",
        ["lot_id", "branch_id"],
        sqlite_where=still_open,
        postgresql_where=still_open,
    )
    for column in ("ends_at", "slip_id", "contact_id"):
        op.create_index(f"ix_hold_{column}", "hold", [column])


def _make_return() -> None:
    op.create_table(
        "slip_return",
        sa.Column("id", sa.Integer(), primary_key=True),
        _to("slip_id", "slip"),
        _to("lot_id", "dye_lot"),
        _to("branch_id", "branch"),
        sa.Column("skeins", sa.Integer(), nullable=False),
        _moment("at"),
        _text("staff", 60),
        sa.Column("request_key", sa.String(64)),
        sa.CheckConstraint("skeins > 0", name="skeins_positive"),
        sa.UniqueConstraint("request_key", name="uq_slip_return_request_key"),
    )
    op.create_index("ix_slip_return_slip_id", "slip_return", ["slip_id"])
