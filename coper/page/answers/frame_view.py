"""The frame as it is seen from any side: the way in to its tubes, and to what is wrong where."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Final

from coper.arrays import Point
from coper.drawing.svg import Dress, svg_element
from coper.errors import CoperError
from coper.frame.clash import Clash
from coper.frame.end import plain_end
from coper.frame.piece import Piece, make_piece
from coper.job.frame import placed_tubes
from coper.job.job import Job
from coper.page.answers.change import answer_in, every_fault, job_in
from coper.sheets.frame_view import NARROW_MM, Look, Place, Stage, frame_view_page, stage_of
from coper.telling.words.clash import clash_words
from coper.units import format_short, lengths_in, parse_angle

REMEMBERED: Final = 16

FRONT: Final = "front-axle"
"""What the names of a bicycle's points at its front axle begin with."""

MOST_ROUND, MOST_UP = 360.0, 90.0
"""How far a frame may be turned, degrees either way."""


@dataclass(frozen=True, slots=True)
class Marked:
    """What a station marks in the view besides: see :class:`coper.sheets.frame_view.Place`.

    Attributes
    ----------
    at : tuple of (x, y, z), mm
        One point, or two with a line between them; more are a dashed line.
    words : str
        What stands beside it in the picture: short.
    kind : str
        ``wrong``, ``asked`` or ``in-hand``; empty for what is no fault.
    """

    at: tuple[Point, ...]
    words: str
    kind: str = "wrong"


@dataclass(frozen=True, slots=True)
class View:
    """The picture, and what is said with it.

    Attributes
    ----------
    picture : str
        An element of SVG; empty where there is nothing to draw.
    look : Look
    clashes : tuple of str
        A sentence for each two tubes that run through each other, which the picture marks.
    wrong : tuple of str
        Why the frame cannot be shaped; the picture then has what is known of it.
    """

    picture: str
    look: Look
    clashes: tuple[str, ...] = ()
    wrong: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, eq=False)
class _Known:
    """What of a job can be drawn."""

    units: str
    stage: Stage
    clashes: tuple[Clash, ...] = ()
    wrong: tuple[str, ...] = ()


def look_from(round_: str, up: str) -> Look:
    """What the two numbers of an address say.

    Raises
    ------
    CoperError
        Where one is no angle, or too large; an empty one is 0.
    """
    turn = _turn(round_, "round", MOST_ROUND) % 360
    return Look(turn - 360 if turn > 180 else turn, _turn(up, "up", MOST_UP))


def _turn(words: str, where: str, most: float) -> float:
    if not words:
        return 0.0
    try:
        angle = parse_angle(words)
    except CoperError as error:
        raise error.at(where) from error
    if abs(angle) > most:
        raise CoperError(f"{angle:g} is too far", f"give -{most:g} to {most:g}", where)
    return angle


def frame_view(
    text: str, look: Look, tube_to: Callable[[str], str], chosen: str = "", points: bool = True,
    marked: Sequence[Marked] = (), dressed: Mapping[str, Dress] | None = None,
    narrow: bool = False,
) -> View:
    """The frame of a job as it is seen from somewhere.

    Parameters
    ----------
    text
        All of the file.
    look
        From where.
    tube_to
        The address of a tube by its name.
    chosen
        The tube in hand.
    points
        Whether the points are drawn.
    marked
        What the station marks besides.
    dressed
        What groups of the picture are besides, such as ``point-axle`` a link.
    narrow
        Whether it is for a phone.
    """
    known = _known(text)
    stage = replace(known.stage, wide=NARROW_MM) if narrow else known.stage
    if not stage.pieces and not stage.points:
        return View("", look, wrong=known.wrong)
    with lengths_in(known.units):
        every = (*(_clash(one) for one in known.clashes), *marked)
        said = tuple(clash_words(one) for one in known.clashes)
    page = frame_view_page(stage, look, chosen, points,
                           [Place(one.at, one.words) for one in every])
    dress = {f"tube-{piece.tube.name}": Dress(
        "in-hand" if piece.tube.name == chosen else "", tube_to(piece.tube.name),
        f"{piece.tube.name}, in hand" if piece.tube.name == chosen else piece.tube.name)
        for piece in stage.pieces}
    dress |= {f"point-{name}": Dress(words=name) for name in stage.points}
    dress |= {f"place-{number}": Dress(one.kind, words=one.words)
              for number, one in enumerate(every, 1)}
    return View(svg_element(page, {**dress, **(dressed or {})}), look, said, known.wrong)


def _clash(clash: Clash) -> Marked:
    return Marked((clash.at,), f"{clash.one.label} in {clash.other.label}, "
                               f"{format_short(clash.deep)} deep")


@lru_cache(maxsize=REMEMBERED)
def _known(text: str) -> _Known:
    """All that can be drawn of a job: its tubes shaped, or as they stand uncut, or its points."""
    try:
        job = job_in(text)
    except CoperError as error:
        return _Known("mm", stage_of((), {}), wrong=every_fault(error))
    try:
        shaped = answer_in(text).result
    except CoperError as error:
        pieces = _uncut(job)
        wrong = every_fault(error) if job.tubes else ()
        return _Known(job.units, _staged(job, pieces), wrong=wrong)
    return _Known(job.units, _staged(job, shaped.pieces), shaped.clashes)


def _staged(job: Job, pieces: Sequence[Piece]) -> Stage:
    """The tubes and the points that are drawn.

    The front axle is far from the frame: it is drawn where a tube, of a fork, goes there.
    """
    given = job.named_points
    frame = {name: at for name, at in given.items() if not name.startswith(FRONT)}
    stage = stage_of(pieces, frame)
    return replace(stage, points={
        name: at for name, at in given.items() if name in frame or stage.holds(at)})


def _uncut(job: Job) -> tuple[Piece, ...]:
    """The tubes from point to point; none where one of them cannot stand there."""
    try:
        return tuple(make_piece(tube, plain_end(tube, "start"), plain_end(tube, "end"))
                     for sides in placed_tubes(job).values() for tube in sides.values())
    except CoperError:
        return ()
