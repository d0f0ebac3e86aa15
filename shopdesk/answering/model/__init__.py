"""The ask and the answer as plain immutable data, below all that reads or makes them."""
