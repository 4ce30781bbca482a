"""What a person sees while a long command works."""

from __future__ import annotations

from coper.cli.console import Console
from coper.joint.steps import Progress as Hears
from coper.joint.steps import silent

CLEAR = "\r\x1b[K"
"""To the start of the line, and clear it (ECMA-48: CR, EL)."""


class Progress:
    """Shows each step: on a terminal on one line that is overwritten, else a line a step."""

    def __init__(self, out: Console) -> None:
        self.out = out

    @property
    def live(self) -> Hears:
        """What shows steps on a terminal only, because they are many."""
        return self if self.out.alive else silent

    def __call__(self, step: str) -> None:
        """Show the step that begins."""
        if self.out.alive:
            self.out.put(CLEAR)
        self.out.line(f"{step} …", end="" if self.out.alive else "\n")
        self.out.flush()

    def done(self) -> None:
        """Clear the line."""
        if self.out.alive:
            self.out.put(CLEAR)
            self.out.flush()
