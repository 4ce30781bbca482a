"""How many links the chain has, and where in the slot the axle then stands."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from coper.arrays import Point
from coper.bicycle.clearance.drive import Sprockets
from coper.bicycle.clearance.slot import Slot
from coper.errors import JointError
from coper.tolerances import EVEN_MM
from coper.units import INCH_MM, format_size

PITCH_MM = INCH_MM / 2
"""A bicycle's chain has half an inch from pin to pin."""

WORN = 0.0075
"""Stretch of a chain that is due for changing, as a share (common practice, no source)."""

OTHERS = 3
"""How many teeth more or fewer are tried where no even number of links will do."""


@dataclass(frozen=True, slots=True)
class Links:
    """A chain of a whole number of links.

    Attributes
    ----------
    links : int
        Pins apart by half an inch, inner and outer links counted alike.
    centre : float, mm
        From the bracket's axle to the wheel's, the chain taut.
    move : float, mm
        How far to the rear the axle then stands from where it is drawn: along the slot, or
        straight away from the bracket where there is none.
    ahead, behind : float or None, mm
        What the slot leaves before and behind the axle.
    wears : bool or None
        Whether the slot still takes up the chain when it is worn.
    """

    links: int
    centre: float
    move: float
    ahead: float | None = None
    behind: float | None = None
    wears: bool | None = None

    @property
    def half_link(self) -> bool:
        """Whether it takes a half link: inner and outer links come in pairs."""
        return self.links % 2 == 1


@dataclass(frozen=True, slots=True)
class Chain:
    """The chain of a ring and a sprocket.

    Attributes
    ----------
    sprockets : Sprockets
    drawn : float
        Its length in links with the axle as drawn.
    choices : tuple of Links
        Those that put the axle inside the slot, the shortest first; without a slot the even
        numbers next below and above.
    instead : tuple of (sprocket's teeth, Links)
        Other sprockets with an even number of links, where these have none inside the slot.
    """

    sprockets: Sprockets
    drawn: float
    choices: tuple[Links, ...]
    instead: tuple[tuple[int, Links], ...] = ()


def make_chain(sprockets: Sprockets, axle: Point, slot: Slot | None) -> Chain:
    """The chain with the axle drawn at ``axle``, the bracket at the origin.

    Raises
    ------
    JointError
        Where ring and sprocket have no room between the two axles.
    """
    drawn = chain_length(math.hypot(axle[0], axle[2]), sprockets)
    if slot is None:
        return Chain(sprockets, drawn, tuple(_beside(sprockets, axle, drawn)))
    choices = tuple(_inside(sprockets, axle, slot))
    instead = () if any(not one.half_link for one in choices) else tuple(
        _instead(sprockets, axle, slot))
    return Chain(sprockets, drawn, choices, instead)


def chain_length(centre: float, sprockets: Sprockets) -> float:
    """The length in links, not whole, of a chain round two wheels ``centre`` mm apart.

    ``L = 2 C + A / 2 + T / C`` with C in pitches, ``A = N + n`` and ``T = ((N - n) / 2 pi)^2``
    (a chain maker's engineering page).
    """
    _check_room(centre, sprockets)
    pitches = centre / PITCH_MM
    return 2 * pitches + _half_sum(sprockets) + _spread(sprockets) / pitches


def centre_distance(links: float, sprockets: Sprockets) -> float:
    """How far apart in mm a chain of ``links`` holds the two axles.

    Derived: the formula of :func:`chain_length` times C is a quadratic in C; of its two
    roots the larger is the one with the wheels apart.
    """
    straight = links - _half_sum(sprockets)
    root = math.sqrt(straight * straight - 8 * _spread(sprockets))
    return (straight + root) / 4 * PITCH_MM


def _half_sum(sprockets: Sprockets) -> float:
    return (sprockets.ring + sprockets.sprocket) / 2


def _spread(sprockets: Sprockets) -> float:
    return ((sprockets.ring - sprockets.sprocket) / (2 * math.pi)) ** 2


def _touching(sprockets: Sprockets) -> float:
    """From axle to axle where the wheels touch, mm: a pitch circle is ``teeth`` pitches round."""
    return (sprockets.ring + sprockets.sprocket) / (2 * math.pi) * PITCH_MM


def _check_room(centre: float, sprockets: Sprockets) -> None:
    """Refuse two wheels that would touch."""
    reach = _touching(sprockets)
    if centre <= reach:
        raise JointError(
            f"{sprockets.ring} and {sprockets.sprocket} teeth need over "
            f"{format_size(round(reach, 1))} from axle to axle, and there is "
            f"{format_size(round(centre, 1))}",
            "check the teeth and the axle's place", "drive.ring")


def _beside(sprockets: Sprockets, axle: Point, drawn: float) -> Iterator[Links]:
    """The even numbers next below and above ``drawn``, where the axles then have room."""
    centre = math.hypot(axle[0], axle[2])
    below = 2 * math.floor(drawn / 2)
    for links in (below, below + 2):
        if (links - _half_sum(sprockets)) ** 2 >= 8 * _spread(sprockets):
            there = centre_distance(links, sprockets)
            yield Links(links, there, there - centre)


def _inside(sprockets: Sprockets, axle: Point, slot: Slot) -> Iterator[Links]:
    """Every whole number of links that puts the axle into the slot, and where.

    The shortest and the longest reach have between them all lengths that the chain can have.
    """
    ahead, square = _line(axle, slot)
    reaches = _reaches(axle, slot)
    least, most = (chain_length(reach, sprockets) for reach in (reaches[0], reaches[-1]))
    for links in range(math.ceil(least - EVEN_MM), math.floor(most + EVEN_MM) + 1):
        centre = centre_distance(links, sprockets)
        for at in _stations(centre, ahead, square, slot):
            worn = centre_distance(links * (1 + WORN), sprockets)
            wears = any(there >= at for there in _stations(worn, ahead, square, slot))
            yield Links(links, centre, at - slot.at, at, slot.travel - at, wears)


def _line(axle: Point, slot: Slot) -> tuple[float, float]:
    """``F.d`` in mm and ``F.F - (F.d)^2``, of the slot's front end F and its direction d."""
    x, _, z = slot.axle(axle, 0.0)
    ahead = x * slot.rearward[0] + z * slot.rearward[1]
    return ahead, max(x * x + z * z - ahead * ahead, 0.0)


def _reaches(axle: Point, slot: Slot) -> list[float]:
    """From the bracket to the axle at the slot's ends and where it is nearest, growing, mm.

    Derived: ``s`` mm from the front end the axle is ``sqrt(F.F + 2 s F.d + s s)`` from the
    bracket. That is longest at one end of the slot, and shortest at the other or at the foot
    ``s = -F.d``.
    """
    ahead, square = _line(axle, slot)
    foot = min(max(-ahead, 0.0), slot.travel)
    return sorted(math.sqrt((at + ahead) ** 2 + square) for at in (0.0, foot, slot.travel))


def _stations(centre: float, ahead: float, square: float, slot: Slot) -> list[float]:
    """Where in the slot, mm from its front end, the axle is ``centre`` mm from the bracket."""
    half = math.sqrt(max(centre * centre - square, 0.0))
    stations = {-ahead - half, -ahead + half}
    return [min(max(at, 0.0), slot.travel) for at in sorted(stations)
            if -EVEN_MM <= at <= slot.travel + EVEN_MM]


def _instead(
    sprockets: Sprockets, axle: Point, slot: Slot
) -> Iterator[tuple[int, Links]]:
    """Other sprockets, the nearest first, and the even numbers of links that they allow."""
    for step in range(1, OTHERS + 1):
        for teeth in (sprockets.sprocket - step, sprockets.sprocket + step):
            other = Sprockets(sprockets.ring, teeth)
            if teeth < FEWEST_TEETH or _reaches(axle, slot)[0] <= _touching(other):
                continue
            yield from ((teeth, links) for links in _inside(other, axle, slot)
                        if not links.half_link)


FEWEST_TEETH = 6
MOST_TEETH = 130
"""No bicycle's chainring or sprocket has fewer or more."""
