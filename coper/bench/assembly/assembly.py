"""The order of work, tube by tube: what is cut, tried, held, tacked and measured, step by step."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field

import numpy as np

from coper.arrays import OneLine
from coper.bench.assembly.checks import AngleCheck, LengthCheck, angle_checks, length_checks
from coper.bench.assembly.joined import end_joins
from coper.bench.assembly.places import (
    Marks,
    Place,
    Seat,
    Stand,
    end_marks,
    places,
    seat,
    stand,
)
from coper.bench.assembly.ring import main_ring
from coper.bench.assembly.sequence import Batch, Rank, sequence
from coper.bench.layout.layout import Layout
from coper.bicycle.bicycle import Bicycle
from coper.frame.alike import Alike
from coper.frame.end import TubeEnd
from coper.frame.order import work_order
from coper.frame.piece import Piece
from coper.shapes.plate import Plate

DROPOUT_MM = 60.0
"""A stay or a blade whose point is nearer to an axle than this ends at that axle's dropout: the
longest dropouts reach as far, common practice, no source."""


@dataclass(frozen=True, slots=True)
class Sheets:
    """Which sheets a job has beside those of its tubes: no step is listed for another.

    Attributes
    ----------
    layout : bool
        The frame on the table.
    bends : bool
        What to set on the bender.
    tracking : bool
        The log of the rear end.
    """

    layout: bool = False
    bends: bool = False
    tracking: bool = False


@dataclass(frozen=True, slots=True, eq=False)
class EndStep:
    """One end of a step: how it is shaped and what holds it.

    Attributes
    ----------
    piece : Piece
    end : TubeEnd
    joins : tuple of str
        The labels of all that it is joined with.
    seats : tuple of Seat
        Where it seats on tubes that stand.
    stand : Stand or None
        Where it has to stand, of one that seats on nothing.
    """

    piece: Piece
    end: TubeEnd
    joins: tuple[str, ...]
    seats: tuple[Seat, ...]
    stand: Stand | None


@dataclass(frozen=True, slots=True)
class Tack:
    """An end that is tacked, and to what."""

    label: str
    which: str
    to: str


@dataclass(frozen=True, slots=True)
class Spacer:
    """What holds two free ends apart: an axle by its name, or a bar; between their points, mm."""

    axle: str
    length: float


@dataclass(frozen=True, slots=True, eq=False)
class Step:
    """Pieces that are fitted at one time.

    Attributes
    ----------
    rank : Rank
        What they are to the frame.
    pieces : tuple of Piece
    ends : tuple of EndStep
        Both ends of each.
    spacers : tuple of Spacer
        What holds the free ends of two twins apart.
    tacks : tuple of Tack
        Empty where nothing can be tacked yet.
    lengths : tuple of LengthCheck
    angles : tuple of AngleCheck
        Where there is no length to take.
    heights : tuple of Place
        Free ends that a tack may have drawn up or down.
    track : bool
        Whether the tracking is measured once they are tacked.
    """

    rank: Rank
    pieces: Batch
    ends: tuple[EndStep, ...]
    spacers: tuple[Spacer, ...] = ()
    tacks: tuple[Tack, ...] = ()
    lengths: tuple[LengthCheck, ...] = ()
    angles: tuple[AngleCheck, ...] = ()
    heights: tuple[Place, ...] = ()
    track: bool = False


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Assembly(OneLine):
    """The order of work of a frame.

    Attributes
    ----------
    stands : tuple of Piece
        What stands already.
    steps : tuple of Step
    sheets : Sheets
    """

    stands: tuple[Piece, ...]
    steps: tuple[Step, ...]
    sheets: Sheets


@dataclass(slots=True)
class _Bench:
    """What stands on the bench so far."""

    pieces: dict[str, Piece]
    marks: Marks
    bicycle: Bicycle | None
    taped: set[frozenset[int]]
    known: dict[str, list[Place]] = field(default_factory=dict)

    def put(self, piece: Piece) -> None:
        """A piece stands now."""
        self.known[piece.label] = list(places(piece, self.marks, self.pieces.values()))


def make_assembly(
    pieces: Sequence[Piece], alike: Sequence[Alike], layout: Layout | None, flat: bool,
    bicycle: Bicycle | None = None, bends: bool = False, tracking: bool = False,
) -> Assembly:
    """The order of work of all ``pieces``.

    Parameters
    ----------
    pieces
        All of the job, in any order.
    alike
        Those that are the same, or mirror images.
    layout
        How the frame lies on the table; ``None`` where the job has no such sheet.
    flat
        Whether it is built flat, and not on its side.
    bicycle
        Its axles hold stays apart.
    bends, tracking
        Whether the job has these sheets.
    """
    ordered = work_order(pieces)
    stands = [piece for piece in ordered if piece.tube.existing]
    taped = set() if layout is None else {
        frozenset((one.one, one.other)) for one in layout.diagonals}
    bench = _Bench({piece.label: piece for piece in pieces}, end_marks(layout), bicycle, taped)
    for piece in stands:
        bench.put(piece)
    batches = fitted(pieces, alike, flat)
    last = _tracked(batches) if tracking else -1
    steps = tuple(_step(rank, batch, bench, at == last)
                  for at, (rank, batch) in enumerate(batches))
    return Assembly(tuple(stands), steps, Sheets(layout is not None, bends, tracking))


def fitted(
    pieces: Sequence[Piece], alike: Sequence[Alike], flat: bool
) -> tuple[tuple[Rank, Batch], ...]:
    """All ``pieces`` that are cut in the order in which they are fitted, those of one time as one.

    ``alike`` and ``flat`` as :func:`make_assembly` has them.
    """
    return sequence(work_order(pieces), alike, main_ring(pieces, flat))


def _tracked(batches: Sequence[tuple[Rank, Batch]]) -> int:
    """The last batch of what decides where the rear wheel stands."""
    found = [at for at, (rank, _) in enumerate(batches) if rank <= Rank.BRIDGE]
    return found[-1] if found else len(batches) - 1


def _step(rank: Rank, batch: Batch, bench: _Bench, track: bool) -> Step:
    stood = set(bench.known)
    for piece in batch:
        bench.put(piece)
    ends = tuple(_end(piece, end, bench) for piece in batch for end in piece.ends)
    tacks = tuple(_tacks(ends, stood | {piece.label for piece in batch}))
    lengths = length_checks(batch, bench.known, bench.taped) if tacks else ()
    angles = () if lengths or not tacks else tuple(angle_checks(batch))
    heights = [place for piece in batch for place in bench.known[piece.label]
               if place.height is not None and not end_joins(piece.end_at(place.which))]
    return Step(rank, batch, ends, tuple(_spacers(batch, bench.bicycle)), tacks, lengths, angles,
                tuple(heights) if tacks else (), track)


def _end(piece: Piece, end: TubeEnd, bench: _Bench) -> EndStep:
    joins = end_joins(end)
    if end.flat is None and end.mains:
        seats = [seat(piece, end.which, main, bench.pieces) for main in end.mains]
        return EndStep(piece, end, joins, tuple(one for one in seats if one is not None), None)
    return EndStep(piece, end, joins, (), stand(piece, end, bench.marks))


def _tacks(ends: Iterable[EndStep], stands: set[str]) -> Iterator[Tack]:
    """Every joint of which both sides stand now; a mitre of two ends of one step once."""
    done: set[frozenset[str]] = set()
    for one in ends:
        for to in one.joins:
            both = frozenset((one.piece.label, to))
            if to in stands and not (one.end.flat is not None and both in done):
                done.add(both)
                yield Tack(one.piece.label, one.end.which, to)


def _spacers(batch: Batch, bicycle: Bicycle | None) -> Iterator[Spacer]:
    """What holds the free ends of twins apart that seat on something with their other ends."""
    twins = {(piece.tube.name, piece.tube.side): piece for piece in batch
             if not isinstance(piece.tube.shape, Plate)}
    for (name, side), piece in twins.items():
        other = twins.get((name, "right"))
        if side != "left" or other is None or not any(map(end_joins, piece.ends)):
            continue
        for end in piece.ends:
            if not end.mains:
                yield _spacer(piece, other, end, bicycle)


def _spacer(piece: Piece, other: Piece, end: TubeEnd, bicycle: Bicycle | None) -> Spacer:
    at, there = (one.tube.point(end.which) for one in (piece, other))
    points = {} if bicycle is None else bicycle.points
    for axle in ("axle", "front-axle"):
        left, right = (points.get(f"{axle}-{side}") for side in ("left", "right"))
        if left and right and float(np.linalg.norm(at - left)) < DROPOUT_MM:
            return Spacer(axle, float(np.linalg.norm(np.subtract(left, right))))
    return Spacer("", float(np.linalg.norm(at - there)))
