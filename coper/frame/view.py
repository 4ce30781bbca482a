"""From where one looks at a frame.

::

      up ^
         |
         +------> right            the eye looks against right x up
"""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np

from coper.arrays import Floats


@dataclass(frozen=True, slots=True, eq=False)
class View:
    """From where one looks: two unit directions of the paper, in the frame's axes.

    Attributes
    ----------
    right, up : (3,) float
    towards : (3,) float
        The direction towards the eye: asked for by every line that is drawn.
    """

    right: Floats
    up: Floats
    towards: Floats = field(init=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "towards", np.cross(self.right, self.up))

    def seen(self, points: Floats) -> Floats:
        """Points (..., 3) of the frame as (..., 2) of the paper, mm."""
        return points @ np.stack((self.right, self.up), axis=-1)


def view_towards(towards: Floats, upright: Floats) -> View:
    """The view of an eye in the direction ``towards`` (3,), ``upright`` (3,) upwards on paper."""
    towards = towards / np.linalg.norm(towards)
    right = np.cross(upright, towards)
    right = right / np.linalg.norm(right)
    return View(right, np.cross(towards, right))


FROM_RIGHT = View(np.array((1.0, 0.0, 0.0)), np.array((0.0, 0.0, 1.0)))
"""From the frame's right side: forward is to the right, up is up."""

FROM_ABOVE = View(np.array((1.0, 0.0, 0.0)), np.array((0.0, 1.0, 0.0)))
"""From above: forward is to the right, the frame's left is up."""

FROM_FRONT = View(np.array((0.0, 1.0, 0.0)), np.array((0.0, 0.0, 1.0)))
"""From the front: the frame's left is to the right, up is up."""


def view_turned(round_: float, up: float) -> View:
    """What is seen of a frame turned by degrees: ``round_`` the upright, as the finger goes.

    ::

        from above:  back <--o--> front      round_ 0: from its right; -90: from the front;
                           right             180: from its left
                             ^ eye at 0      up 0: from the side; 90: from above

    Turned further round, what is near the eye goes to the right of the picture; looked at from
    further ``up``, it goes down.
    """
    turn, rise = np.radians((round_, up))
    level = np.array((-np.sin(turn), -np.cos(turn), 0.0))
    right = np.array((np.cos(turn), -np.sin(turn), 0.0))
    return View(right, np.array((0.0, 0.0, np.cos(rise))) - np.sin(rise) * level)
