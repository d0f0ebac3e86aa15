"""Slips that went home."""

import sqlalchemy as sa
from alembic import op

revision = "0003"
down_revision = "0002"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "slip",
        sa.Column("id", sa.Integer(), primary_key=True),
        sa.Column("branch_id", sa.Integer(), nullable=False),
        sa.Column("number", sa.Integer(), nullable=False),
        sa.Column("made_on", sa.Date(), nullable=False),
        sa.Column("made_at", sa.DateTime(timezone=True), nullable=False),
        *_texts(),
        *(sa.Column(name, sa.JSON(), nullable=False) for name in _DOCUMENTS),
        sa.Column("customer_name", sa.String(120)),
        sa.Column("customer_key", sa.String(200)),
        sa.Column("supersedes_id", sa.Integer()),
        sa.Column("request_key", sa.String(64)),
        sa.ForeignKeyConstraint(["branch_id"], ["branch.id"], ondelete="RESTRICT"),
        sa.ForeignKeyConstraint(["supersedes_id"], ["slip.id"], ondelete="RESTRICT"),
        sa.UniqueConstraint("branch_id", "number"),
        sa.UniqueConstraint("supersedes_id"),
        sa.UniqueConstraint("request_key"),
    )
    for column in ("made_on", "sku", "customer_key"):
        op.create_index(f"ix_slip_{column}", "slip", [column])


_DOCUMENTS = ("ask", "choice", "content", "words")


def _texts() -> list[sa.Column[str]]:
    lengths = {
        "staff": 60,
        "title": 80,
        "sku": 40,
        "yarn": 120,
        "paper": 20,
        "units": 10,
        "crochet_terms": 2,
    }
    return [sa.Column(name, sa.String(length), nullable=False) for name, length in lengths.items()]


def downgrade() -> None:
    op.drop_table("slip")
