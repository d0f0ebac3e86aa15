"""The first shelf: yarns, measurements, colours, lots, stock and its trail, settings, unmet asks.

A new shelf has one branch, 'main'.
"""

from typing import Any

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None
branch_labels = None
depends_on = None

TABLES = (
    "branch", "setting", "unmet_ask", "yarn", "yarn_fibre", "yarn_attribute",
    "yarn_measurement", "colourway", "dye_lot", "stock", "stock_movement",
)  # fmt: skip
GAUGE_AND_PUT_UP = (
    "put_up_g", "put_up_m",
    "knit_stitches_low", "knit_stitches_high", "knit_rows", "needle_mm_low", "needle_mm_high",
    "crochet_stitches_low", "crochet_stitches_high", "crochet_rows", "hook_mm_low", "hook_mm_high",
)  # fmt: skip
CARE_WORDS = ("wash_action", "bleach", "tumble", "natural_drying", "dry_clean", "wet_clean")


def upgrade() -> None:
    _make_keeping()
    _make_yarn()
    _make_blend()
    _make_measurement()
    _make_colours()
    _make_stock()
    op.execute("INSERT INTO branch (code, name) VALUES ('main', '')")


def downgrade() -> None:
    for name in reversed(TABLES):
        op.drop_table(name)


def _key() -> sa.Column[int]:
    return sa.Column("id", sa.Integer(), primary_key=True)


def _to(column: str, target: str, on_delete: str = "CASCADE", **kept: Any) -> sa.Column[int]:
    return sa.Column(
        column, sa.Integer(), sa.ForeignKey(f"{target}.id", ondelete=on_delete), nullable=False,
        **kept,
    )  # fmt: skip


def _flag(name: str) -> sa.Column[bool]:
    return sa.Column(name, sa.Boolean(), nullable=False)


def _word(name: str, length: int) -> sa.Column[str]:
    return sa.Column(name, sa.String(length), nullable=False)


def _text(name: str, length: int, default: str = "") -> sa.Column[str]:
    return sa.Column(name, sa.String(length), nullable=False, server_default=default)


def _moment(name: str) -> sa.Column[object]:
    return sa.Column(name, sa.DateTime(timezone=True), nullable=False)


def _rule(name: str, condition: str) -> sa.CheckConstraint:
    return sa.CheckConstraint(condition, name=name)


def _make_keeping() -> None:
    op.create_table(
        "branch", _key(), _word("code", 20), _text("name", 80), sa.UniqueConstraint("code")
    )
    op.create_table(
        "setting",
        sa.Column("name", sa.String(60), primary_key=True),
        sa.Column("value", sa.Text(), nullable=False),
    )
    op.create_table(
        "unmet_ask",
        _key(),
        _moment("at"),
        _word("item", 40),
        _word("craft", 10),
        sa.Column("categories", sa.JSON(), nullable=False),
        sa.Column("stitches", sa.Float()),
        sa.Column("fibres", sa.JSON(), nullable=False),
        _text("washing", 40),
        sa.Column("colour_family", sa.String(20)),
        _word("reason", 80),
    )
    op.create_index("ix_unmet_ask_at", "unmet_ask", ["at"])


def _make_yarn() -> None:
    op.create_table(
        "yarn",
        _key(),
        _word("sku", 40),
        _word("name", 120),
        sa.Column("gtin", sa.String(14)),
        sa.Column("gtin_key", sa.String(14)),
        sa.Column("weight_name", sa.String(60)),
        _text("put_up_printed", 80),
        *(sa.Column(name, sa.Float()) for name in GAUGE_AND_PUT_UP),
        *(sa.Column(name, sa.String(40)) for name in ("count_written", "count_system")),
        *(sa.Column(name, sa.Integer()) for name in ("plies", "wash_c", "iron_c")),
        sa.Column("construction", sa.String(20)),
        *(sa.Column(name, sa.String(20)) for name in CARE_WORDS),
        sa.Column("price_minor", sa.Integer(), nullable=False),
        _text("notes", 2000),
        _flag("hand_dyed"),
        _flag("retired"),
        sa.Column("version_id", sa.Integer(), nullable=False),
        sa.UniqueConstraint("sku"),
        *(_rule(f"{name}_positive", f"{name} > 0") for name in ("put_up_g", "put_up_m", "plies")),
        _rule("price_minor_not_negative", "price_minor >= 0"),
        *(
            _rule(f"{craft}_stitches_low_upward", f"{craft}_stitches_low <= {craft}_stitches_high")
            for craft in ("knit", "crochet")
        ),
    )
    op.create_index("ix_yarn_name", "yarn", ["name"])
    op.create_index("ix_yarn_gtin_key", "yarn", ["gtin_key"])


def _make_blend() -> None:
    op.create_table(
        "yarn_fibre",
        _to("yarn_id", "yarn", primary_key=True),
        sa.Column("position", sa.Integer(), primary_key=True),
        _word("fibre", 40),
        _word("percent", 40),
    )
    op.create_index("ix_yarn_fibre_fibre", "yarn_fibre", ["fibre"])
    op.create_table(
        "yarn_attribute",
        _to("yarn_id", "yarn", primary_key=True),
        sa.Column("attribute", sa.String(40), primary_key=True),
    )


def _make_measurement() -> None:
    measured = ("wraps_per_inch", "stitches", "stitch_rows", "tool_mm", "length_m", "mass_g")
    positive = ("wraps_per_inch", "stitches", "length_m", "mass_g")
    op.create_table(
        "yarn_measurement",
        _key(),
        _to("yarn_id", "yarn"),
        _word("kind", 20),
        sa.Column("taken_on", sa.Date(), nullable=False),
        _text("taken_by", 60),
        *(sa.Column(name, sa.Float()) for name in measured),
        sa.Column("washed", sa.Boolean()),
        _text("stitch_pattern", 40, "stockinette"),
        _text("craft", 10, "knit"),
        _flag("from_customer"),
        sa.Column("hand", sa.String(60)),
        sa.Column("slip_number", sa.Integer()),
        *(_rule(f"{name}_positive", f"{name} > 0") for name in positive),
    )
    op.create_index("ix_yarn_measurement_yarn_id", "yarn_measurement", ["yarn_id"])


def _make_colours() -> None:
    op.create_table(
        "colourway",
        _key(),
        _to("yarn_id", "yarn"),
        _word("code", 40),
        _word("name", 80),
        _word("family", 20),
        _flag("dark"),
        sa.Column("gtin", sa.String(14)),
        sa.Column("gtin_key", sa.String(14)),
        _flag("retired"),
        sa.UniqueConstraint("yarn_id", "code", name="uq_colourway_yarn_code"),
    )
    op.create_index("ix_colourway_gtin_key", "colourway", ["gtin_key"])
    op.create_table(
        "dye_lot",
        _key(),
        _to("colourway_id", "colourway"),
        _text("lot", 40),
        sa.UniqueConstraint("colourway_id", "lot", name="uq_dye_lot_colourway_lot"),
    )


def _make_stock() -> None:
    place = {"primary_key": True, "autoincrement": False}
    op.create_table(
        "stock",
        _to("lot_id", "dye_lot", "RESTRICT", **place),
        _to("branch_id", "branch", "RESTRICT", **place),
        sa.Column("on_hand", sa.Integer(), nullable=False),
        _rule("on_hand_not_negative", "on_hand >= 0"),
        sqlite_with_rowid=False,
    )
    op.create_table(
        "stock_movement",
        _key(),
        _to("lot_id", "dye_lot", "RESTRICT"),
        _to("branch_id", "branch", "RESTRICT"),
        _moment("at"),
        sa.Column("change", sa.Integer(), nullable=False),
        _word("reason", 20),
        _text("staff", 60),
        _text("note", 200),
    )
    op.create_index("ix_stock_movement_lot_id", "stock_movement", ["lot_id", "branch_id"])
