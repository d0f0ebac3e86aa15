"""The counter's forms; each one's only way out is a plain document or a domain value."""
