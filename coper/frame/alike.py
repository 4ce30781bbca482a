"""Pieces that are the same thing, and those that are its mirror image.

Two pieces are the same where one can be laid on the other: pushed along its axis, turned about it,
turned round end for end. A mirror image is laid on the other's reflection. In the tubes' own clocks

::

    same                c' = clock_0 + c          the same, end for end   c' = clock_0 - c
    mirror image        c' = clock_0 - c          end for end             c' = clock_0 + c

(derived: a half turn about a line square to the axis turns the clock's way round and changes the
ends, a reflection in a plane through the axis does only the first, one across it only the second).
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import partial
from itertools import product
from typing import NamedTuple

import numpy as np

from coper.arrays import Floats
from coper.frame.alike_bends import bend_turns, bends_lie_on, bent_alike
from coper.frame.end import TubeEnd, cut_along
from coper.frame.pairs import Pairs
from coper.frame.piece import Piece
from coper.shapes.bent import Bent
from coper.shapes.box import Box
from coper.shapes.plate import Plate
from coper.shapes.read import Shape
from coper.shapes.round import Round
from coper.shapes.tapered import Tapered
from coper.shapes.tapered_oval import TaperedOval
from coper.tolerances import ALIKE_MM

CLOCKS = (np.arange(720) + 0.382) / 2
"""Where two edges are compared, degrees: off every round number, where edges may jump."""

QUARTERS = (0.0, 90.0, 180.0, 270.0)

SAME_TURN_DEG = 1e-6
"""Turns that differ by less are tried once."""


class Laid(NamedTuple):
    """How a piece is laid on another: where the other's clock 0 is on its own, and which way.

    Attributes
    ----------
    clock_0 : float, degrees
    end_for_end : bool
    """

    clock_0: float
    end_for_end: bool


_KNOWN: tuple[Pairs[Laid | None], Pairs[Laid | None]] = Pairs(), Pairs()
"""How pieces are laid on each other, and how their reflections are."""


@dataclass(frozen=True, slots=True, eq=False)
class Member:
    """A piece of a batch, and how it is laid on the batch's first."""

    piece: Piece
    laid: Laid


@dataclass(frozen=True, slots=True, eq=False)
class Batch:
    """Pieces that are the same to ``ALIKE_MM``; the first is the one that they are compared with.

    Attributes
    ----------
    members : tuple of Member
        In the order of the pieces.
    """

    members: tuple[Member, ...]

    @property
    def first(self) -> Piece:
        """The piece that the others are compared with."""
        return self.members[0].piece

    @property
    def labels(self) -> tuple[str, ...]:
        """All names."""
        return tuple(member.piece.label for member in self.members)

    def __len__(self) -> int:
        """How many there are."""
        return len(self.members)


@dataclass(frozen=True, slots=True, eq=False)
class Alike:
    """A batch, and the pieces that are its mirror image, where there are any."""

    batch: Batch
    mirror: Batch | None = None

    @property
    def batches(self) -> tuple[Batch, ...]:
        """The batch and that of its mirror images."""
        return (self.batch,) if self.mirror is None else (self.batch, self.mirror)

    @property
    def count(self) -> int:
        """How many pieces there are, mirror images with them."""
        return sum(map(len, self.batches))


def find_alike(pieces: Sequence[Piece]) -> tuple[Alike, ...]:
    """All pieces that are cut, those that are the same together, in the order of the first.

    Plates are left out, of which the outline is not known, and what stands already.
    """
    groups: list[tuple[list[Member], list[Member]]] = []
    for piece in pieces:
        if isinstance(piece.tube.shape, Plate) or piece.tube.existing:
            continue
        for same, mirror in groups:
            if _joined(piece, same, mirror):
                break
        else:
            groups.append(([Member(piece, Laid(0.0, False))], []))
    return tuple(Alike(Batch(tuple(same)), Batch(tuple(mirror)) if mirror else None)
                 for same, mirror in groups)


def _joined(piece: Piece, same: list[Member], mirror: list[Member]) -> bool:
    """Put a piece to those that it is the same as, or the mirror image of, if it is."""
    laid = lay_on(piece, same[0].piece)
    if laid is not None:
        same.append(Member(piece, laid))
        return True
    if lay_on(piece, same[0].piece, mirror=True) is None:
        return False
    first = mirror[0].piece if mirror else piece
    laid = lay_on(piece, first)
    if laid is None:  # as near to the first as the mirror images are, but not to each other
        return False
    mirror.append(Member(piece, laid))
    return True


def lay_on(piece: Piece, first: Piece, mirror: bool = False) -> Laid | None:
    """How ``piece``, or its reflection, is laid on ``first``; ``None`` where they differ."""
    return _KNOWN[mirror].of(piece, first, partial(_lay_on, mirror))


def _lay_on(mirror: bool, piece: Piece, first: Piece) -> Laid | None:
    if (bought(piece.tube.shape) != bought(first.tube.shape)
            or abs(piece.shaped - first.shaped) > 2 * ALIKE_MM):
        return None
    for end_for_end in (False, True):
        pairs = _end_pairs(piece, first, end_for_end)
        if not all(_could_be(one, other) for one, other in pairs):
            continue
        if isinstance(first.tube.shape, Bent):
            laid = _bent_laid(piece, first, end_for_end)
        else:
            laid = _laid(piece, first, end_for_end, mirror)
        if laid is not None:
            return laid
    return None


def bought(shape: Shape) -> Shape:
    """The tube as it is bought, whichever way it lies."""
    match shape:
        case Box(first, second, corner, wall) if first < second:
            return Box(second, first, corner, wall)
        case Tapered(start, end, length, wall) if start < end:
            return Tapered(end, start, length, wall)
        case Tapered() | TaperedOval():
            return replace(shape, first_at=0.0)
    return shape


def _end_pairs(piece: Piece, first: Piece, end_for_end: bool) -> list[tuple[TubeEnd, TubeEnd]]:
    ends = piece.ends[::-1] if end_for_end else piece.ends
    return list(zip(ends, first.ends, strict=True))


def _could_be(one: TubeEnd, other: TubeEnd) -> bool:
    """Whether two ends are cut in one way, on mains of the same sizes."""
    return one.cut == other.cut and one.cap == other.cap and (
        sorted(main.shape.words() for main in one.mains)
        == sorted(main.shape.words() for main in other.mains))


def _bent_laid(piece: Piece, first: Piece, end_for_end: bool) -> Laid | None:
    """Of a bend, which has plain ends: it is its own mirror image, and bulges one way."""
    off = [piece.short_of(one) for one, _ in _end_pairs(piece, first, end_for_end)]
    own = map(first.short_of, first.ends)
    apart = [abs(piece.tube.length - first.tube.length),
             *(abs(a - b) for a, b in zip(off, own, strict=True))]
    return Laid(180.0 if end_for_end else 0.0, end_for_end) if max(apart) <= ALIKE_MM else None


def _laid(piece: Piece, first: Piece, end_for_end: bool, mirror: bool) -> Laid | None:
    """Of a straight tube: the first turn at which all edges lie on each other."""
    way = -1 if end_for_end != mirror else 1
    if not bent_alike(piece, first, end_for_end):
        return None
    shift = _shift(piece.tube.shape, first.tube.shape, end_for_end)
    fixed = isinstance(first.tube.shape, Tapered | TaperedOval)
    if fixed and shift is None:
        return None
    for turn in _turns(piece, first, way, end_for_end):
        if bends_lie_on(piece, first, turn, way, end_for_end) and _lies_on(
                piece, first, turn, way, end_for_end, shift):
            return Laid(turn, end_for_end)
    return None


def _shift(shape: Shape, first: Shape, end_for_end: bool) -> float | None:
    """Where the first's along 0 is on a taper that is bought as one; ``None`` where it is free."""
    if not isinstance(shape, Tapered | TaperedOval):
        return None
    assert isinstance(first, Tapered | TaperedOval)
    same = replace(shape, first_at=0.0) == replace(first, first_at=0.0)
    if not end_for_end:
        return shape.first_at - first.first_at if same else None
    if isinstance(shape, TaperedOval) or same:
        return None
    return shape.length + shape.first_at + first.first_at


def _turns(piece: Piece, first: Piece, way: int, end_for_end: bool) -> list[float]:
    """The turns at which the sections agree and heels may lie on each other, the least first."""
    if not isinstance(first.tube.shape, Round | Tapered):
        return list(QUARTERS)
    found = set(map(_round_turn, bend_turns(piece, first, way, end_for_end)))
    if not (found or first.start.stances or first.end.stances):
        found = {0.0}
    for one, other in _end_pairs(piece, first, end_for_end):
        for own, its in product(one.stances, other.stances):
            turn = own.heel_clock - way * its.heel_clock
            found |= {_round_turn(turn), _round_turn(turn + 180)}  # a square one's heel has no side
    ordered = sorted(found, key=lambda turn: min(turn, 360 - turn))
    return [turn for at, turn in enumerate(ordered)
            if not at or abs(turn - ordered[at - 1]) > SAME_TURN_DEG]


def _round_turn(turn: float) -> float:
    """From 0 to 360; what is 0 but for rounding is 0."""
    turn %= 360
    return 0.0 if min(turn, 360 - turn) < SAME_TURN_DEG else turn


def _lies_on(
    piece: Piece, first: Piece, turn: float, way: int, end_for_end: bool, shift: float | None
) -> bool:
    """Whether outside and inside of both cuts lie within ``ALIKE_MM``, the starts laid together."""
    along_way = -1.0 if end_for_end else 1.0
    for one, other, depth in _edges(piece, first, end_for_end):
        own = _edge(piece, one, turn + way * CLOCKS, depth)
        its = _edge(first, other, CLOCKS, depth)
        if (np.isnan(own) != np.isnan(its)).any():
            return False
        known = ~np.isnan(its[:, 2])
        moved = _moved(its[known], turn, way)
        moved[:, 2] *= along_way
        if shift is None:
            apart = own[known, 2] - moved[:, 2]
            shift = float(apart.max() + apart.min()) / 2 if apart.size else None
        moved[:, 2] += shift or 0.0
        if (np.linalg.norm(own[known] - moved, axis=1) > ALIKE_MM).any():
            return False
    return True


def _edges(
    piece: Piece, first: Piece, end_for_end: bool
) -> Iterator[tuple[TubeEnd, TubeEnd, float]]:
    """The ends that lie on each other, outside and then inside the wall: depths in mm."""
    wall = getattr(first.tube.shape, "wall", None)
    depths = (0.0,) if wall is None else (0.0, wall)
    for (one, other), depth in product(_end_pairs(piece, first, end_for_end), depths):
        yield one, other, depth


def _moved(points: Floats, turn: float, way: int) -> Floats:
    """Points (n, 3) with their clock counted the other ``way``, if so, and turned, degrees."""
    angle = np.radians(turn)
    x, y = points[:, 0], way * points[:, 1]
    return np.stack((np.cos(angle) * x - np.sin(angle) * y,
                     np.sin(angle) * x + np.cos(angle) * y, points[:, 2]), axis=-1)


def _edge(piece: Piece, end: TubeEnd, clock: Floats, depth: float) -> Floats:
    """Points (n, 3) in mm of a cut in the tube's own frame, ``nan`` where it is open."""
    shape = piece.tube.seen_from("start")[0]
    along = cut_along(piece.tube, end, clock, depth)
    return shape.generators(clock, depth, np.nan_to_num(along)).at(along)
