"""Where an end stands: over its mark on the table, or on its main; and where one can measure."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field

from coper.arrays import Floats
from coper.bench.layout.layout import Layout
from coper.bench.layout.spots import PointMark, TablePoint
from coper.bench.layout.table import FlatTable
from coper.frame.end import TubeEnd
from coper.frame.piece import Piece
from coper.frame.stance import main_foot, passing
from coper.frame.tube import Tube, Which
from coper.shapes.plate import Plate

SAME_HEIGHT_MM = 0.01
"""Two points over one mark that differ by less in height are one: heights are given to as much."""


@dataclass(frozen=True, slots=True, eq=False)
class Marks:
    """What is marked on the table; nothing where the job has no layout.

    Attributes
    ----------
    table : FlatTable or None
    ends : dict of name to (PointMark, TablePoint)
        The mark of each end of a tube, ``chain-stay left end``, and its point over it.
    """

    table: FlatTable | None = None
    ends: Mapping[str, tuple[PointMark, TablePoint]] = field(default_factory=dict)

    def height(self, at: Floats) -> float | None:
        """How high a point (3,) of the frame is above the table, mm."""
        return None if self.table is None else float(self.table.placed(at)[2])


@dataclass(frozen=True, slots=True, eq=False)
class Place:
    """An end that a tape or a caliper finds: a plain cut or a mitre, by the middle of its section.

    Attributes
    ----------
    label : str
        Of the piece.
    which : ``start`` or ``end``
    at : (3,) float, mm
        In the frame's axes.
    mark : int or None
        Of the table's layout that the end stands over; ``None`` where it has none, or where it is
        cut off short of its point.
    height : float or None, mm
        Above the table.
    """

    label: str
    which: Which
    at: Floats
    mark: int | None
    height: float | None

    @property
    def name(self) -> str:
        """The end in words: ``seat-tube end``."""
        return f"{self.label} {self.which}"


@dataclass(frozen=True, slots=True, eq=False)
class Seat:
    """Where an end seats on a tube that stands: it is held by that.

    Attributes
    ----------
    label : str
        Of the main.
    along : float, mm
        Along the main from ``by`` to where the two axes pass each other nearest.
    beside : (3,) float, mm
        From the main's axis to the end's, where they pass each other: in the frame's axes.
    by : ``start`` or ``end``
        The main's point, or where it is cut off plain its end, that is measured from: a plain one
        before one that is shaped, the nearer of two.
    """

    label: str
    along: float
    by: Which
    beside: Floats


@dataclass(frozen=True, slots=True)
class Stand:
    """Where an end that seats on nothing has to stand.

    Attributes
    ----------
    mark : int or None
        Of the layout; ``None`` where the job has none.
    name : str
        What the job calls the point, or the end's own name.
    height : float or None, mm
        Of the point above the table.
    at : (x, y, z), mm
        In the frame's axes.
    short : float, mm
        How far short of the point the end is cut off.
    """

    mark: int | None
    name: str
    height: float | None
    at: tuple[float, float, float]
    short: float


def end_marks(layout: Layout | None) -> Marks:
    """The marks of all ends of tubes."""
    if layout is None:
        return Marks()
    return Marks(layout.table, {point.name: (spot, point) for spot in layout.spots
                                for point in spot.points if not point.given})


def places(piece: Piece, marks: Marks, others: Iterable[Piece]) -> Iterator[Place]:
    """The ends of a piece that can be measured from.

    Of one that stands already nothing says how its ends are shaped: those that lie inside one of
    the ``others`` are out of reach.
    """
    hidden = others if piece.tube.existing else ()
    for end in piece.ends:
        if end.flat is None and end.mains:
            continue
        short = 0.0 if end.flat is not None else piece.short_of(end)
        at = piece.tube.point(end.which) + short * piece.tube.way_in(end.which)
        if any(_holds(other.tube, at) for other in hidden if other is not piece):
            continue
        known = marks.ends.get(f"{piece.label} {end.which}") if short == 0 else None
        yield Place(piece.label, end.which, at, known[0].number if known else None,
                    marks.height(at))


def _holds(tube: Tube, at: Floats) -> bool:
    """Whether a point (3,) lies inside a tube."""
    return (0 < float(tube.station(at)) < tube.length
            and float(tube.as_main.distance(tube.pose.inward(at[None]))[0]) < 0)


def stand(piece: Piece, end: TubeEnd, marks: Marks) -> Stand:
    """Where the point of an end has to stand."""
    name = f"{piece.label} {end.which}"
    x, y, z = piece.tube.point(end.which).tolist()
    short = 0.0 if end.flat is not None else piece.short_of(end)
    if name not in marks.ends:
        return Stand(None, name, None, (x, y, z), short)
    spot, own = marks.ends[name]
    given = [point.name for point in spot.points
             if point.given and abs(point.height.mm - own.height.mm) < SAME_HEIGHT_MM]
    return Stand(spot.number, given[0] if given else name, own.height.mm, (x, y, z), short)


def seat(piece: Piece, which: Which, main: Tube, mains: Mapping[str, Piece]) -> Seat | None:
    """Where an end seats on ``main``; ``None`` on a plate, which its own sheet marks."""
    if isinstance(main.shape, Plate):
        return None
    along, beside = _foot(piece, which, main)
    low, high = 0.0, main.length
    shaped = {"start": False, "end": False}
    if main.label in mains:
        whole = mains[main.label]
        shaped = {end.which: bool(end.mains) for end in whole.ends}
        low = low if shaped["start"] else whole.start.reach
        high = high if shaped["end"] else whole.end.reach
    ways: tuple[tuple[Which, float], ...] = (("start", along - low), ("end", high - along))
    by, apart = min(ways, key=lambda way: (shaped[way[0]], way[1]))
    return Seat(main.label, apart, by, beside)


def _foot(piece: Piece, which: Which, main: Tube) -> tuple[float, Floats]:
    """Where along ``main``, mm from its start point, an end's axis passes nearest, and how (3,)."""
    point, away = piece.tube.point(which), piece.tube.way_in(which)
    own, its = passing(main, point, away)
    along = main_foot(main, point, away) if main.is_bent else float(main.station(its))
    return along, own - its
