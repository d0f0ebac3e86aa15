"""The words that yarns are found by."""

import unicodedata

import sqlalchemy as sa
from alembic import op

revision = "0007"
down_revision = "0006"
branch_labels = None
depends_on = None

_PLAIN = sa.String(40).with_variant(sa.String(40, collation="C"), "postgresql")


def upgrade() -> None:
    words = op.create_table(
        "yarn_word",
        sa.Column("word", _PLAIN, nullable=False),
        sa.Column("yarn_id", sa.Integer(), nullable=False),
        sa.ForeignKeyConstraint(["yarn_id"], ["yarn.id"], ondelete="CASCADE"),
        sa.PrimaryKeyConstraint("word", "yarn_id"),
        sqlite_with_rowid=False,
    )
    op.create_index("ix_yarn_word_yarn_id", "yarn_word", ["yarn_id"])
    found = op.get_bind().execute(sa.text("SELECT id, name, sku, weight_name FROM yarn"))
    rows = [
        {"word": word, "yarn_id": yarn} for yarn, *names in found.all() for word in _words(names)
    ]
    if rows:
        op.bulk_insert(words, rows)


def downgrade() -> None:
    op.drop_table("yarn_word")


def _words(names: list[str | None]) -> set[str]:
    """The words as they were made when this table began."""
    text = unicodedata.normalize("NFKD", " ".join(name for name in names if name).casefold())
    kept = (c for c in text if not unicodedata.combining(c))
    return {word[:40] for word in "".join(c if c.isalnum() else " " for c in kept).split()}
