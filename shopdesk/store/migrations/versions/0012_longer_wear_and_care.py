"""What a yarn states of its make is kept with its wear and care, which takes more room."""

import sqlalchemy as sa
from alembic import op

revision = "0012"
down_revision = "0011"
branch_labels = None
depends_on = None


def upgrade() -> None:
    with op.batch_alter_table("yarn_brief") as table:
        table.alter_column("nature", existing_type=sa.String(200), type_=sa.String(1000))


def downgrade() -> None:
    op.execute("DELETE FROM yarn_brief")
    with op.batch_alter_table("yarn_brief") as table:
        table.alter_column("nature", existing_type=sa.String(1000), type_=sa.String(200))
