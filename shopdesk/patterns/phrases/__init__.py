"""The ways a pattern's header is written in, and what each of them reads."""
