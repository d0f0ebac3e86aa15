"""Forms that were carried out."""

import sqlalchemy as sa
from alembic import op

revision = "0006"
down_revision = "0005"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "done_form",
        sa.Column("key", sa.String(64), primary_key=True),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
    )
    op.create_index("ix_done_form_at", "done_form", ["at"])


def downgrade() -> None:
    op.drop_table("done_form")
