"""From feeler readings to the metal that has to go."""
