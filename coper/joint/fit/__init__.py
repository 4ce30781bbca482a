"""Fit-up: a cut face, pushed home, and the gap that is left."""
