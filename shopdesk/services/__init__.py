"""The use cases, one function a verb, which page and terminal both call."""
