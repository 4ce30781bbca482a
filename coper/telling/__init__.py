"""Results in words, tables and records."""
