"""From mentions to one reading for each field, and what does not fit together."""
