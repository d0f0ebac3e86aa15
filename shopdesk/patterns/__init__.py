"""A pattern's own words, read into an ask."""
