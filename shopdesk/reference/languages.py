"""The languages of texts and patterns: which are complete, and how their numbers are written."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

from shopdesk.reference.tables import TableFault, table, yes_or_no


@dataclass(frozen=True, slots=True)
class Language:
    """A language; one that is a `draft` says nothing to customers.

    Its patterns write 1,5 for one and a half (`decimal_comma`) and 1 200 for 1200
    (`blank_thousands`), mean mm by a bare needle size (`metric_tools`), and put words into one
    (`compounds`).
    """

    name: str
    draft: bool
    decimal_comma: bool
    blank_thousands: bool
    metric_tools: bool
    compounds: bool


@cache
def languages() -> Mapping[str, Language]:
    """Returns every language by its key, such as 'en'. Raises TableFault."""
    return {row["language"]: _language(row) for row in table("languages")}


def complete_languages() -> tuple[str, ...]:
    """Returns the keys of the languages that every text is written in."""
    return tuple(key for key, language in languages().items() if not language.draft)


def _language(row: Mapping[str, str]) -> Language:
    if row["state"] not in ("complete", "draft"):
        raise TableFault(f"the state of '{row['language']}' is neither complete nor draft")
    return Language(
        name=row["name"],
        draft=row["state"] == "draft",
        decimal_comma=yes_or_no(row, "decimal_comma"),
        blank_thousands=yes_or_no(row, "blank_thousands"),
        metric_tools=yes_or_no(row, "metric_tools"),
        compounds=yes_or_no(row, "compounds"),
    )
