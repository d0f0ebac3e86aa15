"""What an answer looks for yarns by. The rows are written when the shop is next opened."""

import sqlalchemy as sa
from alembic import op

revision = "0009"
down_revision = "0008"
branch_labels = None
depends_on = None

INDEXED = ("stitches", "tex", "made_by")


def upgrade() -> None:
    op.create_table(
        "yarn_brief",
        sa.Column(
            "yarn_id",
            sa.Integer(),
            sa.ForeignKey("yarn.id", ondelete="CASCADE"),
            primary_key=True,
            autoincrement=False,
        ),
        sa.Column("sku", sa.String(40), nullable=False),
        sa.Column("name", sa.String(120), nullable=False),
        sa.Column("stitches", sa.Float()),
        sa.Column("stitches_low", sa.Float()),
        sa.Column("stitches_high", sa.Float()),
        sa.Column("stitches_basis", sa.String(20)),
        sa.Column("tex", sa.Float()),
        sa.Column("density", sa.Float()),
        sa.Column("categories", sa.Integer(), nullable=False),
        sa.Column("doubts", sa.Integer(), nullable=False),
        sa.Column("doubts_text", sa.String(2000), nullable=False),
        sa.Column("blend", sa.String(1000), nullable=False),
        sa.Column("nature", sa.String(200), nullable=False),
        sa.Column("price_minor", sa.Integer(), nullable=False),
        sa.Column("metres", sa.Float()),
        sa.Column("made_by", sa.String(20), nullable=False),
    )
    for column in INDEXED:
        op.create_index(f"ix_yarn_brief_{column}", "yarn_brief", [column])


def downgrade() -> None:
    op.drop_table("yarn_brief")
