"""Ends of tubes placed in space against the CAD kernel."""

import numpy as np
import pytest

from coper import shape_end
from coper.frame.end import make_cluster
from tests.frame import kernel
from tests.frame.specimens import random_cluster
from tests.specimens import BRANCHES, MAINS

SEEDS = range(24)


def check(tube, which, mains, seed):
    """Both surfaces at random clocks; returns how many generators met a main."""
    clocks = np.random.default_rng(seed).uniform(0, 360, 8)
    cluster, _ = make_cluster(tube, which, mains)
    met = 0
    for depth in (0.0, tube.shape.wall):
        theirs = kernel.alongs(tube, which, mains, clocks, depth)
        if which == "start":
            ours = cluster.entry(clocks, depth)
        else:
            ours = tube.length - cluster.entry(-clocks, depth)
        np.testing.assert_allclose(ours, theirs, rtol=0, atol=1e-6, err_msg=f"{tube} {mains}")
        met += np.isfinite(ours).sum()
    return met


@pytest.mark.parametrize("which", ["start", "end"])
@pytest.mark.parametrize("count", [1, 2, 3])
def test_an_end_on_several_mains_lies_where_the_kernels_lines_first_enter_one(count, which):
    met = sum(check(*cluster, seed) for seed, cluster in (
        (seed, (tube, which, mains)) for seed in SEEDS
        for tube, mains in [random_cluster(seed, which, count)]))
    assert met > len(SEEDS) * 12


@pytest.mark.parametrize("main", MAINS)
@pytest.mark.parametrize("branch", BRANCHES)
def test_every_branch_seats_by_both_ends_on_two_mains_of_every_kind(branch, main):
    for seed in range(4):
        for which in ("start", "end"):
            tube, mains = random_cluster(seed, which, 2, branch, main)
            check(tube, which, mains, seed)


@pytest.mark.parametrize("which", ["start", "end"])
def test_the_shaped_end_tells_the_same_edge_in_the_tubes_own_clock(which):
    for seed in SEEDS:
        tube, mains = random_cluster(seed, which, 2)
        end = shape_end(tube, which, mains)
        assert (np.diff(end.clock) > 0).all() and end.clock[0] >= 0 and end.clock[-1] < 360
        picked = np.random.default_rng(seed).integers(0, end.clock.size, 5)
        picked = picked[~_near_an_open_end(end, picked)]
        theirs = kernel.alongs(tube, which, mains, end.clock[picked])
        np.testing.assert_allclose(end.outer[picked], theirs, rtol=0, atol=1e-6)


def _near_an_open_end(end, picked):
    """At the very tip of an open stretch a generator is tangent: the kernel may miss it."""
    tips = np.array([tip for stretch in end.open for tip in stretch])
    return np.array([tips.size > 0 and np.abs(tips - end.clock[i]).min() < 1e-3 for i in picked],
                    dtype=bool)
