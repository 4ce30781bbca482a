"""What follows from a tube that came out otherwise than it was designed, in words."""

from __future__ import annotations

from collections.abc import Iterator

from coper.bicycle.tracking.askew import Askew
from coper.bicycle.tracking.tracking import DROPOUT_LIMIT
from coper.frame.held import Held
from coper.frame.made import MadeTube, design_angle
from coper.frame.piece import Piece
from coper.frame.tube import Which
from coper.job.made import Outcome
from coper.job.ways import (
    AlongMain,
    Elsewhere,
    NewBlank,
    OtherFirst,
    SameTwin,
    SetBack,
    TakeOff,
    Way,
)
from coper.telling.cells import bare
from coper.telling.grid import Grid
from coper.telling.lines import Caution, Fact, Line
from coper.telling.words.clearance import links_words
from coper.tolerances import ALIKE_MM
from coper.units import first_unit, format_angle, format_gap, format_short

SQUARE_DEG = 0.005
"""An axle that is askew by less stands square, as far as two decimals show."""


def outcome_lines(found: Outcome) -> Iterator[Line]:
    """What came out, what moves, what still works, and which sheets hold."""
    yield from _deviation_facts(found.made)
    if found.twin is not None:
        yield Fact("its twin", f"{found.twin.piece.label}: {off_words(found.twin)}, as the book "
                   "has it")
    yield from _moves(found)
    if found.axle is not None and found.made.by > ALIKE_MM:
        yield from _axle(found.axle)
    if found.chain is not None and found.made.by > ALIKE_MM:
        yield Fact("chain", f"{found.chain.drawn:.2f} links with the axle where it then is",
                   tuple(map(links_words, found.chain.choices)))
    yield from _ways(found)
    yield from _sheets(found)


def _deviation_facts(made: MadeTube) -> Iterator[Fact]:
    piece = made.piece
    if made.longer is not None:
        yield Fact("length", f"{format_short(piece.shaped + made.longer)} over all, "
                   f"{format_short(piece.shaped)} meant: {length_words(made.longer)}")
    if made.wider is not None:
        meant = design_angle(piece, made.seated)
        yield Fact("angle", f"{format_angle(meant + made.wider)} at its {made.seated}, "
                   f"{format_angle(meant)} meant: {angle_words(made.wider)}")


def off_words(made: MadeTube) -> str:
    """How far a tube is off."""
    said = [] if made.longer is None else [length_words(made.longer)]
    return ", ".join([*said, *([] if made.wider is None else [angle_words(made.wider)])])


def length_words(longer: float) -> str:
    """``1.20 mm too short``."""
    if abs(longer) <= ALIKE_MM:
        return "as meant"
    return f"{format_short(abs(longer))} too {'long' if longer > 0 else 'short'}"


def angle_words(wider: float) -> str:
    """``0.40° too wide``."""
    if abs(wider) < SQUARE_DEG:
        return "as meant"
    return f"{format_angle(abs(wider))} too {'wide' if wider > 0 else 'narrow'}"


def _moves(found: Outcome) -> Iterator[Line]:
    """Which point moves, or what it does not reach."""
    made = found.made
    if made.by <= ALIKE_MM:
        yield Fact("moves", "nothing: all else holds")
        return
    way = _way_words(*made.move.tolist())
    name = f"its {made.free} ({made.piece.label})"
    if not found.moves:
        mains = " and ".join(main.label for main in made.free_end.mains)
        yield Fact("moves", f"put home at its {made.seated}, its {made.free} comes "
                   f"{format_short(made.by)} from where it seats on {mains}: {way}")
        return
    root = found.root
    more = (f"with it, as one part: {', '.join((root.name, *root.along))}",) if root.name else ()
    yield Fact("moves", f"put home at its {made.seated}, {name} takes its point "
               f"{format_short(made.by)}: {way}", more)


def _way_words(x: float, y: float, z: float) -> str:
    """Where a move goes, in the frame's axes, what is less than a sheet shows left out."""
    ways = (("forward", "back", x), ("left", "right", y), ("up", "down", z))
    said = [f"{format_short(abs(by))} {one if by > 0 else other}" for one, other, by in ways
            if abs(by) >= ALIKE_MM / 2]
    return ", ".join(said)


def _axle(axle: Askew) -> Iterator[Line]:
    """The axle's skew and lean, the rim's place, and what the slot can do about it."""
    skew, lean = axle.skew.angle, axle.lean
    if abs(skew) >= SQUARE_DEG:
        behind = "left" if skew > 0 else "right"
        yield Fact("axle", f"its {behind} end is {format_short(abs(axle.skew.longer))} behind the "
                   f"other: {format_angle(abs(skew))} askew")
    if abs(lean) >= SQUARE_DEG:
        higher = "left" if axle.higher > 0 else "right"
        yield Fact("axle", f"its {higher} end is {format_short(abs(axle.higher))} higher than the "
                   f"other: the wheel leans {format_angle(abs(lean))} to the "
                   f"{'left' if lean > 0 else 'right'}")
    yield Fact("axle", f"its middle moves {_way_words(*axle.middle) or 'by nothing'}")
    if abs(axle.width - axle.apart) > ALIKE_MM:
        yield Fact("dropouts", f"{format_short(axle.width)} apart, {format_short(axle.apart)} "
                   "meant: pull them to the hub before anything is tacked")
    if axle.front is not None and axle.rear is not None and axle.top is not None:
        yield Fact("rim", f"its front stands {_off(axle.front)}, its rear {_off(axle.rear)}, its "
                   f"top {_off(axle.top)} of the middle")
    if max(abs(axle.skew.longer), abs(axle.higher)) > DROPOUT_LIMIT.mm:
        yield Caution(f"the dropouts are out by more than {DROPOUT_LIMIT.words()}")
    yield from _slot(axle)


def _off(by: float) -> str:
    return f"{format_short(abs(by))} {'left' if by >= 0 else 'right'}"


def _slot(axle: Askew) -> Iterator[Line]:
    slide, slot = axle.slide, axle.slot
    if slide is None or slot is None or abs(slide) <= ALIKE_MM:
        return
    way = "to the rear" if slide > 0 else "to the front"
    room = slot.travel - slot.at if slide > 0 else slot.at
    if axle.fits:
        yield Fact("slot", f"square again with the axle's left end {format_short(abs(slide))} "
                   f"{way} in its slot, of {format_short(room)} that there are")
    elif axle.shared:
        other = "to the front" if slide > 0 else "to the rear"
        yield Fact("slot", f"square again with half of it on each side: left "
                   f"{format_short(abs(slide) / 2)} {way}, right {format_short(abs(slide) / 2)} "
                   f"{other}")
    else:
        yield Fact("slot", f"too short to square the axle: that takes {format_short(abs(slide))}, "
                   f"and {format_short(room)} are there")


def _ways(found: Outcome) -> Iterator[Line]:
    if found.ways:
        yield Fact("what works", way_words(found.made, found.ways[0]),
                   tuple(way_words(found.made, one) for one in found.ways[1:]))
    if found.made.wider is not None and abs(found.made.wider) >= SQUARE_DEG:
        yield Fact("angle back", f"read the gap at its {found.made.seated} and grind as coper "
                   "regrind says, before it is tacked")


def way_words(made: MadeTube, way: Way) -> str:
    """One thing that still works, as an instruction."""
    match way:
        case TakeOff():
            return f"take {format_short(way.by)} off at its plain {way.end}: then all holds"
        case SetBack():
            return (f"leave its point where it is, the {way.end} then {format_short(way.back)} "
                    f"short of it and not {format_short(way.was)} (back = {_bare(way.back)}): "
                    "then all else holds")
        case SameTwin():
            return f"cut {way.label} {format_short(way.by)} shorter: then both twins are the same"
        case OtherFirst() | AlongMain():
            return _place_words(way)
        case Elsewhere():
            return f"it makes {way.label}, with {format_short(way.over)} left over"
        case NewBlank():
            return f"cut another: a blank of {format_short(way.length)}"


def _bare(value: float) -> str:
    return bare(format_short(value))


def _place_words(way: OtherFirst | AlongMain) -> str:
    """Another place for the tube that there is."""
    if isinstance(way, OtherFirst):
        return (f"put it home at its {way.first} first: then it is its {way.open}, on "
                f"{' and '.join(way.mains)}, that does not reach")
    places = " and ".join(f"its {which} {format_short(way.at[which])} from the start of {main}"
                          for which, main in way.mains.items())
    gaps = ", ".join(f"{which} {format_angle(way.angles[which])}, open by "
                     f"{format_gap(way.gaps[which])}" for which in way.gaps)
    return (f"put {places}, {format_short(abs(way.by))} further "
            f"{'on' if way.by > 0 else 'back'} there: it reaches ({gaps}, until it is reground)")


def _sheets(found: Outcome) -> Iterator[Line]:
    """Which sheets hold, and which are to be printed again."""
    if found.broken:
        yield Caution(f"with that point moved the job cannot be made: {found.broken}")
        return
    again = found.again
    held = [one.before.label for one in found.sheets if one.holds]
    if held:
        yield Fact("sheets hold", _named(held))
    if again:
        yield Grid("sheets to print again, where the point stays moved",
                   ("of", f"longer {first_unit()}", "start", "end"),
                   tuple(_again_row(one) for one in again),
                   "A cut is laid on the printed one, heel to heel: what they are apart at most.")
    if found.moves:
        moved = ["On the table"] + ([] if found.axle is None else ["Clearance", "Is it straight?"])
        yield Fact("also", f"{', '.join(moved)}: their numbers are of the point as it was")


def _named(labels: list[str]) -> str:
    few = labels[:MOST_NAMED]
    more = len(labels) - len(few)
    return ", ".join(few) + (f" and {more} more" if more else "")


MOST_NAMED = 12
"""Tubes that are named of those whose sheets hold."""


def _again_row(one: Held) -> tuple[str, ...]:
    return (one.before.label, bare(format_short(one.longer)),
            *(_end_words(one, which) for which in ("start", "end")))


def _end_words(one: Held, which: Which) -> str:
    if which not in one.ends:
        return "plain"
    if which not in one.again:
        return "holds"
    apart = one.ends[which]
    return "PRINT AGAIN" if apart == float("inf") else f"PRINT AGAIN, {format_short(apart)}"


def made_title(piece: Piece) -> str:
    """What the answer is about."""
    return f"{piece.label}, as it came out"
