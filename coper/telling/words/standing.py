"""How a box, an oval or a bend stands, in words."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from coper.frame.piece import Piece
from coper.frame.standing import WAYS, Bulge, Standing, bulge, section_sides, standing
from coper.frame.tube import Tube
from coper.job.job import TubePlan
from coper.shapes.tapered_oval import TaperedOval
from coper.shapes.words import tube_words
from coper.telling.lines import sentence
from coper.units import format_number, format_short, plain

PLUMB_DEG = 0.05
"""Less is not seen: angles are shown to a tenth of a degree."""

LEANS = 0.38
"""A direction is named by each of the six ways that has this share in it: the sine of 22.5
degrees, so that eight directions in a plane have a name each."""

_TO: dict[str, str] = {way: f"to the {way}" for way in WAYS} | {"up": "up", "down": "down"}


def stands_words(tube: Tube) -> str | None:
    """``stands 60 tall, 30 wide`` or ``bulges up``; ``None`` of a round straight tube.

    A square box that stands square looks the same either way, and needs no words.
    """
    section, bent = standing(tube), bulge(tube)
    said = [] if section is None or _is_plain(section) else [
        f"{_section_words(section)}{_where(tube)}"]
    if bent is not None:
        said.append(_bulge_words(bent))
    return "; ".join(said) or None


def _is_plain(section: Standing) -> bool:
    return section.tall == section.wide and abs(section.turned) < PLUMB_DEG


def _where(tube: Tube) -> str:
    """Where along the tube it is so, where it is not all along."""
    if isinstance(tube.shape, TaperedOval):
        return " at the start"
    return "" if tube.course is None else ", before the first bend"


def _section_words(section: Standing) -> str:
    """How a section stands, and how far it is turned from that."""
    tall, wide = (format_number(round(side, 2)) for side in (section.tall, section.wide))
    if section.upright:
        words = f"upright, {tall} from front to back, {wide} across"
    elif section.tall >= section.wide:
        words = f"stands {tall} tall, {wide} wide"
    else:
        words = f"lies {wide} wide, {tall} tall"
    if abs(section.turned) < PLUMB_DEG:
        return words
    way = "clockwise" if section.turned > 0 else "anticlockwise"
    return f"{words}, turned {plain(round(abs(section.turned), 1))}° {way} (looking to its end)"


def _bulge_words(bent: Bulge) -> str:
    words = f"bulges {_way_words(bent.way)}"
    return words if bent.rise is None else f"{words}, by {format_short(bent.rise)}"


def _way_words(way: Sequence[float]) -> str:
    """``up and to the front``; the main direction first."""
    shares = {word: sum(a * b for a, b in zip(way, unit, strict=True))
              for word, unit in WAYS.items()}
    named = sorted((word for word in shares if shares[word] > LEANS),
                   key=lambda word: -round(shares[word], 6))
    return " and ".join(_TO[word] for word in named)


def stands_lines(pieces: Iterable[Piece]) -> tuple[str, ...]:
    """A line for each tube that is not round and straight, those that stand alike together."""
    named: dict[str, list[str]] = {}
    for piece in pieces:
        if words := stands_words(piece.tube):
            named.setdefault(words, []).append(piece.label)
    return tuple(f"{', '.join(labels)}: {words}" for words, labels in named.items())


def unlike_words(plans: Iterable[TubePlan], pieces: Iterable[Piece]) -> Iterator[str]:
    """A caution for each section that stands in two ways where the job does not say how it lies.

    A tube along the frame and one across it differ so: where clock 0 is at turn 0.
    """
    given = {plan.name for plan in plans if plan.turn_given}
    found: dict[str, dict[bool, Piece]] = {}
    for piece in pieces:
        section = standing(piece.tube)
        if section is None or section.upright or piece.tube.name in given:
            continue
        sides = found.setdefault(tube_words(piece.tube.shape), {})
        if section.tall != section.wide:
            sides.setdefault(section.tall > section.wide, piece)
    for words, unlike in found.items():
        if len(unlike) == 2:
            one, other = unlike.values()
            sizes = section_sides(one.tube.shape) or ()
            yield sentence(
                f"{words}: {one.label} {stands_words(one.tube)}, but {other.label} "
                f"{stands_words(other.tube)}; say which side stands up on each, with tall = "
                f'{" or ".join(format_number(size) for size in sizes)}')[:-1]
