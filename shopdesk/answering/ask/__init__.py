"""The ask as a JSON document, read into plain data with every problem named."""
