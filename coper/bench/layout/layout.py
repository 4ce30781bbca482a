r"""The frame laid on a flat table, and all that is marked and set up there.

::

       ^ from the front edge = z           on its right side, seen from above, which is from the
       |        o                          frame's left: its front points to the left end
       |  o----/ \----o
    left    \ /           height above
    end |    o            the table = y
       =+==================> from the left end = -x
          front edge, where one stands

       ^ from the front edge = y           flat, as it will stand, seen from above: its front
       |  o-----------o                    points to the right, its left side away from one
       |  |           |---o
    left  o-----------o   height above
    end |                 the table = z
       =+==================> from the left end = x
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from coper.arrays import Floats, OneLine, Point
from coper.bench.layout.axis_marks import AxisMarks, marked_axes
from coper.bench.layout.blocks import BlockSet
from coper.bench.layout.circles import Circle, circle_of, rims, wheel_cautions
from coper.bench.layout.diagonals import Diagonal, diagonals
from coper.bench.layout.lying import Lying, lie, lowest, seen_outline
from coper.bench.layout.spots import Height, Named, PointMark, given_point, make_height, mark_spots
from coper.bench.layout.table import VIEWS, FlatTable, Lies
from coper.bicycle.bicycle import Axis
from coper.bicycle.standing import StandingWheel
from coper.errors import CoperError
from coper.frame.piece import Piece
from coper.frame.tube import ENDS
from coper.shapes.plate import Plate
from coper.tolerances import TOUCH_MM
from coper.units import format_number, format_size, shown_up

MARGIN_MM = 50.0
"""The drawing keeps this far from the front edge and the left end: there the rule and the square
need room, and the edge is where a table is worn."""

ROUND_MM = 10.0
"""The frame's origin and the far lines stand at multiples of this: easy to lay out."""

AXLES = ("axle", "front-axle")
"""Points whose drop is given, where the job has them."""


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Subject(OneLine):
    """What is laid out, in the frame's axes.

    Attributes
    ----------
    pieces : tuple of Piece
    points : dict of name to (x, y, z), mm
    axes : dict of name to a point and a unit direction
    wheels : tuple of StandingWheel
    """

    pieces: tuple[Piece, ...]
    points: Mapping[str, Point]
    axes: Mapping[str, Axis]
    wheels: tuple[StandingWheel, ...] = ()


@dataclass(frozen=True, slots=True, eq=False)
class Setting:
    """How it is laid out; ``None`` where that is to be found.

    Attributes
    ----------
    origin : (from the left end, from the front edge) or None, mm
        Where the frame's origin stands.
    plane : float or None, mm
        Height above the table: of the frame's middle plane; of its lowest point where it is flat.
    blocks : BlockSet or None
    step : float, mm
        What round numbers are multiples of.
    lies : str
        On its right side, or flat.
    """

    origin: tuple[float, float] | None = None
    plane: float | None = None
    blocks: BlockSet | None = None
    step: float = ROUND_MM
    lies: Lies = "on its right side"


@dataclass(frozen=True, slots=True)
class Drop:
    """How much further from the front edge an axle lies than the origin: signed ``rise``, mm."""

    name: str
    rise: float
    height: Height


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Layout(OneLine):
    """Everything that is marked on the table and set up on it.

    Attributes
    ----------
    table : FlatTable
    lowest : (name, y), of a frame that is flat (name, z)
        What reaches furthest down, and where in the frame, mm.
    wheels, drops
        Empty where the frame is flat: wheels stand upright then, and heights say the rest.
    """

    subject: Subject
    table: FlatTable
    lowest: tuple[str, float]
    spots: tuple[PointMark, ...]
    tubes: tuple[Lying, ...]
    axes: tuple[AxisMarks, ...]
    diagonals: tuple[Diagonal, ...]
    wheels: tuple[Circle, ...]
    drops: tuple[Drop, ...]
    cautions: tuple[str, ...]

    @property
    def clear(self) -> float:
        """Height of the lowest part above the table, mm."""
        return max(self.table.plane + self.lowest[1], 0.0)

    @property
    def rims(self) -> tuple[Circle, ...]:
        """The circles to draw: wheels that stand over each other are one, with both names."""
        return rims(self.wheels)


def make_layout(subject: Subject, setting: Setting) -> Layout:
    """Lay a frame out.

    Raises
    ------
    CoperError
        Where the frame would reach into the table, or stand over its front edge or left end.
    """
    if setting.lies == "flat":
        subject = replace(subject, wheels=())
    low = _lowest(subject, setting.lies)
    table = _table(subject, setting, _plane(low, setting))
    spots = mark_spots(_named(subject, table), setting.blocks)
    wheels = tuple(circle_of(wheel, table) for wheel in subject.wheels)
    tubes = tuple(lie(piece, table, setting.blocks) for piece in subject.pieces)
    return Layout(
        subject, table, low, spots, tubes,
        marked_axes(_axes(subject, table, tubes), table.width, table.depth),
        diagonals(np.array([spot.at for spot in spots])),
        wheels,
        () if table.flat else tuple(_drops(subject, setting.blocks)),
        (*wheel_cautions(wheels), *_plate_cautions(subject)),
    )


def _lowest(subject: Subject, lies: Lies) -> tuple[str, float]:
    """What reaches furthest down, and how high in the frame it is, mm."""
    up = VIEWS[lies].towards
    reach = [(piece.label, lowest(piece, lies)) for piece in subject.pieces]
    reach += [(name, float(np.array(point) @ up)) for name, point in subject.points.items()]
    return min(reach, key=lambda one: one[1])


def _plane(low: tuple[str, float], setting: Setting) -> float:
    """The origin's height: as asked, else the next that a stack comes to, or a round one.

    A frame that is flat lies on the table itself, unless its lowest point is asked to be higher.
    """
    name, y = low
    if setting.lies == "flat":
        return _lifted(name, setting.plane or 0.0) - y
    least = max(-y, 0.0)
    if setting.plane is None:
        up = None if setting.blocks is None else setting.blocks.next_up(least)
        return _up(least, setting.step) if up is None else up
    if setting.plane < least - TOUCH_MM:
        raise CoperError(
            f"{format_size(setting.plane)} above the table, the frame's middle plane leaves "
            f"no room for {name}, which reaches {format_size(round(least, 2))} below it",
            f"give {format_number(shown_up(least))} or more", "plane")
    return setting.plane


def _lifted(name: str, height: float) -> float:
    if height < -TOUCH_MM:
        raise CoperError(f"the lowest point, of {name}, would be {format_size(-height)} below "
                         "the top of the table", "give 0 or more", "plane")
    return height


def _up(value: float, step: float) -> float:
    """The next multiple of ``step``."""
    return math.ceil(value / step - TOUCH_MM) * step


def _table(subject: Subject, setting: Setting, plane: float) -> FlatTable:
    """Where the frame's origin stands, and how much of the table is drawn on."""
    flat = FlatTable(0.0, 0.0, plane, 0.0, 0.0, setting.lies)
    reach = [(name, *_reach(points)) for name, points in _drawn(subject, flat)]
    edges = [(np.array(circle.at) - circle.radius, np.array(circle.at) + circle.radius)
            for circle in (circle_of(wheel, flat) for wheel in subject.wheels)]
    low = np.min([*(one[1] for one in reach), *(rim[0] for rim in edges)], axis=0)
    high = np.max([*(one[2] for one in reach), *(rim[1] for rim in edges)], axis=0)
    if setting.origin is None:
        left, edge = (_up(MARGIN_MM - float(bound), setting.step) for bound in low)
    else:
        left, edge = setting.origin
        _check_on_table(reach, left, edge)
    width, depth = (_up(float(bound) + MARGIN_MM, setting.step)
                    for bound in high + np.array((left, edge)))
    return FlatTable(left, edge, plane, width, depth, setting.lies)


def _drawn(subject: Subject, flat: FlatTable) -> Iterator[tuple[str, Floats]]:
    """The marks (n, 2) of everything that has to lie on the table, by its name."""
    for piece in subject.pieces:
        yield piece.label, np.concatenate(seen_outline(piece, flat))
    for name, point in subject.points.items():
        yield name, flat.placed(np.array(point))[None, :2]


def _reach(points: Floats) -> tuple[Floats, Floats]:
    return points.min(axis=0), points.max(axis=0)


def _check_on_table(reach: list[tuple[str, Floats, Floats]], left: float, edge: float) -> None:
    """Refuse an origin that puts a tube or a point over the front edge or the left end."""
    for axis, origin, line in ((0, left, "left end"), (1, edge, "front edge")):
        name, over = min(((name, float(low[axis]) + origin) for name, low, _ in reach),
                         key=lambda one: one[1])
        if over < -TOUCH_MM:
            least = shown_up(origin - over)
            raise CoperError(
                f"with the frame's origin {format_size(origin)} from the {line}, {name} reaches "
                f"{format_size(round(-over, 2))} over it",
                f"put the origin {format_size(least)} or more from the {line}", "origin")


def _named(subject: Subject, table: FlatTable) -> Iterator[Named]:
    """Every point to mark: those of the job, then the ends of the tubes.

    Twins of a frame on its side stand above each other, and share a name.
    """
    for name, point in subject.points.items():
        yield given_point(name, table.placed(np.array(point)),
                          () if table.flat else subject.points)
    for piece in subject.pieces:
        for which in ENDS:
            at = piece.tube.point(which)
            base = piece.label if table.flat else piece.tube.name
            yield Named(f"{piece.label} {which}", f"{base} {which}", False, table.placed(at))


def _axes(
    subject: Subject, table: FlatTable, tubes: Sequence[Lying]
) -> Iterator[tuple[str, Floats, Floats]]:
    """Every straight axis that makes a line on the table."""
    for name, (point, way) in subject.axes.items():
        yield name, table.placed(np.array(point))[:2], table.turned(np.array(way))[:2]
    for piece, lying in zip(subject.pieces, tubes, strict=True):
        if lying.angle is not None and not lying.bent:
            start, end = (table.placed(at)[:2] for at in (piece.tube.start, piece.tube.end))
            yield piece.label, start, (end - start) / np.linalg.norm(end - start)


def _drops(subject: Subject, blocks: BlockSet | None) -> Iterator[Drop]:
    for name in AXLES:
        if name in subject.points:
            rise = subject.points[name][2]
            yield Drop(name, rise, make_height(abs(rise), blocks))


def _plate_cautions(subject: Subject) -> Iterator[str]:
    """A plate has no width in a job: how far it hangs down is not known."""
    for piece in subject.pieces:
        if isinstance(piece.tube.shape, Plate):
            yield (f"{piece.label} is a plate, and the job does not say how wide: its gap is that "
                   "under its axis, and its edges may hang lower.")
