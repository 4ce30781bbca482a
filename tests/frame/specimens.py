"""Random tubes in space, seeded: a branch, and mains that pass near one of its ends."""

import math

import numpy as np

from coper import Bent, Plate, Tube
from tests.specimens import BRANCHES, MAINS, random_branch, random_main


def direction(rng):
    vector = rng.normal(size=3)
    return vector / np.linalg.norm(vector)


def random_tube(rng, kind=None):
    """A branch of bench sizes anywhere in space."""
    shape = random_branch(kind or BRANCHES[rng.integers(len(BRANCHES))], rng)
    start = rng.uniform(-300, 300, 3)
    length = getattr(shape, "length", 500) * rng.uniform(0.8, 0.95)
    return Tube(shape, start, start + length * direction(rng), "branch",
                  turn=rng.uniform(-180, 180))


def main_at(rng, tube, which, name, kind=None):
    """A main at a slant to the tube, its axis passing the end's point by a few mm."""
    kind = kind or MAINS[rng.integers(len(MAINS))]
    point = tube.start if which == "start" else tube.end
    away = (tube.end - tube.start) / tube.length * (1 if which == "start" else -1)
    across = np.cross(away, direction(rng))
    across /= np.linalg.norm(across)
    slant = math.radians(rng.uniform(40, 140))
    axis = math.cos(slant) * away + math.sin(slant) * across
    middle = point + rng.uniform(-4, 4, 3)
    if kind is Bent:
        return _bend(rng, middle, axis, away, name)
    shape = random_main(kind, rng)
    length = rng.uniform(120, 300)
    start = middle - length * rng.uniform(0.3, 0.7) * axis
    turn = rng.uniform(-180, 180)
    if kind is Plate:  # its face towards the branch, give or take
        turn = turn_towards(Tube(shape, start, start + length * axis), away)
        turn += rng.uniform(-30, 30)
    return Tube(shape, start, start + length * axis, name, turn=turn)


def _bend(rng, crown, axis, away, name):
    """An arc of 90 to 140 degrees through ``crown``, its outside or its inside to the branch."""
    radius = rng.uniform(100, 200)
    shape = Bent(rng.uniform(20, 45), radius)
    half = math.radians(rng.uniform(45, 70))
    out = away - (away @ axis) * axis
    out *= rng.choice((1, -1)) / np.linalg.norm(out)
    middle = crown - radius * (1 - math.cos(half)) * out
    step = radius * math.sin(half) * axis
    tube = Tube(shape, middle - step, middle + step, name)
    turn = turn_towards(tube, out) + rng.uniform(-15, 15)
    return Tube(shape, tube.start, tube.end, name, turn=turn)


def turn_towards(tube, way):
    """The turn that brings the tube's clock 90 to face ``way``."""
    first, second, _ = tube.pose.axes
    return math.degrees(math.atan2(way @ second, way @ first)) - 90


def random_cluster(seed, which, count, branch=None, main=None):
    rng = np.random.default_rng([seed, count, which == "end"])
    tube = random_tube(rng, branch)
    return tube, [main_at(rng, tube, which, f"main-{n}", main) for n in range(count)]
