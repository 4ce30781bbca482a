"""A rear end's tracking in words, and the usual advice on one that is out.

The advice and its cautions are common practice, no source.

Where heat pulls, derived: a heated spot wants to grow, the cold metal round it does not let it, so
it is squeezed thicker while hot; cooling, it shrinks and stays shorter. That side of the tube is
then the shorter one, the tube bends hollow towards it, and its free end swings to that side.
"""

from __future__ import annotations

from collections.abc import Iterator

from coper.bicycle.tracking.doubts import good, plausible
from coper.bicycle.tracking.rear_end import READING_MM, Faces, LeftRight
from coper.bicycle.tracking.skew import Skew
from coper.bicycle.tracking.tracking import Tracking
from coper.telling.cells import SHOWN_MM
from coper.telling.lines import Fact, Line
from coper.telling.words.tracking_doubts import doubts
from coper.units import INCH_MM, format_angle, format_length, format_short

MOST_PULLED_MM = INCH_MM / 4
"""What weld heat is known to pull back at a dropout (common practice, no source)."""

BEADS = (
    "Tack opposite sides first. Then weld short runs, left and right in turn, and let each cool.",
    "A bead pulls the tube towards its own side as it cools. The first one pulls most; the one "
    "opposite takes only part of it back.",
)
"""On the order of beads."""

HEAT = (
    "Heat pulls as it cools: the heated side ends up shorter, and the free end swings to that "
    "side. To move a dropout to the left, heat the left side of its stays near their fixed ends.",
    "Leave the bridge in place while the stays are worked on. Where both dropouts move the same "
    "way, put an axle of the hub's width between them.",
    "A little at a time: let it cool to the hand, then read both sides again, cold.",
)
"""On pulling with heat."""

READ_AGAIN = "Read again before you do anything: these readings cannot all be right."

TRACKING_CAUTIONS = (
    "No heat on heat-treated or thin-walled tube, nor on a brazed joint: cut it and fit it again.",
    "Heat in moving air, coatings stripped first: 29 CFR 1910.252(c).",
)
"""Cautions that come before those of all work."""


def advice(found: Tracking) -> tuple[str, ...]:
    """What to do about what was found; the general advice where nothing was read."""
    if not found.checks:
        return (*BEADS, *HEAT)
    again = () if plausible(found) else (READ_AGAIN,)
    if found.within:
        return again or ("Within the limit: leave it alone.",)
    moves = tuple(_moves(found))
    general = (*HEAT, *BEADS) if moves else ()
    return (*again, *moves, *_stays(found), *general)


def _moves(found: Tracking) -> Iterator[str]:
    """How far each dropout goes, and which side of its stays to heat."""
    moves = found.moves
    if moves is None or all(check.ok for check in found.checks if check.name != "stays"):
        return
    for side, move in (("left", moves.left), ("right", moves.right)):
        if abs(move) <= found.limit.mm:
            yield f"{side.capitalize()} dropout: leave it, it is within the limit."
            continue
        way = "left" if move > 0 else "right"
        skin = "outer" if way == side else "inner"
        yield (f"{side.capitalize()} dropout: {format_length(abs(move))} to the {way}. Heat pulls "
               f"it there from the {way} side, the {skin} one, of the {side} stays.")
    if max(abs(moves.left), abs(moves.right)) > MOST_PULLED_MM + READING_MM:
        yield ("That is more than the quarter inch that heat usually pulls: look for a bent stay, "
               "a wrong length or a wrong cope first.")


def _stays(found: Tracking) -> Iterator[str]:
    skew = found.skew
    if skew is None or all(check.ok for check in found.checks if check.name == "stays"):
        return
    yield (f"{_longer(skew).capitalize()} stay {format_length(abs(skew.longer))} too long: heat "
           "does not mend that. Shorten it and fit it again, or move one dropout on its stays; in "
           "an open slot the axle can be set square.")


def _longer(skew: Skew) -> str:
    return "left" if skew.longer > 0 else "right"


def tracking_lines(found: Tracking) -> Iterator[Line]:
    """The readings, what they mean, the verdict, what to do."""
    rear = found.rear
    yield (f"head tube {format_length(rear.head_diameter)}, seat tube "
           f"{format_length(rear.seat_diameter)}, hub {format_length(rear.hub)}")
    yield Fact("along edge", f"head tube to seat tube {format_length(rear.head_to_seat)}, seat "
               f"tube to dropout {format_length(rear.seat_to_dropout)}")
    yield from _reading_facts(found)
    if found.faces is not None:
        yield Fact("off", f"the rear end stands {_sided(found.faces.off)}, good to "
                   f"{format_short(found.faces.uncertainty)}")
    yield from _width_facts(found)
    yield from _skew_facts(found)
    yield from _verdict_facts(found)
    for name, said in (("in doubt", doubts(found)), ("to do", advice(found))):
        if said:
            yield Fact(name, said[0], said[1:])


def _reading_facts(found: Tracking) -> Iterator[Fact]:
    """The readings of edge and string, what they should be, and where they put the rear end."""
    yield Fact("edge", f"read to the dropouts' {found.laid.face} faces: "
               f"{_pair_words(found.readings.edge)}should be "
               f"{format_length(found.expected_edge)} on both sides", _faces_words(found.edge))
    string = _faces_words(found.string)
    if found.expected_string is not None:
        string = (f"{_pair_words(found.readings.string)}should be "
                  f"{format_length(found.expected_string)} on both sides", *string)
    if string:
        yield Fact("string", string[0], string[1:])


def _pair_words(pair: LeftRight | None) -> str:
    return "" if pair is None else (
        f"left {format_short(pair.left)}, right {format_short(pair.right)}; ")


def _faces_words(faces: Faces | None) -> tuple[str, ...]:
    return () if faces is None else (
        f"so the rear end stands {_sided(faces.off)}, and the dropouts "
        f"{format_short(faces.width)} apart",)


def _width_facts(found: Tracking) -> Iterator[Fact]:
    width, hub, moves = found.readings.width, found.rear.hub, found.moves
    if width is not None:
        way = "too wide" if width > hub else "too narrow"
        out = "as the hub" if abs(width - hub) < SHOWN_MM else (
            f"{format_length(abs(width - hub))} {way}")
        yield Fact("width", f"{format_length(width)} between the dropouts: {out}")
    if moves is not None and max(abs(moves.left), abs(moves.right)) >= SHOWN_MM:
        yield Fact("to be true",
                   f"left dropout {_sided(moves.left)}, right dropout {_sided(moves.right)}")


def _skew_facts(found: Tracking) -> Iterator[Fact]:
    """What unequal stays do to the axle, and where the rim then runs."""
    skew, rim = found.skew, found.rim
    if skew is not None:
        side = _longer(skew)
        yield Fact("stays", "equal: the axle stands square" if abs(skew.longer) < SHOWN_MM else (
            f"the {side} one {format_length(abs(skew.longer))} longer: the wheel's front points "
            f"{format_angle(abs(skew.angle))} to the {side}"))
    if rim is None:
        return
    lone = ", off not measured" if found.off is None else ""
    yield Fact("at the rim", f"{_sided(rim.middle)} all round, stays not measured" if skew is None
               else f"in front, by the bracket, {_sided(rim.front)}; at the rear "
               f"{_sided(rim.rear)}{lone}")


def _verdict_facts(found: Tracking) -> Iterator[Fact]:
    """Every measure against the limit; nothing where none was read."""
    if not found.checks:
        return
    yield Fact("limit", found.limit.words(), tuple(
        f"{check.name} {format_short(abs(check.amount))}: {'good' if check.ok else 'out'}"
        for check in found.checks))
    if not found.within:
        yield Fact("OUT", "above the limit")
    elif good(found):
        yield Fact("GOOD", "within the limit")
    else:
        yield Fact("NOT SURE", "within the limit, but the readings cannot all be right")


def _sided(value: float) -> str:
    """A distance with its side."""
    if abs(value) < SHOWN_MM:
        return "in the middle"
    return f"{format_length(abs(value))} to the {'left' if value > 0 else 'right'}"
