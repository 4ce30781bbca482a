"""A bicycle: its points from what was measured, how it stands, what a change does."""
