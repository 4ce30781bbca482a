"""Where the footprints of a batch go: on the main of each of its pieces."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from coper.frame.alike import Member
from coper.frame.end import TubeEnd
from coper.frame.main_landings import MainLanding, Named, find_landings, landed_on
from coper.frame.piece import Piece
from coper.frame.tube import Which
from coper.sheets.batches import BatchSheet
from coper.sheets.tube_templates import Places, footprint_name
from coper.telling.words.landing import OnMain

Key = tuple[str, Which, Named]
"""A landing: the branch by its label, which of its ends, and the main."""


class FootprintPlaces:
    """All landings of a frame, and the footprint that marks each of them.

    Attributes
    ----------
    by_main : dict of Named to list of MainLanding
        As :func:`find_landings` has them.
    """

    def __init__(self, pieces: Sequence[Piece], sheets: Sequence[BatchSheet]) -> None:
        mains = {(piece.tube.name, piece.tube.side): piece for piece in pieces}
        self.by_main = find_landings(pieces)
        self._on = {(one.piece.label, one.which, named): (mains[named], one)
                    for named, some in self.by_main.items() for one in some}
        self._names = {key: footprint_name(sheet.piece.label, end, index)
                       for sheet in sheets for end in sheet.piece.ends
                       for index in landed_on(end) for key in _keys(sheet, end, index)}

    def of(self, sheet: BatchSheet) -> dict[Which, Places]:
        """Where both ends' footprints on the sheets of a batch go."""
        return {end.which: {index: self._places(sheet, end, index) for index in landed_on(end)}
                for end in sheet.piece.ends}

    def name(self, main: Piece, landing: MainLanding) -> str:
        """What the footprint of a landing on ``main`` is called in the file."""
        key = landing.piece.label, landing.which, (main.tube.name, main.tube.side)
        return self._names.get(key, "")

    def _places(self, sheet: BatchSheet, end: TubeEnd, index: int) -> tuple[OnMain, ...]:
        return tuple(self._on[key] for key in _keys(sheet, end, index) if key in self._on)


def _keys(sheet: BatchSheet, end: TubeEnd, index: int) -> Iterator[Key]:
    """The landings that the footprint of ``end`` on its main number ``index`` marks."""
    for member in sheet.members:
        own = _end_of(member, end)
        main = own.mains[_main_of(own, end, index)]
        yield member.piece.label, own.which, (main.name, main.side)


def _end_of(member: Member, end: TubeEnd) -> TubeEnd:
    """The end of a piece that is the same as ``end`` of the batch's first."""
    start = (end.which == "start") != member.laid.end_for_end
    return member.piece.start if start else member.piece.end


def _main_of(own: TubeEnd, end: TubeEnd, index: int) -> int:
    """Which of its mains that is: the one of the same number, unless that is another tube."""
    wanted = end.mains[index].shape.words()
    alike = [at for at, main in enumerate(own.mains) if main.shape.words() == wanted]
    return index if index in alike else alike[0]
