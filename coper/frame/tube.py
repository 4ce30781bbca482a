"""A tube at its place in the frame."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike

from coper.arrays import Floats
from coper.errors import ShapeError
from coper.shapes.arc import Arc
from coper.shapes.bent import Bent
from coper.shapes.checks import plain
from coper.shapes.flipped import OTHER_WAY, Flipped
from coper.shapes.plate import Plate
from coper.shapes.pose import Pose, turned
from coper.shapes.read import Shape
from coper.shapes.shape import BranchShape, MainShape, as_branch, as_main
from coper.tolerances import EVEN_MM, TOUCH_MM

Side = Literal["left", "right", "centre"]
Which = Literal["start", "end"]
ENDS: tuple[Which, Which] = ("start", "end")

NEAR_Y_DEG = 10.0
"""A tube nearer to the y axis than this has its clock 0 towards ``+z`` (design, section 2)."""

MIRROR = np.array((1.0, -1.0, 1.0))
"""What the middle plane of the frame makes of a point."""


def leaning_side(start: ArrayLike, end: ArrayLike) -> Side:
    """The side that a tube's middle is on, or its start's where the middle is in the middle plane.

    ``start`` and ``end`` are points (3,), mm; ``centre`` where both are in that plane.
    """
    first, last = float(np.asarray(start)[1]), float(np.asarray(end)[1])
    for y in ((first + last) / 2, first):
        if abs(y) > EVEN_MM:
            return "left" if y > 0 else "right"
    return "centre"


@dataclass(frozen=True, slots=True, eq=False, init=False)
class Tube:
    """A tube from its start point to its end point, in the frame's axes.

    ::

        start o-----------------o end      seen from the start, clock grows clockwise;
              along 0 ---------> length    clock 0 faces +y (beside the y axis: +z), then turn

    A bent tube is the arc through both points; it bulges to its clock 90.

    Attributes
    ----------
    shape : a shape
    start, end : (3,) float, mm
    name : str
    side : ``left`` (+y), ``right`` or ``centre``
    turn : float, degrees
        Turns the section from where clock 0 faces, right-handed about start-to-end.
    existing : bool
        Whether it stands already: others seat on it, and it is never cut.
    """

    shape: Shape
    start: Floats
    end: Floats
    name: str
    side: Side
    turn: float
    existing: bool

    def __init__(
        self, shape: Shape, start: ArrayLike, end: ArrayLike, name: str = "tube",
        side: Side = "centre", turn: float = 0.0, existing: bool = False,
    ) -> None:
        given = {"shape": shape, "start": _point(start, "start"), "end": _point(end, "end"),
                 "name": name, "side": side, "turn": turn, "existing": existing}
        for key, value in given.items():
            object.__setattr__(self, key, value)
        self._check()

    def _check(self) -> None:
        """Refuse what no tube can be."""
        if not math.isfinite(self.turn):
            raise ShapeError(f"{self.turn} is no angle", "give degrees", "turn")
        if self.chord <= TOUCH_MM:
            raise ShapeError("start and end are the same point", "move one of them")
        if isinstance(self.shape, Bent) and self.chord > 2 * self.shape.radius:
            raise ShapeError(
                f"the points are {plain(self.chord)} mm apart, further than a bend of radius "
                f"{plain(self.shape.radius)} mm spans",
                f"bring them within {plain(2 * self.shape.radius)} mm or bend it wider")

    @property
    def label(self) -> str:
        """The tube's name, and its side where it has a twin."""
        return self.name if self.side == "centre" else f"{self.name} {self.side}"

    @property
    def chord(self) -> float:
        """Straight from point to point, mm."""
        return float(np.linalg.norm(self.end - self.start))

    @property
    def length(self) -> float:
        """Along the tube from point to point, mm; of a bent one along its centreline."""
        if isinstance(self.shape, Bent):
            return 2 * self._half(self.shape) * self.shape.radius
        return self.chord

    def _half(self, bent: Bent) -> float:
        return math.asin(min(self.chord / 2 / bent.radius, 1.0))

    @property
    def pose(self) -> Pose:
        """The shape's own frame: clock 0, clock 90, along; from the start, a bend's its crown."""
        axis = (self.end - self.start) / self.chord
        facing = np.array((0.0, 0.0, 1.0) if self.beside_y else (0.0, 1.0, 0.0))
        square = facing - (facing @ axis) * axis
        first = square / np.linalg.norm(square)
        first, second = turned(first, np.cross(axis, first), self.turn)
        origin = self.start
        if isinstance(self.shape, Bent):
            rise = self.shape.radius * (1 - math.cos(self._half(self.shape)))
            origin = (self.start + self.end) / 2 + rise * second
        return Pose(origin, np.stack((first, second, axis)))

    @property
    def beside_y(self) -> bool:
        """Whether it lies across the frame: its clock 0 faces up then, and not to the left."""
        lean = abs(self.end[1] - self.start[1]) / self.chord
        return bool(lean > math.cos(math.radians(NEAR_Y_DEG)))

    @property
    def as_main(self) -> MainShape:
        """What a branch seats on, in the frame of :attr:`pose`."""
        if isinstance(self.shape, Bent):
            return Arc(self.shape, self._half(self.shape))
        return as_main(self.shape)

    def seen_from(self, which: Which) -> tuple[BranchShape, Pose]:
        """The branch as its ``which`` end sees it: along 0 at that point, the body above."""
        shape, pose = as_branch(self.shape), self.pose
        if which == "start":
            return shape, pose
        return Flipped(shape, self.length), Pose(self.end, pose.axes * OTHER_WAY[:, None])

    def station(self, points: Floats) -> Floats:
        """Positions (...,) in mm from the start point, along the tube, of points of the frame."""
        own = self.pose.inward(points)
        main = self.as_main
        if isinstance(main, Arc):
            return main.station(own) + self.length / 2
        along: Floats = own[..., 2]
        return along

    def mirrored(self) -> Tube:
        """Its twin on the other side of the middle plane, described by the same rules.

        Mirrored, clock ``c`` of the tube is clock ``180 - c`` of its twin; beside the y axis it is
        ``-c``. Sections do not mind a half turn, but a bend's bulge and a plate's face do.
        """
        turn = -self.turn
        if self.beside_y and isinstance(self.shape, Bent | Plate):
            turn += 180
        return replace(self, start=self.start * MIRROR, end=self.end * MIRROR,
                       side=_OTHER[self.side], turn=turn)


_OTHER: dict[Side, Side] = {"left": "right", "right": "left", "centre": "centre"}


def _point(value: ArrayLike, where: str) -> Floats:
    """A point (3,) in mm that cannot be changed."""
    point = np.array(value, dtype=np.float64)
    if point.shape != (3,) or not np.isfinite(point).all():
        raise ShapeError(f"{value!r} is no point", "give x, y and z in mm", where)
    point.setflags(write=False)
    return point
