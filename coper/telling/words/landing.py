"""Where branches land on a main, in words."""

from __future__ import annotations

from collections.abc import Sequence

from coper.frame.main_landings import MainLanding
from coper.frame.piece import Piece
from coper.joint.sides import clock_words
from coper.telling.cells import SHOWN_MM
from coper.units import format_length, format_short

OnMain = tuple[Piece, MainLanding]
"""A main, and what lands on it."""

MOST_LISTED = 8
"""A footprint that goes to more places than this refers to the pages of marks."""


def begins_words(main: Piece) -> str:
    """What of a main's start a tape hooks on."""
    if main.tube.existing:
        return f"{main.label}'s start, as it stands"
    if main.start.cope is None:
        return f"{main.label}'s start, where it is cut off"
    return f"the long point of {main.label}'s start"


def hook_words(main: Piece) -> str:
    """The same, and where round the start its long point is."""
    if main.tube.existing or main.start.cope is None:
        return begins_words(main)
    return f"{begins_words(main)}, at clock {clock_words(main.start.long_point.clock)}"


def blank_words(main: Piece) -> str:
    """What the blank has more there, where it has any."""
    if main.tube.existing or main.allowance < SHOWN_MM:
        return ""
    return (f"On the blank, before its start is dressed, add the {format_short(main.allowance)} "
            "left on there.")


def place_lines(places: Sequence[OnMain], margin: float) -> tuple[str, ...]:
    """Where the lines of a footprint come to lie on each of ``places``.

    Its line across is drawn where it is within ``margin`` mm of the edge.
    """
    if len(places) == 1:
        (main, landing), = places
        return (f"{_across(landing, margin)} from {begins_words(main)}.", _along(main, landing))
    listed = [f"{one.piece.label} on {main.label}: {_across(one, margin, short=True)}"
              f"{_clock(one)}" for main, one in places[:MOST_LISTED]]
    more = len(places) - len(listed)
    return ("Line across, from the start of its main as shaped, and clock of the line along:",
            *listed, *([f"and {more} more: see the marks on their mains"] if more else []))


def _across(landing: MainLanding, margin: float, short: bool = False) -> str:
    low, high = landing.reach
    if low - margin < landing.at < high + margin:
        return f"{'' if short else 'Line across: '}{format_length(landing.at)}"
    return (f"{'edge' if short else 'Its edge lies'} from {format_length(low)} to "
            f"{format_length(high)}")


def _along(main: Piece, landing: MainLanding) -> str:
    if landing.clock is not None:
        return f"Line along: clock {clock_words(landing.clock)} of {main.label}."
    return f"Its middle: {aside_words(landing.aside)} of {main.label}."


def _clock(landing: MainLanding) -> str:
    return (f", {aside_words(landing.aside)}" if landing.clock is None
            else f", clock {clock_words(landing.clock)}")


def aside_words(aside: float) -> str:
    """How far beside the line from start to end of a plate something is."""
    if abs(aside) < SHOWN_MM:
        return "on the line from start to end"
    return f"{format_length(abs(aside))} {'left' if aside > 0 else 'right'} of the line"
