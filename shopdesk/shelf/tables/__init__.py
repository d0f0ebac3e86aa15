"""The stored tables, by subject; `shopdesk.shelf.models` gathers them."""
