"""Keeping a shop: set-up, backup, doctor, log, and what the clock does."""
