"""The same work in the terminal."""
