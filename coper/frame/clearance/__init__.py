"""The room round wheels and cranks, and the chain."""
