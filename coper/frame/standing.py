r"""How a section that is not round stands, how a bend bulges, and the turn that has it so.

::

    up        .---.                        .-----------.
     ^        |   |  stands 60 tall,       |           |  lies 60 wide,
     |        |   |  30 wide               '-----------'  30 tall
     |        '---'
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from coper.arrays import Floats
from coper.errors import ShapeError
from coper.frame.tube import Tube, section_axes
from coper.shapes.bent import Bent
from coper.shapes.box import Box
from coper.shapes.oval import Oval
from coper.shapes.read import Shape
from coper.shapes.tapered_oval import TaperedOval
from coper.shapes.words import tube_words
from coper.tolerances import ALIKE_MM, SQUARE_DEG, TOUCH_MM
from coper.units import format_number, format_size, plain

NEAR_DEG = 10.0
"""A tube that stands nearer to upright has no side that a person would call tall, and a bend whose
two points lie nearer to a direction does not bulge that way: a small slip would turn it by much."""

UP = np.array((0.0, 0.0, 1.0))
FRONT = np.array((1.0, 0.0, 0.0))

STANDS_DEG = 45.0 + SQUARE_DEG
"""A side this near to plumb is the one that stands; rounding of a half decides nothing."""

QUARTER_DEG = 90.0 + SQUARE_DEG
"""A quarter turn, whatever rounding makes of it."""

ON_ARC_MM = 1.0
"""A point on an arc is measured with a tape; it says the side, and the radius says the rest."""

WAYS: dict[str, tuple[float, float, float]] = {
    "up": (0.0, 0.0, 1.0), "down": (0.0, 0.0, -1.0),
    "left": (0.0, 1.0, 0.0), "right": (0.0, -1.0, 0.0),
    "front": (1.0, 0.0, 0.0), "back": (-1.0, 0.0, 0.0)}
"""Directions by the words of the bench."""


@dataclass(frozen=True, slots=True)
class Standing:
    """How the section of a tube stands at its start.

    Attributes
    ----------
    tall, wide : float, mm
        Outside, of the side that stands up and of the other one; of an upright tube from front to
        back, and across.
    turned : float, degrees
        How far the tall side is from plumb, right-handed about start-to-end, -45 to 45; of an
        upright tube from front to back.
    upright : bool
    """

    tall: float
    wide: float
    turned: float
    upright: bool


@dataclass(frozen=True, slots=True)
class Bulge:
    """Where the middle of a bend stands off the straight line between its points.

    Attributes
    ----------
    way : (x, y, z)
        A unit direction, square to that line.
    rise : float or None, mm
        How far; ``None`` of a tube with corners.
    """

    way: tuple[float, float, float]
    rise: float | None


def section_sides(shape: Shape) -> tuple[float, float] | None:
    """Outside widths in mm along clock 0 and along clock 90 at the start; of a round tube none."""
    match shape:
        case Box(first, second):
            return first, second
        case Oval(major, minor) | TaperedOval(major, minor):
            return major, minor
    return None


def turn_to_stand(shape: Shape, ahead: Floats, tall: float) -> float:
    """The turn in degrees, -90 to 90, at which the side of ``tall`` mm stands up.

    ``ahead`` (3,) is the unit way from the start. Where both sides are as long, or either way
    round would do, it is the smaller turn; of two equal ones that with clock 0 upwards.

    Raises
    ------
    ShapeError
        The section has no such side, or the tube stands upright.
    """
    sides = section_sides(shape)
    if sides is None:
        raise ShapeError(f"{tube_words(shape)} is neither a box nor an oval, and has no tall side",
                         "take out tall")
    fits = [abs(side - tall) <= ALIKE_MM for side in sides]
    if not any(fits):
        raise ShapeError(f"{format_size(tall)} is no side of {tube_words(shape)}",
                         f"give {format_number(sides[0])} or {format_number(sides[1])}")
    if _is_upright(ahead):
        raise ShapeError("the tube stands upright: none of its sides is the tall one",
                         "say how it is turned with turn, in degrees")
    up = _square(UP, ahead)
    ways = (up, np.cross(up, ahead))  # of clock 0, where the first side stands, or the second
    turns = [_half_turned(_angle(section_axes(ahead), way))
             for way, fit in zip(ways, fits, strict=True) if fit]
    return min(turns, key=abs)


def turn_to_bulge(shape: Shape, ahead: Floats, way: Floats) -> float:
    """The turn in degrees at which a bend bulges as near to ``way`` (3,) as it can.

    ``ahead`` (3,) is the unit way from its start point to its end point.

    Raises
    ------
    ShapeError
        The tube is no bend, or its points lie one behind the other in that direction.
    """
    _check_bent(shape, "bulge")
    size = float(np.linalg.norm(way))
    if size <= TOUCH_MM:
        raise ShapeError("a direction without a length", "write [x, y, z], such as [0, 0, 1]")
    off = math.degrees(math.acos(min(abs(float(ahead @ way)) / size, 1.0)))
    if off < NEAR_DEG:
        raise ShapeError("the line from its start to its end runs that way, to within "
                         f"{plain(round(off, 2))} degrees", "give a direction across that line")
    return _bulging(ahead, _square(way, ahead))


def turn_through(shape: Shape, start: Floats, end: Floats, point: Floats) -> float:
    """The turn in degrees at which the arc from ``start`` to ``end`` goes through ``point``.

    All three are points (3,), mm.

    Raises
    ------
    ShapeError
        The tube is no bend, or the point is not on such an arc: by how much it is off.
    """
    bent = _check_bent(shape, "through")
    chord = float(np.linalg.norm(end - start))
    ahead = (end - start) / chord
    from_middle = point - (start + end) / 2
    along = float(from_middle @ ahead)
    across = from_middle - along * ahead
    out = float(np.linalg.norm(across))
    if out <= ON_ARC_MM:
        raise ShapeError("the point lies on the straight line through start and end, and says no "
                         "side", "give one out on the arc")
    if 2 * bent.radius < chord:
        return 0.0  # no such tube: it is refused with what would span
    _check_on_arc(bent, chord, along, out)
    return _bulging(ahead, across / out)


def _bulging(ahead: Floats, way: Floats) -> float:
    """The turn, above -180 to 180 degrees, that has clock 90 face ``way`` (3,), a unit one."""
    return 180 - (270 - _angle(section_axes(ahead), way)) % 360


def _check_on_arc(bent: Bent, chord: float, along: float, out: float) -> None:
    """Refuse a point that is ``along`` and ``out`` mm from the middle of the chord, off the arc.

    Derived: the circle through both ends and the point has its centre ``d`` beside the middle,
    where ``(along^2 + out^2 - (chord / 2)^2) / (2 out)`` is ``d`` towards the point; a bend goes
    the short way round, so that its centre is on the other side, and ``d`` below 0.
    """
    below = math.sqrt(max(bent.radius**2 - chord**2 / 4, 0.0))
    off = math.hypot(along, out + below) - bent.radius
    if abs(off) <= ON_ARC_MM:
        return
    beside = (along**2 + out**2 - chord**2 / 4) / (2 * out)
    side = "outside" if off > 0 else "inside"
    cure = "move the point onto it: a bend goes the short way round"
    if beside <= 0:
        cure = ("move the point onto it, or bend it to "
                f"{format_size(round(math.hypot(chord / 2, beside), 2))}")
    raise ShapeError(f"the point is {format_size(round(abs(off), 2))} {side} an arc of radius "
                     f"{format_size(bent.radius)} from start to end", cure)


def _check_bent(shape: Shape, key: str) -> Bent:
    if not isinstance(shape, Bent):
        raise ShapeError(f"{tube_words(shape)} does not bulge: it is no bend",
                         f'take out {key}, or bend it in its shape, such as "25.4 bent to 120"')
    return shape


def standing(tube: Tube) -> Standing | None:
    """How the section of a tube stands; ``None`` of a round one."""
    sides = section_sides(tube.shape)
    if sides is None:
        return None
    first, _, ahead = tube.pose.axes
    upright = _is_upright(ahead)
    plumb = _square(FRONT if upright else UP, ahead)
    off = (_angle(np.stack((plumb, np.cross(ahead, plumb))), first) + 90) % 180 - 90
    if abs(off) <= STANDS_DEG:
        return Standing(*sides, off, upright)
    return Standing(*sides[::-1], off - math.copysign(90, off), upright)


def bulge(tube: Tube) -> Bulge | None:
    """Where a bend bulges; of a tube with corners only where they are all on one side of it."""
    if isinstance(tube.shape, Bent):
        axes = tube.pose.axes
        half = math.asin(min(tube.chord / 2 / tube.shape.radius, 1.0))
        return Bulge(_plain_way(axes[1]), tube.shape.radius * (1 - math.cos(half)))
    if tube.course is None or tube.chord <= TOUCH_MM:
        return None
    ahead = (tube.end - tube.start) / tube.chord
    across = tube.corners - tube.start
    across = across - (across @ ahead)[:, None] * ahead
    out = np.linalg.norm(across, axis=1)
    furthest = int(out.argmax())
    if out[furthest] <= ALIKE_MM:
        return None
    way = across[furthest] / out[furthest]
    return None if (across @ way).min() < -ALIKE_MM else Bulge(_plain_way(way), None)


def _plain_way(way: Floats) -> tuple[float, float, float]:
    x, y, z = way.tolist()
    return x, y, z


def _is_upright(ahead: Floats) -> bool:
    return bool(abs(ahead[2]) > math.cos(math.radians(NEAR_DEG)))


def _square(way: Floats, ahead: Floats) -> Floats:
    """What of a direction (3,) is square to ``ahead`` (3,), as a unit direction."""
    square = way - (way @ ahead) * ahead
    unit: Floats = square / np.linalg.norm(square)
    return unit


def _angle(axes: Floats, way: Floats) -> float:
    """Where ``way`` (3,) points, degrees from the first of ``axes`` (2 or 3, 3) to the second."""
    return math.degrees(math.atan2(float(way @ axes[1]), float(way @ axes[0])))


def _half_turned(turn: float) -> float:
    """The same way a section stands, turned by 90 degrees at most."""
    return turn - math.copysign(180, turn) if abs(turn) > QUARTER_DEG else turn
