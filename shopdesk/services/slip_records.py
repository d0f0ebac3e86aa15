"""A stored slip as plain data: in a list, and whole with everything that produced it."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date, datetime
from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import Session

from shopdesk.answering.model.answer import Selection
from shopdesk.slips.content import SlipContent
from shopdesk.slips.papers import paper_named
from shopdesk.slips.pdf import draw_words
from shopdesk.slips.slip_documents import read_choice, read_content, read_words
from shopdesk.slips.slip_text import slip_text
from shopdesk.slips.slip_words import SlipText
from shopdesk.store.models import Branch, Slip
from shopdesk.wording.formatting import ReaderPreferences, require_texts


@dataclass(frozen=True, slots=True)
class SlipSummary:
    """A slip in a list."""

    number: int
    branch: str
    made_on: date
    staff: str
    title: str
    yarn: str
    sku: str
    customer_name: str | None
    supersedes: int | None
    superseded_by: int | None


@dataclass(frozen=True, slots=True)
class SlipRecord:
    """A slip as it went home, with what produced it."""

    summary: SlipSummary
    made_at: datetime
    paper: str
    reader: ReaderPreferences
    ask_document: Mapping[str, Any]
    choice: Selection
    content: SlipContent
    words: SlipText

    def pdf(self, paper: str | None = None, language: str | None = None) -> bytes:
        """Returns the slip as a PDF: on its own paper and in its own language, the same bytes.

        Raises PaperUnknown and LanguageRefused.
        """
        return draw_words(self.words_in(language), paper_named(paper or self.paper))

    def words_in(self, language: str | None = None) -> SlipText:
        """Returns the words as they were, or said anew in another language.

        Raises LanguageRefused.
        """
        if language is None or language == self.reader.language:
            return self.words
        require_texts(language)
        return slip_text(self.content, replace(self.reader, language=language))


def superseded_by(session: Session, row: Slip) -> int | None:
    """Returns the number of the slip that supersedes this one, if there is one."""
    return session.scalar(select(Slip.number).where(Slip.supersedes_id == row.id))


def summary_of(session: Session, row: Slip) -> SlipSummary:
    """Returns a stored slip as it stands in a list."""
    before = session.get(Slip, row.supersedes_id) if row.supersedes_id else None
    return SlipSummary(
        number=row.number,
        branch=session.scalars(select(Branch.code).where(Branch.id == row.branch_id)).one(),
        made_on=row.made_on,
        staff=row.staff,
        title=row.title,
        yarn=row.yarn,
        sku=row.sku,
        customer_name=row.customer_name,
        supersedes=before.number if before else None,
        superseded_by=superseded_by(session, row),
    )


def record_of(session: Session, row: Slip) -> SlipRecord:
    """Returns a stored slip as it went home, with the customer's name on it if it is kept."""
    words, content = read_words(row.words), read_content(row.content)
    reader = ReaderPreferences(words.language, row.units, row.crochet_terms, content.shop.currency)
    return SlipRecord(
        summary=summary_of(session, row),
        made_at=row.made_at,
        paper=row.paper,
        reader=reader,
        ask_document=row.ask,
        choice=read_choice(row.choice),
        content=replace(content, customer_name=row.customer_name),
        words=words.named(row.customer_name),
    )
