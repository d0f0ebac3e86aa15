"""Imports that were made and can be undone, deliveries taken, headings and uploads."""

import sqlalchemy as sa
from alembic import op

revision = "0004"
down_revision = "0003"
branch_labels = None
depends_on = None


def upgrade() -> None:
    _make_runs()
    _make_delivered()
    op.create_table(
        "import_heading",
        sa.Column("kind", sa.String(20), primary_key=True),
        sa.Column("heading", sa.String(200), primary_key=True),
        sa.Column("field", sa.String(40), nullable=False),
    )
    op.create_table(
        "import_upload",
        sa.Column("token", sa.String(32), primary_key=True),
        sa.Column("kind", sa.String(20), nullable=False),
        sa.Column("file_name", sa.String(200), nullable=False),
        sa.Column("content", sa.LargeBinary(), nullable=False),
        sa.Column("said", sa.JSON(), nullable=False),
        sa.Column("uploaded_at", sa.DateTime(timezone=True), nullable=False),
    )
    op.create_index("ix_import_upload_uploaded_at", "import_upload", ["uploaded_at"])


def downgrade() -> None:
    for name in ("import_upload", "import_heading", "delivered", "import_change", "import_run"):
        op.drop_table(name)


def _make_runs() -> None:
    op.create_table(
        "import_run",
        sa.Column("id", sa.Integer(), primary_key=True),
        sa.Column("kind", sa.String(20), nullable=False),
        sa.Column("file_name", sa.String(200), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("staff", sa.String(60), nullable=False, server_default=""),
        *(sa.Column(name, sa.Integer(), nullable=False) for name in _COUNTS),
        sa.Column("first_movement", sa.Integer()),
        sa.Column("last_movement", sa.Integer()),
        sa.Column("undone_at", sa.DateTime(timezone=True)),
        sa.Column("request_key", sa.String(64)),
        sa.UniqueConstraint("request_key"),
    )
    op.create_table(
        "import_change",
        _to("import_id", "import_run", "CASCADE"),
        sa.Column("position", sa.Integer(), primary_key=True, autoincrement=False),
        sa.Column("what", sa.String(20), nullable=False),
        sa.Column("row_id", sa.Integer(), nullable=False),
        sa.Column("before", sa.JSON()),
        sa.Column("after", sa.JSON(), nullable=False),
    )


_COUNTS = ("made", "changed", "unchanged")


def _make_delivered() -> None:
    op.create_table(
        "delivered",
        sa.Column("delivery", sa.String(80), primary_key=True),
        _to("lot_id", "dye_lot", "RESTRICT"),
        _to("branch_id", "branch", "RESTRICT"),
        sa.Column("skeins", sa.Integer(), nullable=False),
        sa.Column("import_id", sa.Integer(), nullable=False),
        sa.ForeignKeyConstraint(["import_id"], ["import_run.id"], ondelete="RESTRICT"),
    )
    op.create_index("ix_delivered_import_id", "delivered", ["import_id"])


def _to(column: str, target: str, on_delete: str) -> sa.Column[int]:
    return sa.Column(
        column, sa.Integer(), sa.ForeignKey(f"{target}.id", ondelete=on_delete),
        primary_key=True, autoincrement=False,
    )  # fmt: skip
