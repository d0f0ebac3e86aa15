"""Forms that were carried out, so that one sent twice is carried out once."""

from sqlalchemy import String
from sqlalchemy.orm import Mapped, mapped_column

from shopdesk.shelf.base import Base
from shopdesk.shelf.columns import Moments


class DoneForm(Base):
    """The random word of a form whose work was kept."""

    __tablename__ = "done_form"

    key: Mapped[str] = mapped_column(String(64), primary_key=True)
    at: Mapped[Moments] = mapped_column(index=True)
