"""What a person sees while a long command works."""

from __future__ import annotations

from typing import TextIO

CLEAR = "\r\x1b[K"
"""To the start of the line, and clear it (ECMA-48: CR, EL)."""


class Progress:
    """Shows each step: on a terminal on one line that is overwritten, else a line a step."""

    def __init__(self, out: TextIO) -> None:
        self.out = out
        self.alive = out.isatty()

    def __call__(self, step: str) -> None:
        """Show the step that begins."""
        self.out.write(f"{CLEAR}{step} …" if self.alive else f"{step} …\n")
        self.out.flush()

    def done(self) -> None:
        """Clear the line."""
        if self.alive:
            self.out.write(CLEAR)
            self.out.flush()
