"""How careful to be."""
