"""Imports that were made, how each is undone, and what is remembered for the next one."""

from typing import Any

from sqlalchemy import JSON, ForeignKey, LargeBinary, String
from sqlalchemy.orm import Mapped, mapped_column

from shopdesk.craft import lengths
from shopdesk.store.types import Base, Key, Moments


class ImportRun(Base):
    """One import that was taken. Stock movements of it lie between the first and the last one.

    `request_key` is the name of the upload it came from, so that a form sent twice imports once.
    """

    __tablename__ = "import_run"

    id: Mapped[Key]
    kind: Mapped[str] = mapped_column(String(20))
    file_name: Mapped[str] = mapped_column(String(lengths.FILE_NAME))
    at: Mapped[Moments]
    staff: Mapped[str] = mapped_column(String(lengths.STAFF), default="", server_default="")
    made: Mapped[int]
    changed: Mapped[int]
    unchanged: Mapped[int]
    first_movement: Mapped[int | None]
    last_movement: Mapped[int | None]
    undone_at: Mapped[Moments | None]
    request_key: Mapped[str | None] = mapped_column(String(lengths.REQUEST_KEY), unique=True)


class ImportChange(Base):
    """One yarn or colour that an import made (`before` is NULL) or changed."""

    __tablename__ = "import_change"

    import_id: Mapped[int] = mapped_column(
        ForeignKey("import_run.id", ondelete="CASCADE"), primary_key=True, autoincrement=False
    )
    position: Mapped[int] = mapped_column(primary_key=True, autoincrement=False)
    what: Mapped[str] = mapped_column(String(20))
    row_id: Mapped[int]
    before: Mapped[dict[str, Any] | None] = mapped_column(JSON(none_as_null=True))
    after: Mapped[dict[str, Any]] = mapped_column(JSON)


class Delivered(Base):
    """Skeins of a lot that a delivery brought to a branch, so that it is taken only once."""

    __tablename__ = "delivered"

    delivery: Mapped[str] = mapped_column(String(lengths.DELIVERY), primary_key=True)
    lot_id: Mapped[int] = mapped_column(
        ForeignKey("dye_lot.id", ondelete="RESTRICT"), primary_key=True, autoincrement=False
    )
    branch_id: Mapped[int] = mapped_column(
        ForeignKey("branch.id", ondelete="RESTRICT"), primary_key=True, autoincrement=False
    )
    skeins: Mapped[int]
    import_id: Mapped[int] = mapped_column(
        ForeignKey("import_run.id", ondelete="RESTRICT"), index=True
    )


class ImportHeading(Base):
    """What one of the shop's own headings holds; '' leaves the column out."""

    __tablename__ = "import_heading"

    kind: Mapped[str] = mapped_column(String(20), primary_key=True)
    heading: Mapped[str] = mapped_column(String(lengths.HEADING), primary_key=True)
    field: Mapped[str] = mapped_column(String(40))


class ImportUpload(Base):
    """A file that was uploaded and is being looked at; `content` is packed (zlib)."""

    __tablename__ = "import_upload"

    token: Mapped[str] = mapped_column(String(32), primary_key=True)
    kind: Mapped[str] = mapped_column(String(20))
    file_name: Mapped[str] = mapped_column(String(lengths.FILE_NAME))
    content: Mapped[bytes] = mapped_column(LargeBinary)
    said: Mapped[dict[str, Any]] = mapped_column(JSON)
    uploaded_at: Mapped[Moments] = mapped_column(index=True)
