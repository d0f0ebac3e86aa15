"""The words that a yarn is found by as somebody types."""

from sqlalchemy import Index, String
from sqlalchemy.orm import Mapped, mapped_column

from shopdesk.shelf.base import Base
from shopdesk.shelf.columns import YarnKey

LONGEST_WORD = 40
PLAIN_TEXT = String(LONGEST_WORD).with_variant(String(LONGEST_WORD, collation="C"), "postgresql")
"""Text compared byte by byte, so that a range of an index holds all words that begin alike."""


class YarnWord(Base):
    """One word of a yarn's name, article number or weight name, in small letters and plain."""

    __tablename__ = "yarn_word"
    __table_args__ = (
        Index("ix_yarn_word_yarn_id", "yarn_id"),
        {"sqlite_with_rowid": False},
    )

    word: Mapped[str] = mapped_column(PLAIN_TEXT, primary_key=True)
    yarn_id: Mapped[YarnKey] = mapped_column(primary_key=True)
