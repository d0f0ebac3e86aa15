"""The stored tables, by subject; `shopdesk.store.models` gathers them."""
