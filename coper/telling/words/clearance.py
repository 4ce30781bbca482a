"""Clearances in rows and words, for the terminal and the paper alike."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from coper.bicycle.clearance.chain import WORN, Chain, Links
from coper.bicycle.clearance.clearance import Clearances, Gap, Guidance
from coper.bicycle.clearance.slot import AS_DRAWN, Slot
from coper.bicycle.clearance.wheel_room import CROWN_RACE, GUARD, TYRE
from coper.bicycle.standing import StandingWheel
from coper.joint.sides import clock_words
from coper.telling.grid import Grid
from coper.telling.lines import Caution, Fact, Line
from coper.telling.words.wheel_room import (
    guard_words,
    kept_out_words,
    reach_words,
    room_or_foul,
    wheel_facts,
)
from coper.tolerances import EVEN_MM
from coper.units import format_angle, format_number, format_short, format_size, plain

NEAR_MM = 50.0
"""A tube further away than this is only counted: it has two fingers' room and more."""

GAPS = "the smallest gap to each tube; places are measured from the tube's start point"

COLUMNS = ("gap", "tube", "axle", "where on the tube", "x, y, z")

EXEMPT = "The rules exempt one-of-a-kind bicycles: take these as guidance."

TWO_REAR = ("Not checked with two rear wheels: a lean, for it does not lean on them; whether the "
            "chain runs in line, or clears a tyre, on its way to a sprocket. The links are counted "
            "in side view, for a sprocket on the axle.")
"""What is measured only where the rear wheel runs in the middle plane."""

RACE = "middle of the crown race"

BOTH = "both sides"
"""Of twins whose gaps are alike."""


@dataclass(frozen=True, slots=True)
class ClearanceRow:
    """The least gap of one tube: its nearer side, or both where they are alike."""

    gap: Gap
    sides: str

    @property
    def place(self) -> str:
        """Where on it, and of twins on which: a twin has its clocks the other way round."""
        whose = f" of the {self.gap.side} one" if self.sides == BOTH else ""
        return f"{place_words(self.gap)}{whose}"

    @property
    def tube(self) -> str:
        """The tube's name and side."""
        return f"{self.gap.tube}, {self.sides}" if self.sides else self.gap.tube


def near_rows(gaps: Sequence[Gap]) -> tuple[list[ClearanceRow], int]:
    """A row for each tube within ``NEAR_MM``, and how many are further away; ``gaps`` sorted."""
    least: dict[tuple[str, str], Gap] = {}
    for gap in gaps:
        least.setdefault((gap.tube, gap.side), gap)
    rows: dict[str, list[ClearanceRow]] = {}
    for gap in least.values():
        said = rows.setdefault(gap.tube, [])
        if said and _alike(said[0].gap, gap):
            said[0] = ClearanceRow(min(said[0].gap, gap, key=lambda one: one.side), BOTH)
        else:
            said.append(ClearanceRow(gap, "" if gap.side == "centre" else gap.side))
    every = sorted((row for said in rows.values() for row in said),
                   key=lambda row: (not row.gap.spokes, row.gap.spot.gap))
    near = [row for row in every if row.gap.spokes or row.gap.spot.gap <= NEAR_MM]
    return near, len(every) - len(near)


def _alike(one: Gap, other: Gap) -> bool:
    """Whether two sides of a tube have the same gap, as twins do.

    Which end of the slot is nearer, and which of two equal places, is left to rounding.
    """
    return abs(one.spot.gap - other.spot.gap) <= EVEN_MM and one.spokes == other.spokes


def gap_words(gap: Gap) -> str:
    """A gap, or how far the two overlap."""
    return "through the spokes" if gap.spokes else room_or_foul(gap.spot.gap)


def place_words(gap: Gap) -> str:
    """The place on the tube: along it from its start point, and its clock."""
    spot = gap.spot
    return f"at {format_size(round(spot.along, 1))}, clock {clock_words(spot.clock)}"


def point_words(gap: Gap) -> str:
    """The place in the frame."""
    x, y, z = (format_number(round(value, 1)) for value in gap.spot.point)
    return f"x {x}, y {y}, z {z}"


def wheel_words(wheel: StandingWheel) -> tuple[str, str]:
    """A wheel's name, and its size."""
    size = f" {wheel.wheel.size}" if wheel.wheel.size else ""
    return (f"{wheel.name} tyre{size}", f"{format_short(wheel.wheel.tyre)} wide and high, "
            f"radius {format_short(wheel.wheel.radius)}")


def slot_words(slot: Slot) -> str:
    """The slot, and where the axle is drawn in it."""
    way = "level" if slot.angle == 0 else f"{format_angle(abs(slot.angle))} " + (
        "up" if slot.angle > 0 else "down") + " to the rear"
    return (f"slot {format_short(slot.travel)} long, {way}: the axle is drawn "
            f"{format_short(slot.at)} from its front end")


def tightest_words(found: Clearances, wheel: StandingWheel) -> tuple[str, bool]:
    """Where a wheel's tyre has the least room, and whether it is any: to a tube, or in the fork."""
    places = [(not gap.spokes, gap.spot.gap, gap_words(gap), gap.tube)
              for gap in found.tyre if gap.part == wheel.name]
    places += [(True, room.gap, room_or_foul(room.gap),
                f"{room.side} {room.to}".strip() if room.to != CROWN_RACE else RACE)
               for room in found.rooms
               if room.wheel == wheel.name and room.part == TYRE and room.to != GUARD]
    if not places:
        return "nothing near", True
    clear, least, words, to = min(places)
    return f"{words}, {to}", clear and least >= 0


def guidance_words(one: Guidance) -> str:
    """A published least value and this bicycle's."""
    least, found = (format_short(value) if one.unit == "mm" else format_angle(value)
                    for value in (one.least, one.found))
    return f"{one.what}: {found}; {one.source} asks for {least}{'' if one.ok else ': TOO LITTLE'}"


def chain_words(chain: Chain) -> Iterator[str]:
    """The chain's length as drawn, then a line for each number of links that will do."""
    teeth = chain.sprockets
    yield (f"{teeth.ring} and {teeth.sprocket} teeth: {chain.drawn:.2f} links with the axle "
           "as drawn")
    if not any(not one.half_link for one in chain.choices):
        yield "no even number of links puts the axle inside the slot"
    yield from (links_words(one) for one in chain.choices)
    for other, links in chain.instead:
        yield f"or a sprocket of {other} teeth: {links_words(links)}"


def links_words(links: Links) -> str:
    """A number of links and where the axle then stands."""
    said = f"{links.links} links{' with a half link' if links.half_link else ''}: axle "
    if links.ahead is None or links.behind is None:
        way = "behind" if links.move >= 0 else "ahead of"
        return f"{said}{format_short(abs(links.move))} {way} where it is drawn"
    worn = "room" if links.wears else "NO ROOM"
    return (f"{said}{format_short(links.ahead)} from the slot's front end, "
            f"{format_short(links.behind)} left behind it: {worn} for a chain worn by "
            f"{plain(100 * WORN)} %")


def swept_words(found: Clearances) -> Iterator[tuple[str, str, tuple[Gap, ...]]]:
    """Crank and heel: name, position and gaps."""
    drive = found.drive
    if found.crank and drive.crank is not None and drive.crank_inside is not None:
        yield ("crank", f"{format_short(drive.crank)} long, its inner face "
               f"{format_short(drive.crank_inside)} from the middle", found.crank)
    if found.heel and drive.heel is not None:
        yield ("heel", f"{format_short(drive.heel.back)} behind the pedal's axle, its inner side "
               f"{format_short(drive.heel.out)} from the middle", found.heel)


def clearance_lines(found: Clearances, title: str, limit: float | None) -> Iterator[Line]:
    """Wheels, cranks and heels, the chain, then the rules and the ``limit``, mm."""
    if title:
        yield title
    yield GAPS
    for wheel in found.wheels:
        gaps = tuple(gap for gap in found.tyre if gap.part == wheel.name)
        slot = found.drive.slot if wheel.end == "rear" else None
        yield from _gap_lines(": ".join(wheel_words(wheel)), gaps,
                              () if slot is None else (slot_words(slot),))
        yield from wheel_facts(found, wheel)
    for _, name, said, gaps in guard_words(found):
        yield from _gap_lines(f"{name}: {said}", gaps)
    for name, said, gaps in swept_words(found):
        yield from _gap_lines(f"{name}: {said}", gaps)
    if found.chain is not None:
        first, *further = chain_words(found.chain)
        yield from ("", f"chain: {first}", *further)
    if found.guidance:
        first, *further = map(guidance_words, found.guidance)
        yield ""
        yield Fact("guide", first, (*further, EXEMPT))
    if limit is not None:
        yield ""
        yield Fact("limit", f"{format_short(limit)}: {_verdict_words(found.too_close(limit))}")
    elif fouling := found.too_close(0.0):
        yield ""
        yield Fact("fouls", ", ".join(fouling))
    if found.two_rear:
        yield Caution(TWO_REAR)
    yield from (Caution(f"{name} is left out: its width is not known; write it, such as "
                        "plate 6 by 80")
                for name in found.left_out)


def wrong_facts(found: Clearances, limit: float | None = None) -> Iterator[Fact]:
    """What is wrong, alone: what fouls or is too close, does not go in, or does not reach."""
    if close := found.too_close(limit or 0.0):
        yield (Fact("fouls", ", ".join(close)) if limit is None
               else Fact("limit", f"{format_short(limit)}: {_verdict_words(close)}"))
    yield from (Fact("fork", kept_out_words(one)) for one in found.no_way_in)
    yield from (Fact(f"{one.wheel} brake", reach_words(one)) for one in found.brakes
                if one.axle == AS_DRAWN and not one.ok)


def _gap_lines(head: str, gaps: Sequence[Gap], notes: Sequence[str] = ()) -> Iterator[Line]:
    """A row for each near tube, the smallest gap first; notes alone where none is near."""
    near, further = near_rows(gaps)
    notes = (*notes, *further_words(bool(near), further))
    if not near:
        yield from ("", head, *notes)
        return
    rows = [(gap_words(row.gap), row.tube, row.gap.axle, row.place,
             point_words(row.gap)) for row in near]
    kept = [at for at in range(len(COLUMNS)) if any(row[at] for row in rows)]
    yield Grid(head, tuple(COLUMNS[at] for at in kept),
               tuple(tuple(row[at] for at in kept) for row in rows), "; ".join(notes))


def further_words(near: bool, count: int) -> Iterator[str]:
    """How many tubes are further away than ``NEAR_MM``, ``near`` where others are not."""
    if count:
        more = "more " if near else ""
        tubes = "tube is" if count == 1 else "tubes are"
        yield f"{count} {more}{tubes} over {format_short(NEAR_MM)} away"


def _verdict_words(below: Sequence[str]) -> str:
    return f"TOO CLOSE  {', '.join(below)}" if below else "GOOD  no gap is smaller"
