"""The web pages of the counter."""
