"""The station Ends: every end that is cut, how, and what gap is to be expected of it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final
from weakref import WeakKeyDictionary

from coper.bench.setup import EndSetup, SawShop
from coper.errors import CoperError
from coper.frame.end import TubeEnd
from coper.frame.piece import Piece
from coper.frame.tube import Which
from coper.job.job import Job
from coper.job.limits import shop_limit
from coper.job.named_end import set_up_once
from coper.job.setups import saw_shop
from coper.joint.fit.limits import Limit
from coper.page.answers.change import every_fault, job_in
from coper.page.answers.named import pieces_of
from coper.shapes.plate import Plate
from coper.sheets.setup_card import Card, end_card
from coper.telling.words.job import end_fact
from coper.units import format_length, format_short, lengths_in, order_unit

TOO_OPEN: Final = "TOO OPEN"
"""How the card says that a gap is above the limit."""


@dataclass(frozen=True, slots=True)
class EndListed:
    """An end in the list.

    Attributes
    ----------
    name : str
    parts : tuple of str
        Those of its address: tube, side, end.
    how : str
        How it is cut, on what, at which angle.
    lines : tuple of str
        With what it is cut, and what gap to expect.
    asked : tuple of str
        What to look at.
    waits : bool
        Whether its saws are still to be chosen.
    """

    name: str
    parts: tuple[str, str, str]
    how: str
    lines: tuple[str, ...] = ()
    asked: tuple[str, ...] = ()
    waits: bool = False


@dataclass(frozen=True, slots=True)
class Listed:
    """All of them; or why there is none."""

    title: str
    shaped: tuple[EndListed, ...] = ()
    plain: tuple[EndListed, ...] = ()
    wrong: tuple[str, ...] = ()

    @property
    def waits(self) -> bool:
        """Whether the saws of any are still to be chosen."""
        return any(end.waits for end in self.shaped)


@dataclass(frozen=True, slots=True)
class _Shop:
    """All that an end's row depends on besides the end itself."""

    unit: str
    saws: SawShop
    limit: Limit | None
    material: str | None


def listed(text: str, with_saws: bool = True) -> Listed:
    """Every end that is cut; those that are only cut off stand apart.

    ``with_saws`` has the saws chosen of every end, which takes long; else those stand there that
    were chosen before.
    """
    title = ""
    try:
        job = job_in(text)
        title = job.title
        pieces = pieces_of(text)
    except CoperError as error:
        return Listed(title, wrong=every_fault(error))
    with lengths_in(job.units):
        return Listed(title, tuple(_shaped(job, pieces, with_saws)), tuple(
            _row(piece, end) for piece in pieces for end in cut_ends(piece) if end.cope is None))


def cut_ends(piece: Piece) -> tuple[TubeEnd, ...]:
    """The ends of a piece that are cut: none where it stands already, or is a plate."""
    if piece.tube.existing or isinstance(piece.tube.shape, Plate):
        return ()
    return piece.ends


def _shaped(job: Job, pieces: tuple[Piece, ...], with_saws: bool) -> Iterator[EndListed]:
    shop = _Shop(order_unit(), saw_shop(job.shop), shop_limit(job.shop), job.shop.material)
    for piece in pieces:
        for end in cut_ends(piece):
            if end.cope is None:
                continue
            known = _KNOWN.setdefault(piece, {})
            if with_saws and known.get(end.which, (None,))[0] != shop:
                known[end.which] = shop, _sawn(piece, end, shop)
            of, row = known.get(end.which, (None, None))
            yield row if row and of == shop else _row(piece, end, waits=True)


_KNOWN: Final[WeakKeyDictionary[Piece, dict[Which, tuple[_Shop, EndListed]]]] = WeakKeyDictionary()
"""The last row of each end, as long as its piece is."""


def _sawn(piece: Piece, end: TubeEnd, shop: _Shop) -> EndListed:
    """An end with its saws."""
    limit = shop.limit
    setup = set_up_once(shop.unit, piece, end, shop.saws)
    card = end_card(piece, setup, limit, shop.material)
    open_words = [words for words in card.gaps if TOO_OPEN in words]
    gaps = [words for words in card.gaps[1:] if words not in open_words]
    if limit is not None and not setup.own.within(limit.mm):
        open_words.insert(0, f"{TOO_OPEN} by its template: above the limit of "
                             f"{format_short(limit.mm)}.")
    return _row(piece, end, (f"{_with_what(card, setup)}.", *gaps), (*open_words, *end.cautions))


def _row(
    piece: Piece, end: TubeEnd, lines: tuple[str, ...] = (), asked: tuple[str, ...] = (),
    waits: bool = False,
) -> EndListed:
    return EndListed(f"{piece.label} {end.which}", (piece.tube.name, piece.tube.side, end.which),
                     end_fact(end).words, lines, asked, waits)


def _with_what(card: Card, setup: EndSetup) -> str:
    """The saws that cut it, or what does instead."""
    if setup.chop is not None:
        return "Chop saw or band saw: the cut is flat"
    saws = [f"saw {format_length(cut.passes[0].setting.diameter)}"
            f"{' in two passes' if len(cut.passes) > 1 else ''}"
            for cut in card.cuts if cut.passes]
    none = [f"no hole saw: {cut.reason}" for cut in card.cuts if not cut.passes]
    words = ", then ".join(saws + none)
    return f"{words[:1].upper()}{words[1:]}"
