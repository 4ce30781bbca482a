"""The papers that a job and the command line may ask for, by name: a tuple that costs no import."""

from typing import Final

PAPERS: Final = ("a4", "a3", "letter", "legal", "roll")
"""Those that pages are composed for."""
