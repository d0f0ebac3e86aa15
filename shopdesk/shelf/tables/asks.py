"""Asks kept while a visit lasts."""

from typing import Any

from sqlalchemy import JSON, String
from sqlalchemy.orm import Mapped, mapped_column

from shopdesk.shelf.base import Base
from shopdesk.shelf.columns import Moments


class KeptAsk(Base):
    """One ask document as it was asked; `token` is its random name in addresses."""

    __tablename__ = "kept_ask"

    token: Mapped[str] = mapped_column(String(32), primary_key=True)
    document: Mapped[dict[str, Any]] = mapped_column(JSON)
    kept_at: Mapped[Moments] = mapped_column(index=True)
