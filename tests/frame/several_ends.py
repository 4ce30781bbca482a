"""Random ends on several mains as a bench makes them; their errors are known in the tube's axes.

The mains are moved as one rigid thing against the tube: tilted about the two axes square to it,
pushed aside two ways, and the tube turned in them. Nothing here knows which errors are looked for.
"""

from dataclasses import dataclass, field, replace

import numpy as np

from coper import CoperError, Round, Tapered, Tube, shape_end
from coper.frame.end import main_shares
from coper.frame.end_joint import end_joint
from coper.joint.cluster import Cluster, PlacedMain
from coper.joint.fit.face import Bevelled, Square
from coper.joint.fit.fit import seat
from coper.joint.fit.mount import Mounting
from coper.joint.regrind.regrind import regrind_face
from coper.shapes.pose import Pose
from tests.joint.regrind_ends import (
    LEAST_READ,
    MOST_OWN_MM,
    MOST_WAVE_MM,
    WORST_MM,
    End,
    own_gap,
    read,
    read_at,
)
from tests.specimens import BRANCHES, MAINS, random_branch, random_main

USUAL = (1.5, 0.7, 0.7, 0.5, 0.5)
"""Standard deviations of what a bench does wrong: turn and two tilts in degrees, two ways in mm."""
FRAME = (Round, Round, Round, Tapered)
"""What most frames have for mains."""
ANY = MAINS[:4]
"""Ovals and boxes as well."""
LEAST_SHARE = 0.2
"""Of an end that each of its mains takes."""


@dataclass(frozen=True)
class SeveralEnd(End):
    """An end with its mains as they stand."""

    home: Cluster = field(default=None)
    inside: tuple = ()

    def station(self, clock, depth):
        """Ground to the line on the outside, and bevelled to what is said for the inside."""
        off = 0.0
        for clocks, more in self.inside:
            within = np.clip(depth / self.cluster.wall(), 0, 1)
            mounted = np.asarray(clock) + self.errors.clock
            off = off + within * np.interp(mounted, clocks, more, period=360)
        return super().station(clock, depth) + off

    def after(self, found):
        """The end when the strip was followed, and the wall bevelled as it says."""
        end = super().after(found)
        clocks = end.ground[-1][0]
        more = found.inside(clocks) - found.at(clocks)
        return replace(end, inside=(*self.inside, (clocks, np.nan_to_num(more).clip(min=0))))

    def fit(self):
        return seat(self, self.home, self.errors.clock, 8)


def rotation(about):
    """The rotation (3, 3) about a vector of as many degrees as it is long."""
    angle = np.radians(np.linalg.norm(about))
    if angle == 0:
        return np.eye(3)
    x, y, z = about / np.linalg.norm(about)
    cross = np.array(((0, -z, y), (z, 0, -x), (-y, x, 0)))
    return np.eye(3) + np.sin(angle) * cross + (1 - np.cos(angle)) * cross @ cross


def moved(cluster, tilt, aside):
    """The mains tilted by two angles about the point of the end, and pushed two ways."""
    turn, step = rotation(np.array((*tilt, 0.0))), np.array((*aside, 0.0))
    return Cluster(cluster.branch, tuple(
        PlacedMain(one.shape, Pose(turn @ one.pose.origin + step, one.pose.axes @ turn.T))
        for one in cluster.mains))


def unit(rng):
    way = rng.normal(size=3)
    return way / np.linalg.norm(way)


def random_several(seed, kinds):
    """An end of any branch on two or three mains of some kinds, each of which takes its share."""
    rng = np.random.default_rng([11, seed])
    for _ in range(400):
        end = _tried(seed, rng, kinds)
        if end is not None:
            return end
    raise AssertionError(f"no end for seed {seed}")


def _tried(seed, rng, kinds):
    branch = random_branch(BRANCHES[seed % len(BRANCHES)], rng)
    which = ("start", "end")[rng.integers(2)]
    point, way = np.zeros(3), unit(rng)
    far = 140 * way
    tube = Tube(branch, *((point, far) if which == "start" else (far, point)), "branch",
                turn=rng.uniform(-180, 180))
    mains = []
    for number in range(rng.choice([2, 2, 3])):
        axis = unit(rng)
        if abs(axis @ way) > np.cos(np.radians(35)):
            return None
        at = rng.normal(0, 4, 3)
        mains.append(Tube(random_main(kinds[rng.integers(len(kinds))], rng),
                          at - 200 * axis, at + 200 * axis, f"main-{number}"))
    try:
        shaped = shape_end(tube, which, mains)
        cluster = shaped.cope.cluster
        shares = main_shares(cluster)
        if len(shares) < len(mains) or shares[-1][1] < LEAST_SHARE:
            return None
        square = rng.integers(3) == 0
        face = (Square if square else Bevelled)(cluster)
        turn, *motion = rng.normal(0, USUAL) * rng.choice([0, 1, 1])
        bumps = tuple((rng.uniform(0, 360), rng.uniform(35, 70), rng.uniform(-0.6, 0.9))
                      for _ in range(rng.integers(0, 3)))
        waves = tuple((order, rng.uniform(0, 360), rng.uniform(0, MOST_WAVE_MM))
                      for order in range(2, 2 + rng.integers(0, 3)))
        end = SeveralEnd(end_joint(tube, shaped), "square" if square else "bevelled", (), face,
                         Mounting(clock=turn), bumps, waves,
                         home=moved(cluster, motion[:2], motion[2:]))
        fit = end.fit()
        if fit.largest > WORST_MM or own_gap(end) > MOST_OWN_MM:
            return None
        if len(read(end, fit, rng)) < LEAST_READ:
            return None
    except CoperError:
        return None
    return end


def advised(end, fit, rng):
    """The advice on an end, after the clocks were read too that it asks for."""
    pairs = read(end, fit, rng)
    found = regrind_face(end.joint, end.face, end.cut, pairs)
    if not found.read_also:
        return found
    pairs += read_at(end, fit, rng, np.array(found.read_also))
    return regrind_face(end.joint, end.face, end.cut, pairs)


def rounds(seed, times=2, kinds=FRAME):
    """The largest gaps beyond what the cut leaves, before and after every round of advice."""
    end = random_several(seed, kinds)
    rng, own = np.random.default_rng(seed + 1), own_gap(end)
    fit = end.fit()
    gaps = [fit.largest - own]
    for _ in range(times):
        end = end.after(advised(end, fit, rng))
        fit = end.fit()
        gaps.append(fit.largest - own)
    return gaps
