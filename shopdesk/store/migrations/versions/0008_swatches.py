"""Swatches that belong to a slip, and how many strands a swatch was worked with."""

import sqlalchemy as sa
from alembic import op

revision = "0008"
down_revision = "0007"
branch_labels = None
depends_on = None

MEASURES = ("over_cm", "width_cm", "height_cm", "mass_g")


def upgrade() -> None:
    op.add_column(
        "yarn_measurement", sa.Column("strands", sa.Integer(), nullable=False, server_default="1")
    )
    op.create_table(
        "swatch",
        sa.Column("id", sa.Integer(), primary_key=True),
        sa.Column(
            "measurement_id",
            sa.Integer(),
            sa.ForeignKey("yarn_measurement.id", ondelete="CASCADE"),
            nullable=False,
        ),
        sa.Column("slip_id", sa.Integer(), sa.ForeignKey("slip.id", ondelete="RESTRICT")),
        sa.Column("over_cm", sa.Float(), nullable=False),
        sa.Column("width_cm", sa.Float()),
        sa.Column("height_cm", sa.Float()),
        sa.Column("mass_g", sa.Float()),
        sa.UniqueConstraint("measurement_id", name="uq_swatch_measurement_id"),
        *(sa.CheckConstraint(f"{name} > 0", name=f"{name}_positive") for name in MEASURES),
    )
    op.create_index("ix_swatch_slip_id", "swatch", ["slip_id"])


def downgrade() -> None:
    op.drop_table("swatch")
    op.drop_column("yarn_measurement", "strands")
