"""Where a tapered tube is cut, and which end first.

::

    | near |            blank            |   off  |
    |------+-----------------------------+--------|
    thick end                                  thin end      as the tube is bought

The taper stands still on the tube: a cut at either end settles the diameter there. So each tapered
tube is a blank by itself, what comes off counts for each end, and the end that has to fit its
joint is cut to its place before the other is cut to length.
"""

from __future__ import annotations

from dataclasses import dataclass

from coper.frame.end import TubeEnd
from coper.frame.piece import Piece
from coper.frame.tube import Side, Which
from coper.shapes.tapered import Tapered
from coper.shapes.tapered_oval import TaperedOval

TaperedShape = Tapered | TaperedOval

FLUSH_MM = 0.005
"""What rounds to 0.00 mm is not cut off."""


@dataclass(frozen=True, slots=True)
class EndCut:
    """One of the two cuts.

    Attributes
    ----------
    name : str
        What the end is called as the tube is bought.
    off : float, mm
        What comes off it; below 0 where the tube has to run on past its taper.
    across : tuple of float, mm
        The outside at the cut: its diameter, or the two sizes of an oval.
    which : ``start`` or ``end``
        Of the tube.
    mains : tuple of str
        What the end seats on.
    """

    name: str
    off: float
    across: tuple[float, ...]
    which: Which
    mains: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class TaperedBlank:
    """One tapered tube, cut from one of its own.

    Attributes
    ----------
    name : str
    sides : tuple of ``left``, ``right`` or ``centre``
        Both where its twin is cut alike.
    shape : Tapered or TaperedOval
    length : float, mm
        Length to cut, with what is left for dressing.
    shaped : float, mm
        Overall length of the tube once it is shaped.
    end_names : (str, str)
        What the tube's two ends are called as it is bought; places count from the first.
    near, far : float, mm
        Where the blank begins and ends, from the first of them; below 0 or above the taper's length
        where it runs past the taper.
    cuts : (EndCut, EndCut)
        In the order in which they are made.
    others : tuple of str
        Further tubes, by name and side, that are cut alike.
    """

    name: str
    sides: tuple[Side, ...]
    shape: TaperedShape
    length: float
    shaped: float
    end_names: tuple[str, str]
    near: float
    far: float
    cuts: tuple[EndCut, EndCut]
    others: tuple[str, ...] = ()

    @property
    def label(self) -> str:
        """The tube's name, and its sides where it has a twin; then the others."""
        return ", ".join((sides_label(self.name, self.sides), *self.others))

    @property
    def labels(self) -> tuple[str, ...]:
        """Every name with its side, the tube that the places are those of first."""
        own = (sides_label(self.name, (side,)) for side in self.sides)
        return *own, *self.others

    @property
    def count(self) -> int:
        """How many tubes are cut like this."""
        return len(self.labels)

    @property
    def first(self) -> Which:
        """Which end of the tube is cut first."""
        return self.cuts[0].which

    @property
    def far_first(self) -> bool:
        """Whether the cut at ``far`` is the first."""
        return self.cuts[0].name == self.end_names[1]

    @property
    def off(self) -> tuple[float, float]:
        """What comes off each end, mm; below 0 where the tube has to run on past its taper."""
        return self.near, self.shape.length - self.far


def sides_label(name: str, sides: tuple[Side, ...]) -> str:
    """``chain-stay left and right``; the name alone for a tube of the middle."""
    return name if sides == ("centre",) else f"{name} {' and '.join(sides)}"


def tapered_blank(piece: Piece, shape: TaperedShape) -> TaperedBlank:
    """How the tube of ``piece`` is cut."""
    backwards = isinstance(shape, Tapered) and shape.start < shape.end
    low, high = piece.blank_ends
    near, far = (shape.length - high, shape.length - low) if backwards else (low, high)
    ends = (piece.end, piece.start) if backwards else (piece.start, piece.end)
    names = ("thick", "thin") if isinstance(shape, Tapered) else ("oval", "round")
    far_first = bool(ends[1].stances) and not ends[0].stances
    cuts = (_cut(names[0], near, _across(shape, high if backwards else low), ends[0]),
            _cut(names[1], shape.length - far, _across(shape, low if backwards else high), ends[1]))
    return TaperedBlank(
        piece.tube.name, (piece.tube.side,), shape, piece.blank, piece.shaped, names, near, far,
        cuts[::-1] if far_first else cuts)


def _cut(name: str, off: float, across: tuple[float, ...], end: TubeEnd) -> EndCut:
    return EndCut(name, off, across, end.which, tuple(seat.name for seat in end.stances))


def _across(shape: TaperedShape, along: float) -> tuple[float, ...]:
    """The outside at a station, mm."""
    if isinstance(shape, Tapered):
        return (2 * float(shape.radius(along)),)
    return tuple(size + 2 * slope * along for size, slope in
                 zip((shape.major, shape.minor), shape.slopes, strict=True))
