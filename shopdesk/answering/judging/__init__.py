"""How well a yarn does for an ask: its requirements, reasons, strands, care and order."""
