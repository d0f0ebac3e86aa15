"""The text of a file that a customer brings: a PDF, or text in a common encoding."""

from shopdesk.intake.cleaning import LONGEST_TEXT, TextRefused
from shopdesk.intake.pdf_text import LARGEST_PDF, looks_like_pdf, pdf_text

MOST_BYTES = LARGEST_PDF
"""The most that need be read of a file to tell that it is too large."""
_MARKS = ((b"\xef\xbb\xbf", "utf-8-sig"), (b"\xff\xfe", "utf-16"), (b"\xfe\xff", "utf-16"))


def text_of_file(data: bytes) -> str:
    """Returns the text of a PDF's or a text file's bytes. Raises TextRefused."""
    if looks_like_pdf(data):
        return pdf_text(data)
    if len(data) > 4 * LONGEST_TEXT:
        raise TextRefused(
            f"this text is too long ({len(data):,} bytes or more)",
            f"give only the pattern's first pages, at most {LONGEST_TEXT:,} characters",
        )
    for mark, encoding in _MARKS:
        if data.startswith(mark):
            return data.decode(encoding, errors="replace")
    if b"\0" in data:
        raise TextRefused("this file is neither text nor a PDF", "give a text file or a PDF")
    try:
        return data.decode("utf-8")
    except UnicodeDecodeError:
        return data.decode("cp1252", errors="replace")
