r"""A saw for one of an end's several mains: judged on the share of the end that seats on it.

::

    along |  saw  .--.   other main        the saw is moved along the tube until, on its share,
          | \.--'/    \  .'\               the seated end is where the design puts it; what the
          |  share     `'   \              other mains take counts as trimmed away
          +------------------------ clock
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import Self

import numpy as np
from numpy.typing import NDArray

from coper.arrays import Floats, Whole
from coper.errors import JointError
from coper.joint.cluster import Cluster
from coper.joint.cope import make_cope
from coper.joint.edge import STEPS, even_clocks, merged
from coper.joint.fit.face import pass_face, raised
from coper.joint.fit.fit import Fit
from coper.joint.fit.grid import break_clocks
from coper.joint.fit.passes import Pass
from coper.joint.joint import Joint
from coper.joint.saw.place import moved_home
from coper.joint.saw.setting import MOST_SIDES, SawSetting, make_setting, too_shallow
from coper.tolerances import EVEN_MM


@dataclass(frozen=True, slots=True)
class Share:
    """The face that one saw leaves of an end: only where that saw's main is the end's.

    Attributes
    ----------
    cluster : Cluster
        The branch, and the saw in the main's place.
    whole : Cluster
        The branch and all its mains.
    main : int
        Which of them the saw stands for.
    """

    cluster: Cluster
    whole: Cluster
    main: int

    def station(self, clock: Floats, depth: Floats) -> Floats:
        """Where (...,) in mm each generator of the share enters the saw; ``nan`` off the share."""
        return np.where(self.has(clock, depth), self.cluster.entry(clock, depth), np.nan)

    def of(self, chosen: Whole) -> Share:
        """The share itself: it is one for all."""
        return self

    def raised(self, by: Floats) -> Self:
        """The same share of a saw that stands ``by`` mm further up the tube."""
        return replace(self, cluster=raised(self.cluster, by))

    def has(self, clock: Floats, depth: Floats) -> NDArray[np.bool_]:
        """Whether (...,) each generator meets the main before all others."""
        won: NDArray[np.bool_] = (
            self.whole.winner(clock, self.whole.entry(clock, depth), depth) == self.main)
        return won

    def covered(self) -> bool:
        """Whether the saw cuts the whole share, outside and inside, to its very ends."""
        clock = merged(even_clocks(STEPS), break_clocks(self.whole))
        depth = np.array(((0.0,), (self.whole.wall(),)))
        return not (self.has(clock, depth) & np.isnan(self.cluster.entry(clock, depth))).any()


def choose_for_share(
    joint: Joint, whole: Cluster, main: int, kit: Sequence[float], near: Sequence[float],
    long: float, depth: float,
) -> SawSetting:
    """The setting of the saw that leaves the smallest gap on one main's share.

    Parameters
    ----------
    joint
        The end on that main alone.
    whole
        The end with all its mains, placed from the foot of ``joint``.
    main
        Which of them.
    kit : sequence of float, mm
        Diameters of all saws.
    near : sequence of float, mm
        Those of the kit that leave the least open. The rest are tried only where none of these
        cuts the share, or one is too shallow.
    long : float, mm
        Along of the finished end's long point, from the same foot.
    depth : float, mm
        How deep they cut.

    Raises
    ------
    JointError
        Where no saw of the kit cuts the whole share, or none is deep enough.
    """

    def settings(saws: Iterable[float]) -> list[tuple[SawSetting, float]]:
        placed = (_placed(joint, whole, main, diameter) for diameter in saws)
        return [(_setting(joint, cut, fit, long, depth), fit.largest)
                for cut, fit in placed if fit is not None]

    tried = settings(near)
    if not tried or not all(setting.depth_ok for setting, _ in tried):
        tried += settings(saw for saw in kit if saw not in near)
    if not tried:
        raise JointError("no saw of the kit cuts the whole of its share",
                         "take one as large as the main, or use the template")
    best = min(tried, key=_rank)[0]
    if not best.reaches:
        raise too_shallow(best.depth_needed, depth)
    return best


def _rank(tried: tuple[SawSetting, float]) -> tuple[int, float, float]:
    """Deep enough first, then by the gap; of equal gaps the smaller saw."""
    setting, gap = tried
    return min(setting.sides, MOST_SIDES + 1), round(gap / EVEN_MM), setting.diameter


def _placed(
    joint: Joint, whole: Cluster, main: int, diameter: float
) -> tuple[Pass, Fit | None]:
    """The saw moved along the branch until the end slides no more; no fit if it is too small."""
    alone = Cluster(whole.branch, (whole.mains[main],))
    cut = Pass(diameter, joint.offset, 0.0)
    face = Share(pass_face(joint, (cut,)).cluster, whole, main)
    if not face.covered():
        return cut, None
    by, moved, fit = moved_home(face, alone, break_clocks(alone))
    return cut.raised(by), fit if moved.covered() else None


def _setting(joint: Joint, cut: Pass, fit: Fit, long: float, depth: float) -> SawSetting:
    setting = make_setting(joint, make_cope(fit.face.cluster), cut, long, depth)
    return replace(setting, covers=True)  # the whole of its share
