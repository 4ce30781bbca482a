"""Pieces that are the same, and mirror images, in words."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Sequence
from itertools import takewhile

from coper.bench.cut_list.tapered_blank import sides_label
from coper.frame.alike import Alike, Batch, Laid, Member
from coper.joint.sides import clock_words

Titles = dict[str, str]
"""What each batch is called, by the label of its first piece."""

_PARTS = re.compile(r"\d+|[^\W\d_]+|[\W_]")
"""What a name is made of: numbers, words, and each thing between them."""


def batch_titles(groups: Sequence[Alike]) -> Titles:
    """``7 x post`` for each batch; no two are called the same."""
    batches = [batch for group in groups for batch in group.batches]
    stems = {batch.first.label: _title(batch) for batch in batches}
    often = Counter(stems.values())
    return {batch.first.label: stem if often[stem] == 1 else _first_and(batch)
            for batch in batches for stem in (stems[batch.first.label],)}


def _title(batch: Batch) -> str:
    if len(batch) == 1:
        return batch.first.label
    stem = _stem([member.piece.tube.name for member in batch.members])
    sides = {member.piece.tube.side for member in batch.members}
    side = f" {sides.pop()}" if len(sides) == 1 and sides != {"centre"} else ""
    return f"{len(batch)} x {stem}{side}" if stem else _first_and(batch)


def _first_and(batch: Batch) -> str:
    if len(batch) == 1:
        return batch.first.label
    return f"{batch.first.label} and {len(batch) - 1} alike"


def _stem(names: Sequence[str]) -> str:
    """The words that all names begin with, without a number after them."""
    parts = zip(*map(_PARTS.findall, names), strict=False)
    same = [some[0] for some in takewhile(lambda some: len(set(some)) == 1, parts)]
    while same and len(set(names)) > 1 and not same[-1].isalpha():
        same.pop()
    return "".join(same).strip()


def group_title(group: Alike, titles: Titles) -> str:
    """A batch and its mirror images in one row: ``chain-stay left and right``."""
    own = titles[group.batch.first.label]
    if group.mirror is None:
        return own
    one, other = group.batch.first.tube, group.mirror.first.tube
    if group.count == 2 and one.name == other.name:
        return sides_label(one.name, (one.side, other.side))
    return f"{own} and {titles[group.mirror.first.label]}"


def alike_lines(groups: Sequence[Alike], titles: Titles) -> Iterator[str]:
    """Which pieces are the same, all by name, and which is a mirror image of which."""
    for group in groups:
        for batch in group.batches:
            if len(batch) > 1:
                yield f"{titles[batch.first.label]}: {', '.join(batch.labels)}"
        if group.mirror is not None:
            image = "mirror images" if len(group.mirror) > 1 else "the mirror image"
            is_are = "are" if len(group.mirror) > 1 else "is"
            yield (f"{titles[group.mirror.first.label]} {is_are} {image} of "
                   f"{titles[group.batch.first.label]}")


def batch_lines(group: Alike, batch: Batch, titles: Titles) -> Iterator[str]:
    """What the sheets of a batch say of it, above all else; nothing of a piece that is alone."""
    if len(batch) > 1:
        yield (f"Cut {len(batch)}, all the same: {', '.join(batch.labels)}. Clocks and places here "
               f"are those of {batch.first.label}; copy the log for each.")
        yield from _laid_lines(batch.members[1:])
    if group.mirror is None:
        return
    other = group.mirror if batch is group.batch else group.batch
    name = titles[other.first.label]
    yield f"Mirror image of {name}, which has sheets of its own: keep them apart."


def _laid_lines(members: Sequence[Member]) -> Iterator[str]:
    """Those whose clock or ends differ from the first's, alike ones together."""
    named: dict[tuple[str, bool], list[str]] = {}
    for member in members:
        named.setdefault(_laid_key(member.laid), []).append(member.piece.label)
    for (clock, end_for_end), names in named.items():
        turned = ["turned end for end"] if end_for_end else []
        zero = [] if clock == "0" and not end_for_end else [f"own clock {clock} at clock 0 here"]
        if words := ", ".join((*turned, *zero)):
            yield f"{', '.join(names)}: {words}."


def _laid_key(laid: Laid) -> tuple[str, bool]:
    return clock_words(laid.clock_0), laid.end_for_end
