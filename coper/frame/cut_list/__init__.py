"""Blanks, shared out on stock lengths."""
