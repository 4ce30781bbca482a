"""What a tube must provide to be a branch, and to be a main.

Every shape has its own frame: its axis is the third coordinate, its section lies in the
first two, and its reference line (clock 0) is towards the first::

        second
          |   . clock 45
          | .
          +------ first, clock 0          third axis: out of the page, along the tube
"""

from __future__ import annotations

from typing import Final, Protocol, cast, runtime_checkable

import numpy as np

from coper.arrays import Floats, Whole
from coper.errors import ShapeError
from coper.shapes.lines import Lines


@runtime_checkable
class BranchShape(Protocol):
    """A tube whose end can be coped: its surface is swept by straight generators."""

    def __hash__(self) -> int:
        """A shape is a value, so what is known of it can be kept."""

    @property
    def kind(self) -> str:
        """The shape's trade name, as in the tube grammar."""

    @property
    def wall(self) -> float | None:
        """Wall thickness in mm, ``None`` where it was not given."""

    def words(self) -> str:
        """The tube in the grammar of the command line, in mm."""

    @property
    def straight(self) -> bool:
        """Whether the generators inside the wall are straight; outside they always are."""

    def generators(
        self, clock: Floats, depth: Floats | float = 0.0, near: Floats | float = 0.0
    ) -> Lines:
        """The generators (...,) at ``clock`` in degrees, ``depth`` mm inside the outside surface.

        All three are broadcast together, and the lines have their common shape (...,).
        Where they are not straight inside the wall, each is the tangent at along ``near`` in mm.
        """

    def extent(self, depth: Floats | float = 0.0) -> tuple[Floats, Floats]:
        """The alongs (...,) in mm between which the surface ``depth`` (...,) mm inside exists.

        Both broadcast with ``depth``. A taper ends where it would close; most tubes never do.
        """

    def corners(self) -> Floats:
        """Clocks (k,) in degrees where the section's outline goes from one piece to the next."""

    def normal(self, points: Floats) -> Floats:
        """Outward unit normals (..., 3) of the outside at the skin points nearest ``points``."""

    def girth(self, lift: float = 0.0, along: float = 0.0) -> float:
        """The way round in mm at ``along``, ``lift`` mm outside the skin."""

    def flat(self, clock: Floats, along: Floats, lift: float = 0.0) -> tuple[Floats, Floats]:
        """Skin points unrolled, (...,) and (...,) in mm: x towards rising clock, y along the tube.

        The generator of clock 0 lies on the y axis, its along 0 at the origin. ``clock`` may run
        past 360 or below 0, to unroll over a seam. ``lift`` is how far outside the skin the flat
        sheet's middle lies (half the paper).
        """

    def stretch(self, low: float, high: float) -> float:
        """The largest difference, mm, between lengths on the flat sheet and on the surface.

        Between the alongs ``low`` and ``high`` in mm; 0 where the surface unrolls exactly.
        """


@runtime_checkable
class MainShape(Protocol):
    """A member that a branch can seat on, taken as solid: only its outside counts."""

    @property
    def kind(self) -> str:
        """The shape's trade name, as in the tube grammar."""

    def words(self) -> str:
        """The member in the grammar of the command line, in mm."""

    @property
    def patches(self) -> int:
        """How many smooth pieces the skin has, 1 where it has no edge and no seam."""

    @property
    def across(self) -> float | None:
        """The least width in mm that a caliper measures across it; ``None`` for a plate."""

    def grown(self, by: float) -> MainShape:
        """The same member, ``by`` mm larger wherever a caliper measures across it."""

    def first_entry(self, lines: Lines) -> Floats:
        """Along (...,) in mm where each line, followed from the largest along down, first enters.

        ``nan`` where a line never enters.
        """

    def patch(self, points: Floats) -> Whole:
        """Number (...,) of the smooth piece of skin each of ``points`` (..., 3) lies on, from 0."""

    def distance(self, points: Floats) -> Floats:
        """Shortest distance (...,) in mm from ``points`` to the skin, negative inside."""

    def normal(self, points: Floats) -> Floats:
        """Outward unit normals (..., 3) at the skin points nearest ``points``."""

    def unrolled(self, points: Floats, side: Floats, lift: float = 0.0) -> tuple[Floats, Floats]:
        """Position along the member (...,) and way round its outside (...,) of skin points, mm.

        The way round starts at the line that the ray from the axis towards ``side`` (2,) meets, at
        the same section, and rises clockwise: for ``side`` at clock 90, towards clock 0. It is
        measured ``lift`` mm outside the skin.
        """

    def flattened(self, points: Floats, side: Floats, lift: float = 0.0) -> tuple[Floats, Floats]:
        """Skin points on a sheet, (...,) and (...,) in mm: x along the member, y round it.

        The same as :meth:`unrolled` where the skin is a cylinder of any section. A cone becomes its
        sector, with the line of ``side`` (2,) on the x axis and the member's start at x = 0.
        """


LOOKED_ROUND = 720
"""Clocks at which a section's width is looked at: every half degree, corners of a box among them to
within a thousandth of its width."""

NOUNS = ("plate", "box")
"""Kinds that are nouns; the others are adjectives of a tube."""


@runtime_checkable
class Returning(Protocol):
    """A main that may come round again to a branch which lies on the inside of its bend."""

    def again(self, lines: Lines) -> Floats:
        """Along (...,) in mm where lines meet its far side, ``nan`` where they do not.

        The same as their first entry where they run to the far side within the main.
        """


_KNOWN: Final[dict[tuple[type, type], bool]] = {}
"""Whether shapes of a class answer all that a protocol asks, by both."""


def _answers(shape: object, asked: type) -> bool:
    """Looked for once a class: it takes longer than most of what is then asked of the shape."""
    pair = type(shape), asked
    if pair not in _KNOWN:
        _KNOWN[pair] = isinstance(shape, asked)
    return _KNOWN[pair]


def as_branch(shape: object) -> BranchShape:
    """``shape`` itself; refused where its end cannot be coped."""
    if _answers(shape, BranchShape):
        return cast(BranchShape, shape)
    raise ShapeError(f"{_called(shape)} cannot be coped", "give a straight tube as the branch")


def as_main(shape: object) -> MainShape:
    """``shape`` itself; refused where nothing can seat on it."""
    if _answers(shape, MainShape):
        return cast(MainShape, shape)
    raise ShapeError(f"{_called(shape)} cannot be a main", "give another main")


def half_width(shape: BranchShape, *alongs: float) -> float:
    """The furthest in mm that a tube's outside is from its axis at any of ``alongs``, mm."""
    clock = np.linspace(0.0, 360.0, LOOKED_ROUND, endpoint=False)
    lines = shape.generators(clock)
    sections = [lines.at(np.full(LOOKED_ROUND, along)) for along in alongs]
    return max(float(np.hypot(points[:, 0], points[:, 1]).max()) for points in sections)


def _called(shape: object) -> str:
    kind = getattr(shape, "kind", type(shape).__name__)
    noun = kind if kind in NOUNS else f"{kind} tube"
    return f"{'an' if kind[0] in 'aeiou' else 'a'} {noun}"
