"""One end of a job: its template, the gap to expect of it, the saw that cuts it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

from coper.bench.setup import EndSetup
from coper.errors import CoperError
from coper.frame.end import TubeEnd
from coper.frame.piece import Piece
from coper.frame.tube import Which
from coper.job.limits import shop_limit
from coper.job.named_end import JobEnd, check_side, find_tube
from coper.job.setups import saw_shop
from coper.joint.cautions import SAFETY
from coper.joint.fit.fit import Fit
from coper.joint.template import GLUE_MM, PAPER_MM
from coper.page.answers.change import job_in
from coper.page.answers.end_pictures import Picture, cap, gap, templates
from coper.page.answers.end_saws import SawsShown, saw_asked, saws, with_saw
from coper.page.answers.ends import cut_ends
from coper.page.answers.named import NO_SIDE, end_of, pieces_of
from coper.page.answers.words import Block, blocks
from coper.sheets.tube_templates import long_point_words, one_strip
from coper.telling.cells import SHOWN_MM
from coper.telling.grid import Grid
from coper.telling.lines import Caution, Fact, Line
from coper.telling.words.end import seat_words
from coper.telling.words.job import blank_fact, end_fact
from coper.units import format_length, format_size, lengths_in
from coper.verbs.answer import Answer, in_unit
from coper.verbs.fit import fit
from coper.verbs.joint_end import usual_joint_end
from coper.verbs.saw_end import saw_end
from coper.verbs.tolerance import tolerance

REMEMBERED: Final = 16

Parts = tuple[str, str, str]
"""Those of an end's address: tube, side, end."""


@dataclass(frozen=True, slots=True)
class Neighbour:
    """Another end: its name, and the parts of its address."""

    name: str
    parts: Parts


@dataclass(frozen=True, slots=True)
class Gap:
    """The gap that a cut leaves: what is said of it, its picture, whether there is none at all."""

    said: tuple[Block, ...]
    drawing: Picture
    closed: bool


@dataclass(frozen=True, slots=True)
class EndShown:
    """One end.

    Attributes
    ----------
    name, about : str
        Which it is, and what it seats on or how it is cut.
    job : str
        The job's title.
    before, after : Neighbour or None
        In the list.
    facts : tuple of Block
        What a person measures of it.
    cautions : tuple of str
        Those of this end.
    pictures : tuple of Picture
        What is cut out of paper.
    ordinates : tuple of Block
        The same without a printer.
    own, sawn : Gap or None
        What its own cut leaves, and the saw that is shown; ``None`` where it seats on no main, or
        no saw cuts it.
    saw : tuple of Block
        How it is sawn.
    has_saws : bool
        Whether hole saws may cut it.
    shaped : bool
        Whether it is shaped at all, and not only cut off.
    """

    name: str
    about: str
    job: str
    before: Neighbour | None
    after: Neighbour | None
    facts: tuple[Block, ...]
    cautions: tuple[str, ...] = ()
    pictures: tuple[Picture, ...] = ()
    ordinates: tuple[Block, ...] = ()
    own: Gap | None = None
    sawn: Gap | None = None
    saw: tuple[Block, ...] = ()
    has_saws: bool = False
    shaped: bool = False


@lru_cache(maxsize=REMEMBERED)
def end_shown(text: str, tube: str, side: str, which: Which, saw: str = "") -> EndShown:
    """An end by its name, with a ``saw`` to look at, or that of its card.

    Raises
    ------
    CoperError
        Where there is no such end, the job cannot be shaped, or the saw has no size.
    """
    job = job_in(text)
    with lengths_in(job.units):
        piece = _piece(text, tube, side, which)
        end = piece.end_at(which)
        around = _around(text, (tube, side, which))
        if end.cope is None:
            return EndShown(f"{piece.label} {which}", end_fact(end).words, job.title, *around,
                            blocks([blank_fact(piece), end_fact(end)]),
                            pictures=tuple(cap(piece, end)))
        return _shaped(end_of(text, tube, side, which), around, saw)


@lru_cache(maxsize=REMEMBERED)
def end_saws(
    text: str, tube: str, side: str, which: Which, saw: str = ""
) -> SawsShown | None:
    """Every saw of the shop at that end, which takes long; ``None`` where none can cut it."""
    end = end_of(text, tube, side, which)
    with lengths_in(end.job.units):
        return saws(end, with_saw(end, saw_asked(end, saw)).setup())


def _piece(text: str, tube: str, side: str, which: Which) -> Piece:
    plan = find_tube(job_in(text), tube)
    check_side(plan, None if side == NO_SIDE else side, which)
    piece = next(one for one in pieces_of(text) if (one.tube.name, one.tube.side) == (tube, side))
    if not cut_ends(piece):
        why = "it stands already" if piece.tube.existing else "it is a plate, cut to its outline"
        raise CoperError(f"{why}, and no end of it is shaped", "choose one of the list", tube)
    return piece


def _around(text: str, parts: Parts) -> tuple[Neighbour | None, Neighbour | None]:
    """The ends before and after one in the list."""
    every = [(piece, end) for piece in pieces_of(text) for end in cut_ends(piece)]
    ordered = [Neighbour(f"{piece.label} {end.which}",
                         (piece.tube.name, piece.tube.side, end.which))
               for piece, end in sorted(every, key=lambda one: one[1].cope is None)]
    here = [one.parts for one in ordered].index(parts)
    return (ordered[here - 1] if here else None,
            ordered[here + 1] if here + 1 < len(ordered) else None)


def _shaped(
    end: JobEnd, around: tuple[Neighbour | None, Neighbour | None], saw: str
) -> EndShown:
    piece, one, shop = end.piece, end.end, end.job.shop
    lines = list(usual_joint_end(end).lines())
    sawn = with_saw(end, saw_asked(end, saw))
    limit = shop_limit(shop)
    answer = in_unit(end.job.units, lambda: saw_end(
        sawn, saw_shop(sawn.job.shop), limit, shop.paper_for(), shop.printer))
    own, by_saw = _gaps(end, sawn, answer.result)
    return EndShown(
        end.name, seat_words(one), end.job.title, *around, blocks(_facts(piece, one, lines)),
        tuple(line.words for line in lines
              if isinstance(line, Caution) and line.words not in SAFETY),
        (*templates(end), *cap(piece, one)),
        blocks(line for line in lines if isinstance(line, Grid)), own, by_saw,
        blocks(_own_lines(answer)), answer.result.chop is None, True)


def _facts(piece: Piece, end: TubeEnd, lines: list[Line]) -> Iterator[Line]:
    """What ``coper joint`` says of the end, and where it lies on the blank."""
    yield blank_fact(piece)
    yield Fact("long point", long_point_words(piece, end))
    datum = one_strip(piece, end, PAPER_MM, GLUE_MM).datum
    if datum is not None:
        yield Fact("line round", f"on the template, {format_size(datum.distance)} {datum.to}")
    yield from (line for line in lines if isinstance(line, Fact))


def _own_lines(answer: Answer[EndSetup]) -> Iterator[Line]:
    """The lines of an answer but its title, and what is said of every work at an end."""
    _, *lines = answer.lines()
    yield from (line for line in lines if not isinstance(line, Caution))


def _gaps(end: JobEnd, sawn: JobEnd, setup: EndSetup) -> tuple[Gap | None, Gap | None]:
    """What the end's own cut leaves, and what the saw does."""
    if end.end.flat is not None:
        return None, None
    limit = shop_limit(end.job.shop)
    own = _gap(f"By its template, {end.end.cut}", fit(end, limit=limit), "gap-own")
    if setup.sawn is None:
        return own, None
    sizes = dict.fromkeys(one.setting.diameter for cut in setup.cuts for one in cut.passes)
    name = f"By the saw, {' and '.join(map(format_length, sizes))}"
    return own, _gap(name, fit(sawn, "saw", limit=limit), "gap-saw")


def _gap(name: str, answer: Answer[Fit], within: str) -> Gap:
    facts = [line for line in answer.lines() if isinstance(line, Fact)]
    return Gap(blocks(facts), gap(answer, name, within), answer.result.largest < SHOWN_MM)


def care(end: JobEnd) -> tuple[Block, ...]:
    """What an error of a degree or a mm costs at an end, and what to mend first; it takes long."""
    answer = tolerance(end, None, shop_limit(end.job.shop))
    return blocks(answer.lines())
