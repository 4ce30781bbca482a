"""What a set-up card says: the numbers, and the steps in the order of work."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from coper.bench.setup import SawPass
from coper.sheets.setup_card import LEVEL_MM, Card, CardCut
from coper.telling.cells import stretch_words
from coper.telling.words.saw import side_word
from coper.units import format_inches, format_short, plain

TURNED_DEG = 0.05
"""A turn that rounds to 0.0 degrees is none."""


class CardRow(NamedTuple):
    """A row of the table: what, in mm or degrees, in inches; ``large`` what the saw is set by."""

    label: str
    value: str
    inches: str = ""
    large: bool = False


def rows(card: Card, cut: CardCut) -> Iterator[CardRow]:
    """The numbers of one cut."""
    angle = CardRow("angle from square", cut.from_square, large=bool(cut.passes))
    if not cut.passes:
        yield angle
        return
    yield _row("saw", cut.passes[0].setting.diameter, large=True)
    yield angle
    yield from _beyond_rows(card, cut)
    for number, one in enumerate(cut.passes, 1):
        if abs(one.sideways) >= LEVEL_MM:
            offset = f"{number}: offset" if len(cut.passes) > 1 else "offset"
            yield _row(f"{offset}{side_word(one.sideways)}", abs(one.sideways))
    yield _row("depth needed", max(one.setting.depth_needed for one in cut.passes))
    if card.material is not None:
        yield CardRow("speed", f"{cut.passes[0].setting.rpm[card.material]} rpm")


def _beyond_rows(card: Card, cut: CardCut) -> Iterator[CardRow]:
    """How far the saw's axis lies beyond the tube: once where that is the same for all passes."""
    found = [_row(f"{_past(one.beyond_blank)} {card.datum}", abs(one.beyond_blank), large=True)
             for one in cut.passes]
    if len(set(found)) == 1:
        yield found[0]._replace(label=f"axis {found[0].label}")
        return
    for number, row in enumerate(found, 1):
        yield row._replace(label=f"{number}: {row.label}")


def _row(label: str, length: float, large: bool = False) -> CardRow:
    return CardRow(label, format_short(length), format_inches(length), large)


def _past(beyond: float) -> str:
    return "beyond" if beyond >= 0 else "short of"


def speed_words(card: Card, cut: CardCut) -> tuple[str, ...]:
    """How fast the saw turns, where the card does not know what is cut."""
    if not cut.passes or card.material is not None:
        return ()
    rpm = cut.passes[0].setting.rpm
    return (f"Speed in rpm: {', '.join(f'{speed} in {name}' for name, speed in rpm.items())}.",)


def steps(card: Card, cut: CardCut) -> Iterator[str]:
    """The steps of one cut."""
    if card.chop:
        yield from card.chop
        return
    if not cut.passes:
        yield f"No hole saw: {cut.reason}."
        yield "Wrap the template, mark along its line, cut and grind to the mark."
        return
    sawn = [one for one in card.cuts if one.passes]
    if abs(cut.turn) >= TURNED_DEG:
        way = "clockwise" if cut.turn > 0 else "anticlockwise"
        yield (f"Turn the tube {plain(round(abs(cut.turn), 1))}° {way}, looking at the end: "
               f"its {cut.line} is up.")
    else:
        yield f"Clamp the tube, its {cut.line} up."
    if cut is sawn[0] and len(sawn) > 1:
        yield (f"Scribe a line round the tube first, a known way from the {card.datum}: this cut "
               "takes that end off.")
    yield "Set the saw's axis square to the tube." if cut.from_square == "0°" else (
        f"Lean the saw {cut.from_square} over the tube, heel side.")
    first = sawn[0].passes[0]
    for number, one in enumerate(cut.passes, 1):
        axis = f"Pass {number}: axis" if len(cut.passes) > 1 else "Saw's axis"
        yield from _pass_steps(card, one, axis, one is first)
    if cut.slivers:
        yield f"File through at {stretch_words(cut.slivers)}: the saw does not reach there."


def _pass_steps(card: Card, one: SawPass, axis: str, first: bool) -> Iterator[str]:
    """The steps of one pass; but for the first, the pilot drill finds no metal to hold it."""
    if abs(one.sideways) < LEVEL_MM:
        yield f"{axis} level with the tube's: no offset."
    else:
        side = side_word(one.sideways)
        yield f"{axis} {format_short(abs(one.sideways))}{side}, looking at the end."
    yield (f"Slide: axis {format_short(abs(one.beyond_blank))} {_past(one.beyond_blank)} "
           f"{card.datum}.")
    setting = one.setting
    pilot = "" if first else ", no pilot drill"
    if setting.depth_ok:
        yield f"Clamp tight, cut right through{pilot}."
        return
    yield (f"Clamp tight, cut from both sides{pilot}: {format_short(setting.depth)} is TOO SHALLOW "
           f"by {format_short(setting.depth_needed - setting.depth)}.")
    offset = "" if abs(one.sideways) < LEVEL_MM else ", offset to the other side"
    yield f"Other side: turn the tube half round, lean the saw the other way{offset}, same slide."
