"""What is set and laid out at the bench: saws, the table, stock."""
