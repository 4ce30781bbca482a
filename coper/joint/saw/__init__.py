"""Hole saws: which one, and how it is set."""
