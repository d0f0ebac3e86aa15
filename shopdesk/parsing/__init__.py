"""Strict reading of what people type: numbers, and numbers with units."""
