"""Shapes: what a tube is."""
