"""A bicycle: points from what was measured, the ground, changes, clearance, tracking."""
