"""The room of a wheel in its fork and under its mudguard, and its brake's reach, in words."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from coper.bicycle.clearance.brake import BrakeReach
from coper.bicycle.clearance.clearance import Clearances, Gap
from coper.bicycle.clearance.slot import AS_DRAWN
from coper.bicycle.clearance.wheel_room import (
    BLADE,
    CROWN,
    CROWN_RACE,
    GUARD,
    TYRE,
    NoWayIn,
    Room,
)
from coper.bicycle.ground import Flat
from coper.bicycle.standing import StandingWheel
from coper.telling.lines import Fact
from coper.tolerances import EVEN_MM
from coper.units import format_length, format_short

NO_CROWN = "fork_crown says what the crown takes of it"


def room_or_foul(mm: float) -> str:
    """A room, or how deep the one is in the other."""
    return f"fouls by {format_short(-mm)}" if mm < 0 else format_length(mm)


def wheel_facts(found: Clearances, wheel: StandingWheel) -> Iterator[Fact]:
    """What there is to say of a wheel besides its gaps to the tubes."""
    yield from (Fact("fork", kept_out_words(one)) for one in found.no_way_in
                if one.wheel == wheel.name)
    rooms = [room for room in found.rooms if room.wheel == wheel.name]
    yield from _fork_facts([room for room in rooms if room.part == TYRE])
    if (off := found.drive.at(wheel.end).rim_off) is not None:
        yield Fact("rim", f"its middle stands {_aside(off)} the frame's middle plane")
    yield from _guard_facts(rooms)
    reaches = [one for one in found.brakes if one.wheel == wheel.name]
    if reaches:
        yield _brake_fact(reaches)


def kept_out_words(one: NoWayIn) -> str:
    """Why a wheel does not go into its fork."""
    what = (f"its radius is {format_short(one.found)}, and the fork is {format_short(one.room)} "
            "long" if one.what == "radius" else
            f"the tyre is {format_short(one.found)} wide, and the blades are "
            f"{format_short(one.room)} apart")
    return f"THE WHEEL DOES NOT GO IN: {what}"


def _fork_facts(rooms: Sequence[Room]) -> Iterator[Fact]:
    """Crown and blades, of the tyre."""
    for room in rooms:
        if room.to in (CROWN, CROWN_RACE):
            yield Fact("crown", _crown_words(room))
    if blades := [room for room in rooms if room.to == BLADE]:
        yield Fact("blades", _blade_words(blades))


def _crown_words(room: Room) -> str:
    if room.to == CROWN:
        return f"{room_or_foul(room.gap)}, {room.part} to the crown's underside"
    return f"{room_or_foul(room.gap)}, {room.part} to the middle of the crown race; {NO_CROWN}"


def _blade_words(rooms: Sequence[Room]) -> str:
    one, other = rooms
    said = (f"{room_or_foul(one.gap)} on both sides" if _alike(rooms) else
            f"{room_or_foul(one.gap)} on the {one.side}, {room_or_foul(other.gap)} on the "
            f"{other.side}")
    return f"{said}, {one.part} to blade"


def _alike(rooms: Sequence[Room]) -> bool:
    """Whether both sides have the same room."""
    one, other = rooms
    return abs(one.gap - other.gap) <= EVEN_MM


def _guard_facts(rooms: Sequence[Room]) -> Iterator[Fact]:
    """The mudguard over the tyre, and its own room in the fork."""
    over = [room for room in rooms if room.part == TYRE and room.to == GUARD]
    if not over:
        return
    gap, *edges = over
    own = [room for room in rooms if room.part == GUARD]
    more = [_crown_words(room) for room in own if room.to != BLADE]
    if blades := [room for room in own if room.to == BLADE]:
        more.append(_blade_words(blades))
    yield Fact(GUARD, f"{room_or_foul(gap.gap)} above the tread; {_edge_words(edges)}",
               tuple(more))


def _edge_words(edges: Sequence[Room]) -> str:
    """How far the edges stand out over the tyre's flanks."""
    said = [f"{format_short(abs(edge.gap))} {'beyond' if edge.gap >= 0 else 'INSIDE'} the tyre"
            for edge in edges]
    if _alike(edges):
        return f"its edges {said[0]} on both sides"
    return f"its edges {said[0]} on the {edges[0].side}, {said[1]} on the {edges[1].side}"


def _brake_fact(reaches: Sequence[BrakeReach]) -> Fact:
    """The brake with the axle as drawn, then at the ends of the slot."""
    drawn = next(one for one in reaches if one.axle == AS_DRAWN)
    brake = drawn.brake
    more = [f"the axle at the {one.axle}: {reach_words(one)}" for one in reaches
            if one is not drawn]
    if abs(drawn.aside) > EVEN_MM:
        more.append(f"the rim's middle stands {_aside(drawn.aside)} the bolt: centre the pads on "
                    "the rim")
    return Fact("brake", reach_words(drawn), (
        f"it reaches {format_short(brake.least)} to {format_short(brake.most)}; the middle of the "
        f"pads sits {format_short(drawn.track)} from the axle", *more))


def reach_words(one: BrakeReach) -> str:
    """What is needed, whether the brake has it, and which way the bolt would move."""
    needed = f"{format_short(one.needed)} from bolt to pads"
    if one.ok:
        return f"{needed}: GOOD"
    (x, z), short = one.way, one.errs > 0
    way = f"{_way((x, z))}, towards" if short else f"{_way((-x, -z))}, away from"
    return (f"{needed}: TOO {'SHORT' if short else 'LONG'} by {format_short(abs(one.errs))}; move "
            f"the bolt {way} the axle")


def _way(way: Flat) -> str:
    """The main direction of a way in side view."""
    x, z = way
    if abs(z) >= abs(x):
        return "up" if z > 0 else "down"
    return "forward" if x > 0 else "back"


def _aside(off: float) -> str:
    """How far to which side, of what follows."""
    if abs(off) <= EVEN_MM:
        return "in"
    return f"{format_short(abs(off))} to the {'left' if off > 0 else 'right'} of"


def guard_words(found: Clearances) -> Iterator[tuple[str, str, str, tuple[Gap, ...]]]:
    """Of each mudguard its wheel's name, its own, its sizes, and its gaps to the tubes."""
    for wheel in found.wheels:
        guard = found.drive.at(wheel.end).guard
        if guard is not None:
            yield (wheel.name, f"{wheel.name} mudguard", f"{format_short(guard.width)} wide, "
                   f"{format_short(guard.gap)} from the tread, taken all round the wheel",
                   tuple(gap for gap in found.guard if gap.part == wheel.name))
