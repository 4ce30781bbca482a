"""Tubes placed in space, their two ends, and what is cut from stock."""
