"""The answer from a shelf too large to judge whole."""
