"""The places of a frame that what moves comes nearest to, to be marked in its picture."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

import numpy as np

from coper.bicycle.bicycle import Bicycle
from coper.bicycle.clearance.clearance import Clearances, Gap
from coper.bicycle.clearance.fitted import Crown
from coper.bicycle.clearance.slot import AS_DRAWN
from coper.bicycle.clearance.wheel_room import TYRE, Room, crown_place
from coper.bicycle.standing import StandingWheel
from coper.page.answers.frame_view import Marked
from coper.telling.words.clearance import near_rows
from coper.units import format_short

MOST_MARKED: Final = 2
"""So many places of each thing that moves are marked, and all that are wrong: more are in the
tables."""


RING_STEPS: Final = 61
"""Points of a tyre's ring."""


def near_places(
    found: Clearances, bicycle: Bicycle | None, limit: float | None
) -> Iterator[Marked]:
    """The nearest places of all that moves, the brakes and the crown, and the tyres themselves.

    What fouls is ``wrong``, what is nearer than the ``limit`` in mm ``asked``.
    """
    for name, gaps, least in _moving(found, limit or 0.0):
        rows, _ = near_rows(gaps)
        for index, row in enumerate(rows):
            kind = _kind(row.gap.clears(0.0), row.gap.clears(least))
            if index < MOST_MARKED or kind:
                words = "spokes" if row.gap.spokes else _room(row.gap.spot.gap)
                yield Marked((row.gap.spot.point,), f"{name} {words}", kind)
    for one in found.brakes:
        if one.axle == AS_DRAWN:
            off = "" if one.ok else f" TOO {'SHORT' if one.errs > 0 else 'LONG'}"
            yield Marked((one.bolt, one.pads), f"{one.wheel} brake {format_short(one.needed)}{off}",
                         _kind(one.ok, one.ok))
    yield from _crowns(found, bicycle or Bicycle(), limit or 0.0)
    for wheel in found.wheels:
        yield from _tyre(wheel)


def _tyre(wheel: StandingWheel) -> Iterator[Marked]:
    """The tread and both flanks of a tyre, each a ring."""
    turn = np.linspace(0.0, 2 * np.pi, RING_STEPS)
    half = wheel.wheel.tyre / 2
    ring = np.stack((np.cos(turn), np.zeros(RING_STEPS), np.sin(turn)), axis=-1)
    for aside, inside in ((0.0, 0.0), (half, half), (-half, half)):
        middle = np.array(wheel.at) + np.array((0.0, aside, 0.0))
        points = (middle + (wheel.wheel.radius - inside) * ring).tolist()
        yield Marked(tuple((x, y, z) for x, y, z in points), "", "")


def _moving(found: Clearances, limit: float) -> Iterator[tuple[str, Sequence[Gap], float]]:
    """All that moves: its name, its gaps, and the least that is still good, mm."""
    for wheel in found.wheels:
        yield (f"{wheel.name} tyre", [gap for gap in found.tyre if gap.part == wheel.name], limit)
        yield (f"{wheel.name} mudguard", [gap for gap in found.guard if gap.part == wheel.name],
               0.0)
    yield "crank", found.crank, limit
    yield "heel", found.heel, limit


def _kind(clears: bool, is_good: bool) -> str:
    return "wrong" if not clears else "" if is_good else "asked"


def _room(mm: float) -> str:
    """A room, or how deep the one is in the other, short enough for a picture."""
    return f"fouls by {format_short(-mm)}" if mm < 0 else format_short(mm)


def _crowns(found: Clearances, bicycle: Bicycle, limit: float) -> Iterator[Marked]:
    """From the tread to the crown, of each wheel in the fork."""
    head, fork = bicycle.parts.head, bicycle.parts.fork
    if head is None or fork is None:
        return
    x, z = crown_place(head, fork, found.drive.fork.crown or Crown())
    for room in found.rooms:
        if room.part == TYRE and room.side == "" and room.to.startswith("crown"):
            at = x, 0.0, z
            tread = _towards(at, bicycle.standing("front")[0].at, room)
            yield Marked((tread, at), f"{room.wheel} tyre {_room(room.gap)}, {room.to}",
                         _kind(room.clears(0.0), room.clears(limit)))


def _towards(
    crown: tuple[float, float, float], axle: tuple[float, float, float], room: Room
) -> tuple[float, float, float]:
    """The place of the tread that the crown is nearest to."""
    way = np.array(axle) - np.array(crown)
    x, y, z = (np.array(crown) + room.gap * way / np.linalg.norm(way)).tolist()
    return x, y, z
