"""Set-up cards of a single joint, and of the ends of a placed tube."""

from __future__ import annotations

from collections.abc import Sequence

from coper.bench.setup import EndSetup, SawCut, choice_passes
from coper.frame.piece import Piece
from coper.joint.fit.fit import Fit
from coper.joint.fit.limits import Limit
from coper.joint.joint import Joint
from coper.joint.saw.kit import SawChoice
from coper.joint.sides import clock_name, clock_words
from coper.pages.compose import Block
from coper.shapes.checks import plain
from coper.sheets.card import card_block
from coper.sheets.card_words import Card, CardCut, gap_words
from coper.telling.words.joint import SHOWN_SLIDE_MM, named, slide_words
from coper.units import format_mm

LONG_POINT, BLANK_END = "long point", "blank's end"


def joint_card(joint: Joint, choice: SawChoice, limit: Limit | None = None,
               material: str | None = None) -> Card:
    """The card of a single joint, for the saw that was chosen."""
    passes = choice_passes(joint, choice)
    fit = choice.fit
    gap = gap_words(fit.largest, clock_name(joint, fit.largest_clock),
                    clock_name(joint, fit.contact_clock))
    long = (f"Long point at clock {clock_name(joint, choice.long_point.clock)}.",)
    return Card(
        f"Saw set-up at {plain(joint.angle)}°", f"branch {named(joint.branch)}", LONG_POINT,
        (CardCut(f"main {named(joint.main)}", joint, joint.heel_clock, passes),),
        (*long, f"Gap to expect: {gap}.", *_limit_words(limit, fit)), material)


def card_blocks(
    piece: Piece, setups: Sequence[EndSetup], limit: Limit | None = None,
    material: str | None = None,
) -> list[Block]:
    """A card for every shaped end of ``piece``, from its ``setups`` (``piece_setups``)."""
    return [card_block(end_card(piece, setup, limit, material)) for setup in setups]


def end_card(
    piece: Piece, setup: EndSetup, limit: Limit | None = None, material: str | None = None
) -> Card:
    """The card of one end of a placed tube."""
    end = setup.end
    cuts = tuple(_cut(setup, cut) for cut in setup.cuts)
    gaps = [f"Long point at clock {clock_words(end.long_point.clock)}.",
            f"Gap by the template, {end.cut}: {_gap(setup, setup.own)}."]
    if setup.sawn is not None:
        gaps.append(f"Gap as sawn: {_gap(setup, setup.sawn)}.")
        if abs(setup.sawn.slide) >= SHOWN_SLIDE_MM:
            gaps.append(f"Sawn, the end sits {slide_words(setup.sawn.slide)}.")
        gaps += _limit_words(limit, setup.sawn)
    return Card(f"{piece.label}, {end.which}", named(piece.tube.shape), BLANK_END, cuts,
                tuple(gaps), material)


def _cut(setup: EndSetup, cut: SawCut) -> CardCut:
    main = setup.end.mains[cut.main]
    side = "" if main.side == "centre" else f" {main.side}"
    return CardCut(f"{main.name}{side}, {named(main.shape)}", cut.joint, cut.seat.heel_clock,
                   cut.passes, cut.reason, cut.turn)


def _gap(setup: EndSetup, fit: Fit) -> str:
    largest, touches = (clock_words(setup.clock(clock))
                        for clock in (fit.largest_clock, fit.contact_clock))
    return gap_words(fit.largest, largest, touches)


def _limit_words(limit: Limit | None, fit: Fit) -> tuple[str, ...]:
    if limit is None:
        return ()
    verdict = "good" if fit.within(limit.mm) else "TOO OPEN: dress it to the template"
    process = f" for {limit.process}" if limit.process else ""
    return (f"Limit{process} {format_mm(limit.mm)}: {verdict}.",)
