"""Small PDF files for tests of reading them."""

import io

from reportlab.pdfgen.canvas import Canvas


def pdf_of(*lines: str) -> bytes:
    """Returns a PDF of one page with these lines; without lines it holds no text."""
    sink = io.BytesIO()
    canvas = Canvas(sink)
    for number, line in enumerate(lines):
        canvas.drawString(72, 750 - 14 * number, line)
    canvas.showPage()
    canvas.save()
    return sink.getvalue()
