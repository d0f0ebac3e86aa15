"""All sentences the program says, in one catalog for each language."""
