"""How the real mounting differs from the design that the end was cut for."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeVar

from coper.joint.mountable import Mountable

End = TypeVar("End", bound=Mountable)


@dataclass(frozen=True, slots=True)
class Mounting:
    """Errors of the mounting.

    Attributes
    ----------
    angle, clock : float, degrees
        Added to the angle; by which the cope stands turned (what was meant for clock ``c`` is at
        ``c + clock``).
    offset : float, mm
        Added to the offset.
    lean, along : float, degrees and mm
        By which it leans round the main, right-handed about its ``+`` way, and stands further
        along it: of an end on several mains.
    """

    angle: float = 0.0
    clock: float = 0.0
    offset: float = 0.0
    lean: float = 0.0
    along: float = 0.0

    def of(self, joint: End) -> End:
        """The joint as it is put together; the turned cope is not in it."""
        return joint.mounted(self.angle, self.offset, self.lean, self.along)
