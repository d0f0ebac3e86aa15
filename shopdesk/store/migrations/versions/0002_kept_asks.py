"""Asks kept while a visit lasts."""

import sqlalchemy as sa
from alembic import op

revision = "0002"
down_revision = "0001"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "kept_ask",
        sa.Column("token", sa.String(32), primary_key=True),
        sa.Column("document", sa.JSON(), nullable=False),
        sa.Column("kept_at", sa.DateTime(timezone=True), nullable=False),
    )
    op.create_index("ix_kept_ask_kept_at", "kept_ask", ["kept_at"])


def downgrade() -> None:
    op.drop_table("kept_ask")
