"""Writes documents to standard output: JSON is UTF-8 whatever the terminal's own encoding."""

import json
import sys


def print_json(document: object) -> None:
    """Prints a document as indented JSON in UTF-8 (RFC 8259)."""
    text = json.dumps(document, indent=2, ensure_ascii=False, allow_nan=False)
    sys.stdout.buffer.write(text.encode() + b"\n")
    sys.stdout.buffer.flush()
