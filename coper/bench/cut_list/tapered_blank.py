"""Where a tapered tube is cut, and which end first.

::

    | near |            blank            |   off  |
    |------+-----------------------------+--------|
    thick end                                  thin end      as the tube is bought

The taper stands still on the tube: a cut at either end settles the diameter there. So each tapered
tube is a blank by itself, what comes off is told for each end, and the end that has to fit its
joint is cut to its place before the other is cut to length.
"""

from __future__ import annotations

from dataclasses import dataclass

from coper.frame.end import TubeEnd
from coper.frame.piece import Piece
from coper.frame.tube import Side, Which
from coper.shapes.checks import plain
from coper.shapes.tapered import Tapered
from coper.shapes.tapered_oval import TaperedOval
from coper.units import format_length, format_mm

TaperedShape = Tapered | TaperedOval

FLUSH_MM = 0.005
"""What rounds to 0.00 mm is not cut off."""


@dataclass(frozen=True, slots=True)
class TaperedBlank:
    """One tapered tube, cut from one of its own.

    Attributes
    ----------
    name : str
    sides : tuple of ``left``, ``right`` or ``centre``
        Both where its twin is cut alike.
    shape : Tapered or TaperedOval
    blank : float, mm
        Overall length that the shaped tube needs.
    length : float, mm
        Length to cut, with what is left for dressing.
    end_names : (str, str)
        What the tube's two ends are called as it is bought; places count from the first.
    near, far : float, mm
        Where the blank begins and ends, from the first of them; below 0 or above the taper's length
        where it runs past the taper.
    first : ``start`` or ``end``
        Which end is cut first.
    steps : tuple of str
        The cuts in their order, in words.
    far_first : bool
        Whether the cut at ``far`` is the first.
    """

    name: str
    sides: tuple[Side, ...]
    shape: TaperedShape
    blank: float
    length: float
    end_names: tuple[str, str]
    near: float
    far: float
    first: Which
    steps: tuple[str, ...]
    far_first: bool

    @property
    def label(self) -> str:
        """The tube's name, and its sides where it has a twin."""
        return sides_label(self.name, self.sides)

    @property
    def off(self) -> tuple[float, float]:
        """What comes off each end, mm; below 0 where the tube has to run on past its taper."""
        return self.near, self.shape.length - self.far


def sides_label(name: str, sides: tuple[Side, ...]) -> str:
    """``chain-stay left and right``; the name alone for a tube of the middle."""
    return name if sides == ("centre",) else f"{name} {' and '.join(sides)}"


def tapered_blank(piece: Piece, shape: TaperedShape, allowance: float = 0.0) -> TaperedBlank:
    """How the tube of ``piece`` is cut; ``allowance`` mm more at each end."""
    backwards = isinstance(shape, Tapered) and shape.start < shape.end
    low, high = piece.start.reach - allowance, piece.end.reach + allowance
    near, far = (shape.length - high, shape.length - low) if backwards else (low, high)
    ends = (piece.end, piece.start) if backwards else (piece.start, piece.end)
    names = ("thick", "thin") if isinstance(shape, Tapered) else ("oval", "round")
    far_first = bool(ends[1].seats) and not ends[0].seats
    cuts = (_Cut(names[0], near, _across(shape, high if backwards else low), ends[0]),
            _Cut(names[1], shape.length - far, _across(shape, low if backwards else high), ends[1]))
    first, last = reversed(cuts) if far_first else cuts
    station = far if far_first else near
    return TaperedBlank(
        piece.tube.name, (piece.tube.side,), shape, piece.blank, high - low, names, near, far,
        first.end.which, _steps(first, last, station, high - low, names[0]), far_first)


@dataclass(frozen=True, slots=True, eq=False)
class _Cut:
    """One cut: the end's name, what comes off, what is left across there, the shaped end."""

    name: str
    off: float
    across: str
    end: TubeEnd

    @property
    def fits(self) -> str:
        """What the end is for."""
        if not self.end.seats:
            return f"the tube's {self.end.which}"
        on = " and ".join(seat.name for seat in self.end.seats)
        return f"the tube's {self.end.which}, on {on}"


def _across(shape: TaperedShape, along: float) -> str:
    """The outside at a station, in words."""
    if isinstance(shape, Tapered):
        return format_mm(2 * float(shape.radius(along)))
    major, minor = (size + 2 * slope * along for size, slope in
                    zip((shape.major, shape.minor), shape.slopes, strict=True))
    return f"{plain(round(major, 2))} by {format_mm(minor)}"


def _steps(first: _Cut, last: _Cut, station: float, length: float, datum: str) -> tuple[str, ...]:
    said = [_past(cut) for cut in (first, last) if cut.off < -FLUSH_MM]
    if abs(first.off) <= FLUSH_MM:
        said.append(f"Leave the {first.name} end as it is ({first.fits}).")
    else:
        how = (f"{format_length(station)} from the {datum} end" if first.name != datum
               else f"{format_length(abs(first.off))} "
                    + ("from the end" if first.off > 0 else "before the taper begins"))
        said.append(f"Cut the {first.name} end first, {how}: {first.across} across there "
                    f"({first.fits}).")
    if abs(last.off) <= FLUSH_MM:
        said.append(f"Leave the {last.name} end as it is ({last.fits}): nothing may come off it.")
    else:
        off = f", {format_mm(last.off)} comes off" if last.off > 0 else ""
        said.append(f"Cut the {last.name} end last, to {format_length(length)} overall{off}: "
                    f"{last.across} across there ({last.fits}).")
    return tuple(said)


def _past(cut: _Cut) -> str:
    return (f"Take a tube that runs on {format_length(-cut.off)} past the {cut.name} end of its "
            "taper.")
