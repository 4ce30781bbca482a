"""One thing that may be wrong with a dry fit."""

from __future__ import annotations

from dataclasses import dataclass, replace

from coper.joint.sides import Sided, counted_turn

TURNED = "turned on the tube"
"""The cause whose size is a turn: it is counted as the clocks are."""


@dataclass(frozen=True, slots=True)
class Cause:
    """One thing that may be wrong.

    Attributes
    ----------
    cause, unit : str
        Its name, and the unit of its size: ``deg`` or ``mm``.
    amount : float
        Its size: how far the cope stands turned, the mounted angle less the design's, the mounted
        offset less the design's, or how far a spot stands proud along the tube.
    low, high : float or None
        Its 95 % interval; ``None`` where the readings do not tell it.
    explains : float
        Share of the readings that it explains.
    """

    cause: str
    amount: float
    unit: str
    explains: float
    low: float | None
    high: float | None

    def counted(self, joint: Sided) -> Cause:
        """The same turn as ``joint`` counts it."""
        if counted_turn(joint, 1.0) > 0 or self.low is None or self.high is None:
            return replace(self, amount=counted_turn(joint, self.amount))
        return replace(self, amount=-self.amount, low=-self.high, high=-self.low)

    @property
    def sure(self) -> bool:
        """Whether its interval leaves 0 out."""
        return self.low is not None and self.high is not None and self.low * self.high > 0
