"""The catalog's storage: models, queries, import and export, stock movements, label check."""
