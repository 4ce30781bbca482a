"""One cut of a saw."""

from __future__ import annotations

from dataclasses import dataclass, replace


@dataclass(frozen=True, slots=True)
class Pass:
    """One cut of a saw, whose axis lies as the main's does in the design, but moved.

    Attributes
    ----------
    diameter : float, mm
    offset : float, mm
        The branch's axis passes the saw's at this distance, signed as the joint's offset.
    at : float, mm
        Where it passes: up the branch from the foot of the design.
    """

    diameter: float
    offset: float
    at: float

    def raised(self, by: float) -> Pass:
        """The same cut ``by`` mm further up the branch."""
        return replace(self, at=self.at + by)
