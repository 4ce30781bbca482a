"""The saws of a shop at one end: each by itself, and the one that somebody chose to look at."""

from __future__ import annotations

from collections.abc import Hashable
from dataclasses import dataclass, field, replace
from functools import lru_cache
from typing import Final

from coper.bench.setup import EndSetup, sawn_alike
from coper.job.limits import shop_limit
from coper.job.named_end import JobEnd
from coper.joint.saw.kit import USUAL_KIT_MM
from coper.telling.grid import Cells
from coper.telling.words.end_saws import end_saws_table
from coper.units import lengths_in, plain
from coper.verbs.options import size

REMEMBERED: Final = 128


@dataclass(frozen=True, slots=True)
class SawShown:
    """A saw in the table: how it is asked for, its cells, whether it is the one that is shown."""

    asked: str
    cells: Cells
    shown: bool


@dataclass(frozen=True, slots=True)
class SawsShown:
    """The table: what stands over it, and a row for each saw."""

    head: str
    note: str
    columns: Cells
    saws: tuple[SawShown, ...]


def saw_asked(end: JobEnd, words: str) -> float | None:
    """The saw that an address asks for, mm; ``None`` where it asks for none.

    Raises
    ------
    WordsError
        Where it is no size.
    """
    if not words.strip():
        return None
    with lengths_in(end.job.units):
        return size(words)


def with_saw(end: JobEnd, saw: float | None) -> JobEnd:
    """The end in a shop that has only this saw; as it is where that is ``None``."""
    if saw is None:
        return end
    return replace(end, job=replace(end.job, shop=replace(end.job.shop, saws=(saw,))))


def saws(end: JobEnd, setup: EndSetup) -> SawsShown | None:
    """Every saw of the shop by itself; ``None`` where a hole saw cannot cut the end at all.

    ``setup`` is the end with the saw that is shown.
    """
    if setup.chop is not None:
        return None
    shop = end.job.shop
    kit = sorted(set(shop.saws or USUAL_KIT_MM))
    like = _Like((end.job.units, shop.depth, shop_limit(shop),
                  sawn_alike(end.piece, end.end) or end), end)
    alone = [(saw, _alone(like, saw)) for saw in kit]
    if all(one.sawn is None for _, one in alone):
        return None
    table = end_saws_table(alone, shop_limit(shop), shop.material)
    used = {one.setting.diameter for cut in setup.cuts for one in cut.passes}
    return SawsShown(table.head, table.note, table.columns, tuple(
        SawShown(f"{plain(saw)}mm", cells, saw in used)
        for saw, cells in zip(kit, table.rows, strict=True)))


@dataclass(frozen=True, slots=True)
class _Like:
    """An end, equal to every other that a saw cuts alike: a change elsewhere costs no search."""

    key: Hashable
    end: JobEnd = field(compare=False)


@lru_cache(maxsize=REMEMBERED)
def _alone(like: _Like, saw: float) -> EndSetup:
    return with_saw(like.end, saw).setup()
