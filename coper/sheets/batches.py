"""One set of sheets for all pieces that are the same."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from coper.bench.cut_list.cut_list import CutList
from coper.frame.alike import Member
from coper.frame.piece import Piece
from coper.frame.tube import Tube
from coper.telling.words.alike import batch_lines, batch_titles
from coper.telling.words.cut_list import blank_words


@dataclass(frozen=True, slots=True, eq=False)
class BatchSheet:
    """What a set of sheets is for.

    Attributes
    ----------
    piece : Piece
        The first of the batch, by the name of the batch.
    named : Tube
        That one's tube, as the job calls it.
    listed : str
        What the list of the packet calls it: all names.
    about : tuple of str
        What its notes say before all else.
    members : tuple of Member
        All pieces of the batch.
    blank : str
        What they are on the cut list; empty where nothing is cut for them.
    """

    piece: Piece
    named: Tube
    listed: str
    about: tuple[str, ...]
    members: tuple[Member, ...]
    blank: str

    @property
    def title(self) -> str:
        """What the batch is called."""
        return self.piece.label


def batch_sheets(cuts: CutList, ordered: Sequence[Piece]) -> tuple[BatchSheet, ...]:
    """A set for each batch with a shaped end, in the order in which the first is shaped."""
    titles = batch_titles(cuts.alike)
    order = {piece.label: place for place, piece in enumerate(ordered)}
    found = [(order[batch.first.label], group, batch)
             for group in cuts.alike for batch in group.batches
             if any(end.cope for end in batch.first.ends)]
    return tuple(
        BatchSheet(_called(batch.first, titles[batch.first.label]), batch.first.tube,
                   f"{titles[batch.first.label]}: {', '.join(batch.labels)}" if len(batch) > 1
                   else batch.first.label,
                   tuple(batch_lines(group, batch, titles)), batch.members,
                   blank_words(cuts, batch.labels))
        for _, group, batch in sorted(found, key=lambda one: one[0]))


def _called(piece: Piece, title: str) -> Piece:
    """The piece by another name."""
    if title == piece.label:
        return piece
    return replace(piece, tube=replace(piece.tube, name=title, side="centre"))
