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

from dataclasses import dataclass, replace

from coper.frame.alike import bought
from coper.frame.end import TubeEnd
from coper.frame.piece import Piece
from coper.frame.tube import Side, Which
from coper.shapes.read import Shape
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
        Where the blank begins and ends, from the first of them; below 0 or above ``bought`` where
        it runs past the tube.
    cuts : (EndCut, EndCut)
        In the order in which they are made.
    others : tuple of str
        Further tubes, by name and side, that are cut alike.
    numbers : tuple of int
        Their own in the whole list, as ``labels`` has them.
    begins : float, mm
        Where the taper's first size stands on the tube, from its first end.
    straight : float, mm
        How long the tube runs straight from its first end, as far as is known.
    bought : float, mm
        Length of the tube that it is cut from.
    owned : bool
        Whether that tube is there, and measured; otherwise it is taken as long as its taper.
    too_few : bool
        Whether all tubes that are there are cut for others already.
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
    numbers: tuple[int, ...] = ()
    begins: float = 0.0
    straight: float = 0.0
    bought: float = 0.0
    owned: bool = False
    too_few: bool = False

    def on(self, length: float, begins: float, straight: float) -> TaperedBlank:
        """The same blank cut from a tube of that ``length``, its taper ``begins`` there, mm."""
        moved = begins - self.begins
        near, far = self.near + moved, self.far + moved
        off = {self.end_names[0]: near, self.end_names[1]: length - far}
        first, last = (replace(cut, off=off[cut.name]) for cut in self.cuts)
        return replace(self, near=near, far=far, cuts=(first, last), begins=begins,
                       straight=straight, bought=length, owned=True)

    @property
    def slope(self) -> float:
        """How much thinner the tube is a mm further from its first end, where it is oval across
        the longer way.
        """
        return abs(self.shape.end - self._first_size) / self.shape.length

    @property
    def _first_size(self) -> float:
        return self.shape.start if isinstance(self.shape, Tapered) else self.shape.major

    def shape_from(self, moved: float) -> float:
        """Where its first size would stand, mm from the tube's start point, ``moved`` mm on."""
        backwards = isinstance(self.shape, Tapered) and self.shape.start < self.shape.end
        return self.shape.first_at + (moved if backwards else -moved)

    @property
    def bought_shape(self) -> Shape:
        """The tube as it is bought, its first end first."""
        return bought(self.shape)

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
        """What comes off each end, mm; below 0 where the tube does not go so far."""
        return self.near, self.bought - self.far


def sides_label(name: str, sides: tuple[Side, ...]) -> str:
    """``chain-stay left and right``; the name alone for a tube of the middle."""
    return name if sides == ("centre",) else f"{name} {' and '.join(sides)}"


def tapered_blank(piece: Piece, shape: TaperedShape) -> TaperedBlank:
    """How the tube of ``piece`` is cut."""
    backwards = isinstance(shape, Tapered) and shape.start < shape.end
    low, high = (end - shape.first_at for end in piece.blank_ends)
    near, far = (shape.length - high, shape.length - low) if backwards else (low, high)
    ends = (piece.end, piece.start) if backwards else (piece.start, piece.end)
    names = ("thick", "thin") if isinstance(shape, Tapered) else ("oval", "round")
    far_first = bool(ends[1].stances) and not ends[0].stances
    thick, thin = (high, low) if backwards else (low, high)
    cuts = (_cut(names[0], near, _across(shape, thick), ends[0]),
            _cut(names[1], shape.length - far, _across(shape, thin), ends[1]))
    return TaperedBlank(
        piece.tube.name, (piece.tube.side,), shape, piece.blank, piece.shaped, names, near, far,
        cuts[::-1] if far_first else cuts, bought=shape.length)


def _cut(name: str, off: float, across: tuple[float, ...], end: TubeEnd) -> EndCut:
    return EndCut(name, off, across, end.which, tuple(seat.name for seat in end.stances))


def _across(shape: TaperedShape, along: float) -> tuple[float, ...]:
    """The outside ``along`` mm from the taper's first size, mm."""
    if isinstance(shape, Tapered):
        return (2 * float(shape.radius(along + shape.first_at)),)
    return tuple(size + 2 * slope * along for size, slope in
                 zip((shape.major, shape.minor), shape.slopes, strict=True))
