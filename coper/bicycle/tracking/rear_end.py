r"""What a straight edge and a string meet between the head tube and the dropouts, in plan.

::

    y (left)                seat tube            head tube
    ^    || dropout            __                   __
    |    ||                   /  \                 /  \
    o----++------------------(----)---------------(----)--- middle plane
         ||                   \__/                 \__/
         ||
         |<- seat_to_dropout ->|<-- head_to_seat -->|

Lengths run along the straight edge, in side view: from the dropout past the seat tube to the head
tube. A tube that leans is cut by that plane in an ellipse, as wide across as the tube, and longer:
an edge that lies a few thousandths off the middle plane touches it within 0.0001 mm of where it
would touch the circle of the same width (derived: the support ``sqrt(a^2 n^2 + r^2 (1 - n^2))`` of
the ellipse exceeds ``r`` by ``(a^2 - r^2) n^2 / 2r``, at 72 degrees, 18 mm and n = 0.01 0.0001 mm),
and at the dropout within 0.002 mm. So circles stand for the tubes, and the diameter square across
is what counts.
"""

from __future__ import annotations

from dataclasses import dataclass

from coper.errors import ShapeError
from coper.shapes.checks import check_size
from coper.units import format_size

READING_MM = 0.25
"""How good a reading is: half a step of a rule with half millimetres on it.

Common practice, no source.
"""


@dataclass(frozen=True, slots=True)
class LeftRight:
    """The same measure on both sides, mm."""

    left: float
    right: float

    @property
    def half_difference(self) -> float:
        """Half of left less right, mm."""
        return (self.left - self.right) / 2

    @property
    def sum(self) -> float:
        """Left and right together, mm."""
        return self.left + self.right


@dataclass(frozen=True, slots=True)
class Faces:
    """How far each dropout's inner face stands from the middle plane, mm, out on its own side.

    Attributes
    ----------
    stand : LeftRight, mm
    uncertainty : float, mm
        How far each may be wrong by the readings.
    """

    stand: LeftRight
    uncertainty: float

    @property
    def off(self) -> float:
        """How far their middle stands to the left of the middle plane, mm."""
        return self.stand.half_difference

    @property
    def width(self) -> float:
        """From face to face, mm."""
        return self.stand.sum


@dataclass(frozen=True, slots=True)
class RearEnd:
    """The measures of a frame that its tracking needs.

    Attributes
    ----------
    head_diameter, seat_diameter : float, mm
        Across the tubes where edge and string touch them.
    head_to_seat, seat_to_dropout : float, mm
        Along the straight edge, from middle to middle of the tubes and to the axle.
    hub : float, mm
        Over the lock nuts: what the dropouts' inner faces should be apart.
    thickness : float or None, mm
        Of a dropout's plate.
    rim_radius : float or None, mm
    """

    head_diameter: float
    seat_diameter: float
    head_to_seat: float
    seat_to_dropout: float
    hub: float
    thickness: float | None = None
    rim_radius: float | None = None

    def __post_init__(self) -> None:
        for value, what in (
            (self.head_diameter, "head tube diameter"), (self.seat_diameter, "seat tube diameter"),
            (self.head_to_seat, "length from head tube to seat tube"),
            (self.seat_to_dropout, "length from seat tube to dropout"), (self.hub, "hub width"),
            (self.thickness, "dropout thickness"), (self.rim_radius, "rim radius"),
        ):
            if value is not None:
                check_size(value, what)
        self._check_apart(self.head_to_seat, self.head_radius + self.seat_radius,
                          "head tube and seat tube")
        self._check_apart(self.seat_to_dropout, self.seat_radius, "seat tube and dropout")

    @staticmethod
    def _check_apart(length: float, least: float, which: str) -> None:
        if length <= least:
            raise ShapeError(f"{which} {format_size(length)} apart would overlap",
                             f"measure along the straight edge; it is over {format_size(least)}")

    @property
    def head_radius(self) -> float:
        """Half of the head tube's diameter, mm."""
        return self.head_diameter / 2

    @property
    def seat_radius(self) -> float:
        """Half of the seat tube's diameter, mm."""
        return self.seat_diameter / 2

    @property
    def reach(self) -> float:
        """From the dropout to the head tube's middle, mm."""
        return self.head_to_seat + self.seat_to_dropout
