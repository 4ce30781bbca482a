"""One end of a placed tube: coped to its mains, or cut off plain."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from functools import lru_cache, partial
from typing import Protocol

import numpy as np

from coper.arrays import Floats, Number, OneLine, Whole
from coper.errors import JointError, check_choice
from coper.frame.flat_cut import FlatCut
from coper.frame.placing import place_main, stand_between
from coper.frame.stance import Stance, make_stance
from coper.frame.tube import ENDS, REMEMBERED, Tube, Which
from coper.joint.bend_inside import comes_round
from coper.joint.cautions import joint_cautions
from coper.joint.cluster import Cluster
from coper.joint.cope import Cope, EdgePoint, make_cope
from coper.joint.edge import STEPS, even_clocks, merged
from coper.joint.template import CUTS, Cut, cut_line
from coper.search import lowest_round
from coper.shapes.plate import Plate
from coper.shapes.pose import Pose
from coper.shapes.words import tube_words, walled_example
from coper.tolerances import OVERRUN_MM
from coper.units import format_size


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class TubeEnd(OneLine):
    """A shaped end, in the tube's own clock and in mm from its start point.

    Attributes
    ----------
    which : ``start`` or ``end``
    cut : ``bevelled``, ``square``, ``flat`` or ``plain``
    clock : (n,) float, degrees
    outer, inner : (n,) float, mm
        The outside and the inside edge; ``nan`` where they miss every main.
    main : (n,) int
        Which of ``mains`` the outside meets, -1 where it misses them all.
    open : tuple of (from, to), degrees
        Stretches where the outside misses every main.
    long_point, short_point : EdgePoint
        Of the line to cut on the outside: furthest out, and furthest back towards the body.
    reach : float, mm
        The furthest out that the outside or the inside goes: where the blank has to begin or end.
    mains : tuple of Tube
    stances : tuple of Stance
        One a main.
    cautions : tuple of str
    cope : Cope or None
        The cope as this end sees it; ``None`` where it is plain.
    flat : FlatCut or None
        Where the end is mitred or cut along a face: its only main is that plane then.
    cap : float, mm
        Thickness of the plate that closes it; 0 where it stays open.
    """

    which: Which
    cut: str
    clock: Floats
    outer: Floats
    inner: Floats
    main: Whole
    open: tuple[tuple[float, float], ...]
    long_point: EdgePoint
    short_point: EdgePoint
    reach: float
    mains: tuple[Tube, ...] = ()
    stances: tuple[Stance, ...] = ()
    cautions: tuple[str, ...] = ()
    cope: Cope | None = field(default=None, repr=False)
    flat: FlatCut | None = None
    cap: float = 0.0

    @property
    def cope_cut(self) -> Cut:
        """How the wall is cut at a cope: a flat cut follows its plane, as a bevelled one does."""
        return "square" if self.cut == "square" else "bevelled"

    def edge_at(self, clock: Floats) -> Floats:
        """The outside edge (...,) in mm at clocks in degrees, open stretches bridged."""
        edge: Floats = np.interp(clock % 360, *_once_round(self))
        return edge


@lru_cache(maxsize=2 * REMEMBERED)
def _once_round(end: TubeEnd) -> tuple[Floats, Floats]:
    """The clocks (n,), rising, at which the outside edge is known, and where it is (n,).

    The last stands before the first once more, and the first behind the last: any clock of a turn
    is between two. A search for the nearest place asks hundreds of times.
    """
    known = np.isfinite(end.outer)
    clock = end.clock[known] % 360
    order = np.argsort(clock)
    clock, edge = clock[order], end.outer[known][order]
    return (np.concatenate((clock[-1:] - 360, clock, clock[:1] + 360)),
            np.concatenate((edge[-1:], edge, edge[:1])))


def plain_end(tube: Tube, which: Which, back: float = 0.0) -> TubeEnd:
    """The end cut off across the axis, ``back`` mm short of its point."""
    check_choice(which, ENDS, "which")
    along = back if which == "start" else tube.length - back
    clock, edge = even_clocks(STEPS), np.full(STEPS, along)
    point = EdgePoint(0.0, along)
    return TubeEnd(which, "plain", clock, edge, edge, np.full(STEPS, -1), (), point, point, along)


def shape_end(
    tube: Tube, which: Which, mains: Sequence[Tube], cut: Cut = "bevelled"
) -> TubeEnd:
    """The end coped to one or more mains, each at its own place; the furthest cut wins.

    Raises
    ------
    WordsError
        Where ``which`` or ``cut`` is another word.
    JointError
        Where the tube meets none of them, or runs along one of them.
    """
    check_choice(which, ENDS, "which")
    check_choice(cut, CUTS, "cut")
    stances = tuple(make_stance(tube, which, main) for main in mains)
    cluster, pose = make_cluster(tube, which, mains)
    cope = make_cope(cluster)
    clock, along = own_ways(tube, which)
    order = np.argsort(clock(cope.clock))
    long_point, short_point, reach = _extremes(cope, cut)
    return TubeEnd(
        which, cut, clock(cope.clock)[order], along(cope.outer)[order], along(cope.inner)[order],
        cope.main[order], _own_open(cope, which),
        EdgePoint(clock(long_point.clock), along(long_point.along)),
        EdgePoint(clock(short_point.clock), along(short_point.along)),
        along(reach), tuple(mains), stances,
        tuple(_cautions(tube, which, cope, pose, mains, cut)), cope)


def make_cluster(tube: Tube, which: Which, mains: Sequence[Tube]) -> tuple[Cluster, Pose]:
    """The branch as its end sees it with its mains, and where its frame stands."""
    if not mains:
        raise JointError("seats on nothing", "name a main, or cut the end plain", which)
    shape, pose = tube.seen_from(which)
    if shape.wall is None:
        raise JointError(f"{tube_words(shape)} has no wall",
                         f"say its wall thickness, such as {walled_example(shape)}", tube.name)
    return Cluster(shape, tuple(
        place_main(main, between, tube, pose)
        for main, between in zip(mains, stand_between(mains), strict=True))), pose


class Way(Protocol):
    """From an end's own numbers to the tube's."""

    def __call__(self, value: Number, /) -> Number:
        """One number, or an array of them."""


def own_ways(tube: Tube, which: Which) -> tuple[Way, Way]:
    """From an end's own clock and along to the tube's."""
    if which == "start":
        return partial(counted, which), lambda along: along
    length = tube.length
    return partial(counted, which), lambda along: length - along


def counted(which: Which, clock: Number) -> Number:
    """Clocks of an end's own cope, degrees, as the tube counts them; the same back again."""
    return clock if which == "start" else -clock % 360 % 360


def main_shares(whole: Cluster) -> list[tuple[int, float]]:
    """The mains that take part and their shares of the way round, 0 to 1, the largest first."""
    clock = even_clocks(STEPS)
    winner = whole.winner(clock, whole.entry(clock))
    shares = [(index, float((winner == index).mean())) for index in range(len(whole.mains))]
    return sorted((found for found in shares if found[1] > 0), key=lambda found: -found[1])


def cut_along(tube: Tube, end: TubeEnd, clock: Floats, depth: float = 0.0) -> Floats:
    """Where an end is cut (n,), mm from the tube's start point, at its clocks (n,), degrees.

    ``depth`` is in mm inside the skin; ``nan`` where the end is open.
    """
    if end.cope is None:
        return np.full(clock.shape, end.reach)
    return own_ways(tube, end.which)[1](end.cope.cluster.entry(counted(end.which, clock), depth))


def _own_open(cope: Cope, which: Which) -> tuple[tuple[float, float], ...]:
    if which == "start":
        return cope.open
    return tuple(sorted((-end % 360, -start % 360) for start, end in cope.open))


def _extremes(cope: Cope, cut: Cut) -> tuple[EdgePoint, EdgePoint, float]:
    """Long and short point of the line to cut, and the furthest out of outside and inside."""
    if cut == "bevelled":
        wall = cope.cluster.wall()
        clocks = merged(even_clocks(STEPS), cope.inner_breaks.all)
        inner = cope.inner
        within = (lowest_round(lambda c: cope.cluster.entry(c, wall), clocks)[1]
                  if np.isfinite(inner).any() else np.inf)
        long_point = cope.long_point
        return long_point, cope.short_point, min(long_point.along, within)
    clocks = merged(even_clocks(STEPS), cope.breaks.all, cope.inner_breaks.all)
    low = EdgePoint(*lowest_round(lambda c: cut_line(cope.cluster, c, cut), clocks))
    clock, high = lowest_round(lambda c: -cut_line(cope.cluster, c, cut), clocks)
    return low, EdgePoint(clock, -high), low.along


def _cautions(
    tube: Tube, which: Which, cope: Cope, pose: Pose, mains: Sequence[Tube], cut: Cut
) -> Iterator[str]:
    clock, _ = own_ways(tube, which)
    own = replace(cope, clock=clock(cope.clock), open=_own_open(cope, which))
    yield from joint_cautions(own, cut)
    points = pose.outward(cope.points)
    for index, main in enumerate(mains):
        won = cope.main == index
        if not won.any():
            yield f"{main.label} takes no part: the tube meets the other mains first all round."
            continue
        yield from _overruns(main, points[won])


def met_again(tube: Tube, end: TubeEnd) -> Iterator[tuple[Tube, Floats, Floats]]:
    """Each main with the clocks (n,) and alongs (n,) in mm where it comes round to ``tube`` again.

    Both are the tube's own, the alongs ``nan`` where it does not: only a bend may.
    """
    if end.cope is None:
        return
    cope, (clock, along) = end.cope, own_ways(tube, end.which)
    for index, main in enumerate(end.mains):
        again = along(comes_round(cope.cluster, index, cope.clock, cope.outer))
        yield main, clock(cope.clock), again


def past_edges(main: Tube, points: Floats) -> dict[str, Floats]:
    """How far (n,) in mm points (n, 3) of the frame are past the two edges of a plate.

    Below 0 on it; nothing of another main, or where the width is not known. Left and right are as
    one looks from its start to its end, its face up.
    """
    if not isinstance(main.shape, Plate) or main.shape.width is None:
        return {}
    across, half = main.pose.inward(points)[..., 0], main.shape.width / 2
    return {"left edge": across - half, "right edge": -across - half}


def _overruns(main: Tube, points: Floats) -> Iterator[str]:
    """How far a footprint (n, 3), mm, runs past its main's two points or edges, and how much."""
    station = main.station(points)
    for end, past in {"start point": -station, "end point": station - main.length,
                      **past_edges(main, points)}.items():
        if past.max() > OVERRUN_MM:
            name = main.label
            share = max(round(100 * float((past > OVERRUN_MM).mean())), 1)
            open_share = f"{share}% of the edge has nothing to be welded to."
            more = "wider" if end.endswith("edge") else "longer"
            cure = (f"{name} stands already: {open_share}" if main.existing else
                    f"leave {name} so much {more} there, or {open_share}")
            yield (f"The footprint on {name} runs {format_size(round(float(past.max()), 2))} past "
                   f"{name}'s {end}: {cure}")
