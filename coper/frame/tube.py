"""A tube at its place in the frame."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike

from coper.arrays import Floats
from coper.errors import ShapeError
from coper.shapes.arc import Arc
from coper.shapes.bending import check_bends, check_course
from coper.shapes.bent import Bent
from coper.shapes.course import Course, check_apart, make_course
from coper.shapes.flipped import OTHER_WAY, Flipped
from coper.shapes.plate import Plate
from coper.shapes.pose import Pose, turned
from coper.shapes.read import Shape
from coper.shapes.run import Run
from coper.shapes.shape import BranchShape, MainShape, as_branch, as_main
from coper.tolerances import EVEN_MM, TOUCH_MM
from coper.units import format_size

Side = Literal["left", "right", "centre"]
Which = Literal["start", "end"]
ENDS: tuple[Which, Which] = ("start", "end")

REMEMBERED = 512
"""Tubes, and pieces of them, of which what was worked out is kept: who changes a number of a job
asks for all that stayed as it was again, and for what undo brings back."""

NEAR_Y_DEG = 10.0
"""A tube nearer to the y axis than this has its clock 0 towards ``+z`` (design, section 2)."""

MIRROR = np.array((1.0, -1.0, 1.0))
"""What the middle plane of the frame makes of a point."""


def leaning_side(
    start: ArrayLike, end: ArrayLike, corners: Sequence[tuple[float, float, float]] = ()
) -> Side:
    """The side that a tube's middle is on, or its start's where the middle is in the middle plane.

    ``start`` and ``end`` are points (3,), mm; where both are in that plane the first corner that
    is not decides, and it is ``centre`` where none is.
    """
    first, last = float(np.asarray(start)[1]), float(np.asarray(end)[1])
    for y in ((first + last) / 2, first, *(y for _, y, _ in corners)):
        if abs(y) > EVEN_MM:
            return "left" if y > 0 else "right"
    return "centre"


def labelled(name: str, side: Side) -> str:
    """A tube's name, and its side where it has a twin."""
    return name if side == "centre" else f"{name} {side}"


def section_axes(ahead: Floats, turn: float = 0.0) -> Floats:
    """Clock 0, clock 90 and along (3, 3) of a tube that begins ``ahead`` (3,), a unit way."""
    facing = np.array((0.0, 0.0, 1.0) if _beside_y(ahead) else (0.0, 1.0, 0.0))
    square = facing - (facing @ ahead) * ahead
    first = square / np.linalg.norm(square)
    return np.stack((*turned(first, np.cross(ahead, first), turn), ahead))


def _beside_y(ahead: Floats) -> bool:
    return bool(abs(ahead[1]) > math.cos(math.radians(NEAR_Y_DEG)))


@dataclass(frozen=True, slots=True, eq=False, init=False)
class Tube:
    """A tube from its start point to its end point, in the frame's axes.

    ::

        start o-----------------o end      seen from the start, clock grows clockwise;
              along 0 ---------> length    clock 0 faces +y (beside the y axis: +z), then turn

    A tube of a bent shape is the arc through both points; it bulges to its clock 90. Any other
    may be bent at corners: straight, bent, straight. Its section is carried along without a twist.

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
    corners : (k, 3) float, mm
        Where the straight axes of a tube that is bent between its points would meet.
    radii : tuple of float, mm
        Of its centreline, one a corner.
    course : Course or None
        Its centreline; ``None`` of a tube without corners.
    axes : (3, 3) float
        Clock 0, clock 90 and along, at the start: asked for at every point that is drawn.
    """

    shape: Shape
    start: Floats
    end: Floats
    name: str
    side: Side
    turn: float
    existing: bool
    corners: Floats
    radii: tuple[float, ...]
    course: Course | None = field(init=False)
    axes: Floats = field(init=False)

    def __init__(
        self, shape: Shape, start: ArrayLike, end: ArrayLike, name: str = "tube",
        side: Side = "centre", turn: float = 0.0, existing: bool = False,
        corners: ArrayLike = (), radii: Sequence[float] = (),
    ) -> None:
        given = {"shape": shape, "start": _point(start, "start"), "end": _point(end, "end"),
                 "name": name, "side": side, "turn": turn + 0.0, "existing": existing,
                 "corners": np.array([_point(corner, "corners") for corner in np.asarray(corners)]
                                     ).reshape(-1, 3),
                 "radii": tuple(radii), "course": None}
        for key, value in given.items():
            object.__setattr__(self, key, value)
        self._check()
        object.__setattr__(self, "axes", section_axes(self._ahead, self.turn))
        if self.radii:
            object.__setattr__(self, "course", self._course())

    def _check(self) -> None:
        """Refuse what no tube can be."""
        if not math.isfinite(self.turn):
            raise ShapeError(f"{self.turn} is no angle", "give degrees", "turn")
        if self.radii or self.corners.size:
            check_bends(self.shape, self.corners, self.radii)
            check_apart(self._points())
        elif self.chord <= TOUCH_MM:
            raise ShapeError("start and end are the same point", "move one of them")
        if isinstance(self.shape, Bent) and self.chord > 2 * self.shape.radius:
            raise ShapeError(
                f"the points are {format_size(self.chord)} apart, further than a bend of radius "
                f"{format_size(self.shape.radius)} spans",
                f"bring them within {format_size(2 * self.shape.radius)} or bend it wider")

    def _course(self) -> Course:
        course = make_course(self._points(), self.radii, self.axes)
        check_course(self.shape, course)
        return course

    def _points(self) -> Floats:
        """The start, the corners and the end (k, 3)."""
        return np.stack((self.start, *self.corners, self.end))

    @property
    def label(self) -> str:
        """The tube's name, and its side where it has a twin."""
        return labelled(self.name, self.side)

    @property
    def is_bent(self) -> bool:
        """Whether any of it is bent."""
        return self.course is not None or isinstance(self.shape, Bent)

    @property
    def chord(self) -> float:
        """Straight from point to point, mm."""
        return float(np.linalg.norm(self.end - self.start))

    @property
    def middle(self) -> Floats:
        """Half-way (3,) from the start point to the end point; of a tube with corners along it."""
        if self.course is not None:
            return self.course.frames(np.array(self.length / 2)).origin
        middle: Floats = (self.start + self.end) / 2
        return middle

    @property
    def length(self) -> float:
        """Along the tube from point to point, mm; of a bent one along its centreline."""
        if self.course is not None:
            return self.course.length
        if isinstance(self.shape, Bent):
            return 2 * self._half(self.shape) * self.shape.radius
        return self.chord

    def _half(self, bent: Bent) -> float:
        return math.asin(min(self.chord / 2 / bent.radius, 1.0))

    @property
    def pose(self) -> Pose:
        """The shape's own frame: clock 0, clock 90, along; from the start, a bend's its crown."""
        axes = self.axes
        origin = self.start
        if isinstance(self.shape, Bent):
            rise = self.shape.radius * (1 - math.cos(self._half(self.shape)))
            origin = (self.start + self.end) / 2 + rise * axes[1]
        return Pose(origin, axes)

    @property
    def _ahead(self) -> Floats:
        """The way (3,) from the start point, to the end or to the first corner."""
        way = (self.corners[0] if self.radii else self.end) - self.start
        ahead: Floats = way / np.linalg.norm(way)
        return ahead

    @property
    def beside_y(self) -> bool:
        """Whether it lies across the frame: its clock 0 faces up then, and not to the left."""
        return _beside_y(self._ahead)

    @property
    def as_main(self) -> MainShape:
        """What a branch seats on, in the frame of :attr:`pose`."""
        if self.course is not None:
            return Run(as_main(self.shape), self.course.seen_from(self.pose))
        if isinstance(self.shape, Bent):
            return Arc(self.shape, self._half(self.shape))
        return as_main(self.shape)

    @property
    def ways(self) -> tuple[Floats, Floats]:
        """The way ahead (3,) along the centreline at the start point, and at the end point."""
        axes = self.axes
        if self.course is not None:
            last: Floats = self.course.frames(np.array(self.length)).axes[2]
            return axes[2], last
        if isinstance(self.shape, Bent):
            half = self._half(self.shape)
            rise, run = math.sin(half) * axes[1], math.cos(half) * axes[2]
            return run + rise, run - rise
        return axes[2], axes[2]

    def point(self, which: Which) -> Floats:
        """The start point or the end point (3,)."""
        return self.start if which == "start" else self.end

    def way_in(self, which: Which) -> Floats:
        """The way (3,) from the start point or the end point into the tube."""
        ahead, on = self.ways
        return ahead if which == "start" else -on

    def seen_from(self, which: Which) -> tuple[BranchShape, Pose]:
        """The branch as its ``which`` end sees it: along 0 at that point, the body above."""
        shape, pose = as_branch(self.shape), self.pose
        if which == "start":
            return shape, pose
        axes = pose.axes
        if self.course is not None:
            axes = self.course.frames(np.array(self.length)).axes
        return Flipped(shape, self.length), Pose(self.end, axes * OTHER_WAY[:, None])

    def station(self, points: Floats) -> Floats:
        """Positions (...,) in mm from the start point, along the tube, of points of the frame."""
        along: Floats = self.straightened(points)[..., 2]
        return along

    def straightened(self, points: Floats) -> Floats:
        """Where points (..., 3) of the frame are in the straight tube, mm.

        Across towards clock 0, across towards clock 90, and along from the start point; of a bent
        shape the first two are those of its crown.
        """
        if self.course is not None:
            return self.course.straightened(points)
        own, main = self.pose.inward(points), self.as_main
        if isinstance(main, Arc):
            own[..., 2] = main.station(own) + self.length / 2
        return own

    def mirrored(self) -> Tube:
        """Its twin on the other side of the middle plane, described by the same rules.

        Mirrored, clock ``c`` of the tube is clock ``180 - c`` of its twin; beside the y axis it is
        ``-c``. Sections do not mind a half turn, but a bend's bulge and a plate's face do.
        """
        turn = -self.turn
        if self.beside_y and isinstance(self.shape, Bent | Plate):
            turn += 180
        return replace(self, start=self.start * MIRROR, end=self.end * MIRROR,
                       corners=self.corners * MIRROR, side=across(self.side), turn=turn)


_OTHER: dict[Side, Side] = {"left": "right", "right": "left", "centre": "centre"}


def across(side: Side) -> Side:
    """The side that is the mirror image of ``side``."""
    return _OTHER[side]


def _point(value: ArrayLike, where: str) -> Floats:
    """A point (3,) in mm that cannot be changed; -0 is 0, so that equal ones give one tube."""
    point = np.array(value, dtype=np.float64) + 0.0
    if point.shape != (3,) or not np.isfinite(point).all():
        raise ShapeError(f"{value!r} is no point", "give x, y and z in mm", where)
    point.setflags(write=False)
    return point
