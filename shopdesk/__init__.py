"""Shopdesk, the counter assistant of a yarn shop."""

__version__ = "0.1.0"
