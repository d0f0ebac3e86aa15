"""From a file or a paste to one kind of plain text."""
