"""The joint: where a branch meets its mains, and what follows from it."""
