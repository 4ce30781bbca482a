"""Where the frame's axes stand on the table."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np

from coper.arrays import Floats
from coper.frame.view import FROM_ABOVE, View

Lies = Literal["on its right side", "flat"]
"""How a frame lies on the table."""

FROM_LEFT = View(np.array((-1.0, 0.0, 0.0)), np.array((0.0, 0.0, 1.0)))
"""How one sees a frame that lies on its right side, its top away from the front edge."""

VIEWS: dict[Lies, View] = {"on its right side": FROM_LEFT, "flat": FROM_ABOVE}
"""How one who stands at the front edge and looks down sees the frame: the table's own axes."""


@dataclass(frozen=True, slots=True)
class FlatTable:
    """The table, and how the frame lies on it.

    Attributes
    ----------
    left, edge : float, mm
        From the left end and from the front edge to the frame's origin.
    plane : float, mm
        Height of the frame's origin, and of its middle plane where it lies on its right side.
    width, depth : float, mm
        How much of the table is drawn on, from the left end and from the front edge.
    lies : str
        On its right side, or flat: its front to the right, its left side away from the front edge.
    """

    left: float
    edge: float
    plane: float
    width: float
    depth: float
    lies: Lies = "on its right side"

    @property
    def flat(self) -> bool:
        """Whether the frame lies as it will stand, and heights above the table are its own."""
        return self.lies == "flat"

    @property
    def view(self) -> View:
        """The frame as one sees it from above the table."""
        return VIEWS[self.lies]

    @property
    def origin(self) -> Floats:
        """Where the frame's origin stands (3,): from the left end, from the front edge, height."""
        return np.array((self.left, self.edge, self.plane))

    def placed(self, points: Floats) -> Floats:
        """Points (..., 3) of the frame: from the left end, from the front edge, height; mm."""
        placed: Floats = self.turned(points) + self.origin
        return placed

    def turned(self, directions: Floats) -> Floats:
        """Directions (..., 3) of the frame, as on the table."""
        up: Floats = directions @ self.view.towards
        return np.concatenate((self.view.seen(directions), up[..., None]), axis=-1)
