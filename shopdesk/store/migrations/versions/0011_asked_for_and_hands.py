"""Whether a swatch was asked for, and how tightly a customer works who agreed to have it kept."""

import sqlalchemy as sa
from alembic import op

revision = "0011"
down_revision = "0010"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.add_column(
        "yarn_measurement",
        sa.Column("asked_for", sa.Boolean(), nullable=False, server_default=sa.false()),
    )
    op.add_column("contact", sa.Column("hand_percent", sa.Float()))


def downgrade() -> None:
    op.drop_column("contact", "hand_percent")
    op.drop_column("yarn_measurement", "asked_for")
