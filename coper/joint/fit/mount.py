"""How the real mounting differs from the design that the end was cut for."""

from __future__ import annotations

from dataclasses import dataclass, replace

from coper.joint.joint import Joint


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
    """

    angle: float = 0.0
    clock: float = 0.0
    offset: float = 0.0

    def of(self, joint: Joint) -> Joint:
        """The joint as it is put together; the turned cope is not in it."""
        return replace(joint, angle=joint.angle + self.angle, offset=joint.offset + self.offset)
