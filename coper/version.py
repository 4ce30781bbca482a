"""The version, in one place: the packaging reads it too."""

__version__ = "0.1.0"
