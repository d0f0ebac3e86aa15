"""Takes the text out of a PDF, in a process of its own with bounded time and memory.

Run by pdf_text.py as a script, so it imports nothing of ours: PDF bytes on standard input,
one JSON object on standard output, {"text": ...} or {"refused": reason}.
"""

import contextlib
import io
import json
import sys

MEMORY_BYTES = 768 * 2**20
CPU_SECONDS = 20
MOST_PAGES = 12
MOST_CHARACTERS = 200_000


def limit_resources() -> None:
    """Caps memory and processor time where the system can."""
    try:
        import resource
    except ImportError:
        return
    for what, most in ((resource.RLIMIT_AS, MEMORY_BYTES), (resource.RLIMIT_CPU, CPU_SECONDS)):
        with contextlib.suppress(ValueError, OSError):
            resource.setrlimit(what, (most, most))


def text_of(data: bytes) -> dict[str, str]:
    """Returns the first pages' text, or the reason why there is none."""
    from pypdf import PdfReader
    from pypdf.errors import DependencyError

    reader = PdfReader(io.BytesIO(data))
    if reader.is_encrypted:
        try:
            opened = bool(reader.decrypt(""))
        except DependencyError:
            opened = False
        if not opened:
            return {"refused": "encrypted"}
    pages: list[str] = []
    for page in reader.pages[:MOST_PAGES]:
        pages.append(page.extract_text())
        if not pages[-1] and (contents := page.get_contents()) is not None:
            contents.get_data()  # raises where the page was empty because it swells too far
        if sum(map(len, pages)) > MOST_CHARACTERS:
            break
    text = "\n\n".join(pages)[:MOST_CHARACTERS]
    return {"text": text} if text.strip() else {"refused": "no text"}


def main() -> None:
    """Reads, answers, and names every failure as a reason."""
    data = sys.stdin.buffer.read()
    limit_resources()
    try:
        result = text_of(data)
    except MemoryError:
        result = {"refused": "too large"}
    except Exception as fault:
        too_large = "limit" in type(fault).__name__.lower()
        result = {"refused": "too large" if too_large else "damaged"}
    sys.stdout.write(json.dumps(result))


if __name__ == "__main__":
    import logging

    logging.disable(logging.CRITICAL)
    main()
