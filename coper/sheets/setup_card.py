"""A set-up card as a value: of a single joint, or of one end of a placed tube."""

from __future__ import annotations

from dataclasses import dataclass

from coper.bench.setup import EndSetup, SawCut, SawPass, Stretch, choice_passes
from coper.frame.end import TubeEnd
from coper.frame.piece import Piece
from coper.joint.fit.fit import Fit
from coper.joint.fit.limits import Limit
from coper.joint.joint import Joint
from coper.joint.saw.kit import SawChoice
from coper.joint.saw.setting import too_shallow
from coper.joint.sides import clock_name, clock_words, side_names
from coper.telling.words.chop import chop_steps
from coper.telling.words.joint import SHOWN_SLIDE_MM, named, slide_words
from coper.telling.words.piece import flat_words
from coper.units import format_angle, format_gap, format_short, plain

LONG_POINT, BLANK_END = "long point", "blank's end"

LEVEL_MM = 0.005
"""An offset that rounds to 0.00 mm is none."""


@dataclass(frozen=True, slots=True, eq=False)
class CardCut:
    """One cut of a card: on one main.

    Attributes
    ----------
    on : str
        What the end seats on, or how it is cut, in words.
    joint : Joint
        The end on this main alone.
    clock : float, degrees
        Of the line that is clamped up, as on the tube and its template.
    passes : tuple of SawPass
        None where no saw cuts it.
    reason : str
        Why no saw does.
    turn : float, degrees
        How far the tube is turned since the cut before, clockwise looking at the end.
    slivers : tuple of (from, to), degrees
        Clocks, as on the tube, that the saw does not reach.
    """

    on: str
    joint: Joint
    clock: float
    passes: tuple[SawPass, ...]
    reason: str = ""
    turn: float = 0.0
    slivers: tuple[Stretch, ...] = ()

    @property
    def line(self) -> str:
        """The line that is clamped up, in words."""
        return f"{self._name} line (clock {clock_words(self.clock)})"

    @property
    def up(self) -> str:
        """The line that is up on the sketch."""
        return f"{self._name} up"

    @property
    def _name(self) -> str:
        return side_names(self.joint)[self.joint.side_clock(0)]

    @property
    def from_square(self) -> str:
        """What the fixture is set to; with the heel up it leans one way only."""
        return format_angle(abs(90 - self.joint.angle))


@dataclass(frozen=True, slots=True, eq=False)
class Card:
    """The contents of one set-up card.

    Attributes
    ----------
    title, about : str
        What it is for, and the tube.
    datum : str
        What the saw's position is measured from: ``long point`` or ``blank's end``.
    cuts : tuple of CardCut
        In the order of work.
    gaps : tuple of str
        What gap to expect of which cut, as the log has it.
    material : str or None
        What is cut, where it is known.
    chop : tuple of str
        The steps at a saw with a fence, where the end is flat.
    """

    title: str
    about: str
    datum: str
    cuts: tuple[CardCut, ...]
    gaps: tuple[str, ...]
    material: str | None = None
    chop: tuple[str, ...] = ()


def joint_card(joint: Joint, choice: SawChoice, limit: Limit | None = None,
               material: str | None = None) -> Card:
    """The card of a single joint, for the saw that was chosen."""
    head = f"Saw set-up at {plain(joint.angle)}°", f"branch {named(joint.branch)}", LONG_POINT
    on = f"on main {named(joint.main)}"
    if not choice.reaches:
        short = too_shallow(choice.depth_needed, choice.setting.depth)
        none = CardCut(on, joint, joint.heel_clock, (), f"{short.fault}: {short.cure}")
        return Card(*head, (none,), (), material)
    passes = choice_passes(joint, choice)
    fit = choice.fit
    gap = _gap_words(fit.largest, clock_name(joint, fit.largest_clock),
                    clock_name(joint, fit.contact_clock))
    long = (f"Long point at clock {clock_name(joint, choice.long_point.clock)}.",)
    return Card(
        *head, (CardCut(on, joint, joint.heel_clock, passes, slivers=choice.slivers),),
        (*long, f"Expected, by saw: {gap}.", *_limit_words(limit, fit)), material)


def end_card(
    piece: Piece, setup: EndSetup, limit: Limit | None = None, material: str | None = None,
    blank: str = "",
) -> Card:
    """The card of one end of a placed tube; ``blank`` is what that is on the cut list."""
    end, chop = setup.end, setup.chop
    cuts = tuple(_cut(setup, cut) for cut in setup.cuts)
    gaps = [f"Long point at clock {clock_words(end.long_point.clock)}.",
            f"Expected, by template ({end.cut}): {_gap(setup, setup.own)}."]
    if setup.sawn is not None:
        gaps.append(f"Expected, by saw: {_gap(setup, setup.sawn)}.")
        if abs(setup.sawn.slide) >= SHOWN_SLIDE_MM:
            gaps.append(f"Sawn, the end sits {slide_words(setup.sawn.slide)}.")
        gaps += _limit_words(limit, setup.sawn)
    steps = () if chop is None else (
        *chop_steps(chop, setup.clock(chop.fence), setup.clock(chop.up)),
        f"Its longest point comes {_from_end(piece, end)}.")
    about = ": ".join(filter(None, (blank, named(piece.tube.shape))))
    return Card(f"{piece.label}, {end.which}", about, BLANK_END, cuts,
                tuple(gaps), material, steps)


def _from_end(piece: Piece, end: TubeEnd) -> str:
    """Where the long point is on the blank."""
    left = piece.from_blank(end, end.long_point.along)
    return "to the blank's end" if left < LEVEL_MM else (
        f"{format_short(left)} from the blank's end")


def _cut(setup: EndSetup, cut: SawCut) -> CardCut:
    main, flat = setup.end.mains[cut.main], setup.end.flat
    on = f"on {main.label}, {named(main.shape)}" if flat is None else flat_words(flat)
    return CardCut(on, cut.joint, cut.seat.heel_clock,
                   cut.passes, cut.reason, cut.turn, setup.stretches(cut.slivers))


def _gap(setup: EndSetup, fit: Fit) -> str:
    largest, touches = (clock_words(setup.clock(clock))
                        for clock in (fit.largest_clock, fit.contact_clock))
    return _gap_words(fit.largest, largest, touches)


def _limit_words(limit: Limit | None, fit: Fit) -> tuple[str, ...]:
    if limit is None:
        return ()
    verdict = "good" if fit.within(limit.mm) else "TOO OPEN: dress it to the template"
    process = f" for {limit.process}" if limit.process else ""
    return (f"Limit{process} {format_short(limit.mm)}: {verdict}.",)


def _gap_words(largest: float, clock: str, touches: str) -> str:
    """The gap of a seated end."""
    if largest < LEVEL_MM:
        return "no gap"
    return f"up to {format_gap(largest)} at clock {clock}, touches first at clock {touches}"
