"""All texts as they stand in the files, for tests that look at every one of them."""

from shopdesk.wording.catalog import text_files, topic_texts
from shopdesk.wording.formatting import LANGUAGES
from shopdesk.wording.translate import FREE_PLACEHOLDERS, PLACEHOLDER


def topics() -> list[str]:
    names = (entry.name for entry in text_files().iterdir())
    return sorted({name.split(".")[0] for name in names if name.endswith(".po")})


def placeholders(forms: tuple[str, ...]) -> frozenset[str]:
    """Returns what the forms of one text name together, without what every text may use."""
    return frozenset(name for form in forms for name in PLACEHOLDER.findall(form)) - set(
        FREE_PLACEHOLDERS
    )


def every_text() -> list[tuple[str, str, str]]:
    """Returns (language, code, form) of every form of every text."""
    return [
        (language, code, form)
        for language in LANGUAGES
        for topic in topics()
        for code, text in topic_texts(topic, language).items()
        for form in text.forms
    ]
