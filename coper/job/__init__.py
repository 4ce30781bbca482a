"""A job file, read and checked."""
