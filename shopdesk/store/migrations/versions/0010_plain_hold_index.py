"""Open holds by an index without a condition: one that needs no database's own words."""

import sqlalchemy as sa
from alembic import op

revision = "0010"
down_revision = "0009"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.drop_index("ix_hold_open", "hold")
    op.create_index("ix_hold_open", "hold", ["lot_id", "branch_id", "closed_at"])


def downgrade() -> None:
    op.drop_index("ix_hold_open", "hold")
    still_open = sa.text("closed_at IS NULL")
    op.create_index(
        "ix_hold_open",
        "hold",
        ["lot_id", "branch_id"],
        sqlite_where=still_open,
        postgresql_where=still_open,
    )
