"""The trade's arithmetic: pure functions on plain floats in m, g, mm and stitches per 10 cm."""
