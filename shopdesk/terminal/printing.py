"""Writes documents to standard output: JSON is UTF-8 whatever the terminal's own encoding."""

import json
import sys


def print_json(document: object) -> None:
    """Prints a document as JSON in UTF-8 (RFC 8259): indented for a reader, else in one line."""
    indent = 2 if sys.stdout.isatty() else None
    text = json.dumps(document, indent=indent, ensure_ascii=False, allow_nan=False)
    sys.stdout.buffer.write(text.encode() + b"\n")
    sys.stdout.buffer.flush()
