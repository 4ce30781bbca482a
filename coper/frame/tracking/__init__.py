"""Whether the rear end is straight."""
