"""The frame on the flat table."""
