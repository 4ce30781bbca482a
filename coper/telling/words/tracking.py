"""The usual advice on a rear end that does not track, and its cautions (common practice, no source)

Where heat pulls, derived: a heated spot wants to grow, the cold metal round it does not let it, so
it is squeezed thicker while hot; cooling, it shrinks and stays shorter. That side of the tube is
then the shorter one, the tube bends hollow towards it, and its free end swings to that side.
"""

from __future__ import annotations

from collections.abc import Iterator

from coper.bicycle.tracking.doubts import misreadings
from coper.bicycle.tracking.rear_end import READING_MM
from coper.bicycle.tracking.skew import Skew
from coper.bicycle.tracking.tracking import Tracking
from coper.units import INCH_MM, format_length

MOST_PULLED_MM = INCH_MM / 4
"""What weld heat is known to pull back at a dropout (common practice, no source)."""

BEADS = (
    "Tack opposite sides first. Then weld short runs, left and right by turns, and let each cool.",
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
"""What comes before the cautions of all work."""


def advice(found: Tracking) -> tuple[str, ...]:
    """What to do about what was found; the general advice where nothing was read."""
    if not found.checks:
        return (*BEADS, *HEAT)
    again = (READ_AGAIN,) if misreadings(found) else ()
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
