"""The use cases, one function a verb, that page and terminal both call."""
