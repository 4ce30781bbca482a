"""The cope against a CAD kernel (Open CASCADE), on random joints."""

import numpy as np
import pytest

from coper import Joint, Round
from tests import kernel
from tests.specimens import BRANCHES, MAINS, random_joint, random_pair

SEEDS = range(240)
PAIR_SEEDS = range(20)
SECTION_SEEDS = range(24)


@pytest.mark.parametrize("seed", SEEDS)
def test_a_cope_lies_where_the_kernels_lines_enter_the_main(seed):
    joint = random_joint(seed)
    clocks = np.random.default_rng(seed).uniform(0, 360, 10)
    wall = joint.branch.wall
    cope = joint.cope().at(clocks)
    np.testing.assert_allclose(cope.outer, kernel.alongs(joint, clocks), rtol=0, atol=1e-6)
    np.testing.assert_allclose(
        cope.inner, kernel.alongs(joint, clocks, wall), rtol=0, atol=1e-6)


@pytest.mark.parametrize("main", MAINS)
@pytest.mark.parametrize("branch", BRANCHES)
def test_every_branch_copes_every_main_where_the_kernels_lines_enter_it(branch, main):
    met = 0
    for seed in PAIR_SEEDS:
        joint = random_pair(branch, main, seed)
        clocks = np.random.default_rng(seed).uniform(0, 360, 6)
        cluster = joint.cluster()
        for depth in (0.0, joint.branch.wall):
            ours = cluster.entry(clocks, depth)
            np.testing.assert_allclose(
                ours, kernel.alongs(joint, clocks, depth), rtol=0, atol=1e-6, err_msg=str(joint))
            met += np.isfinite(ours).sum()
    assert met >= len(PAIR_SEEDS) * 6


def test_a_third_of_the_random_joints_overhang():
    overhanging = [seed for seed in SEEDS if random_joint(seed).cope().open]
    assert len(overhanging) >= 40


@pytest.mark.parametrize("seed", SECTION_SEEDS)
def test_every_point_of_the_kernels_boolean_section_lies_on_one_of_the_two_edges(seed):
    joint = random_joint(3 * seed + 1)
    shape = kernel.section(kernel.branch_solid(joint), kernel.main_solid(joint))
    clock, along = kernel.branch_frame(joint, kernel.edge_points(shape))
    upper = along > joint.cope().long_point.along - 1e-3
    assert upper.sum() >= 20
    cope = joint.cope().at(clock[upper])
    lower = joint_seen_from_behind(joint, clock[upper])
    off = np.minimum(np.abs(cope.outer - along[upper]), np.abs(lower - along[upper]))
    assert off.max() < 2e-3  # between its own points the kernel draws a spline, good to this
    assert np.sort(off)[:2].max() < 1e-9  # at the ends of that spline it is exact

def joint_seen_from_behind(joint, clock):
    """Where the generators leave the main again: the cope of the branch's other half."""
    mirrored = Joint(joint.branch, joint.main, 180 - joint.angle, joint.offset, joint.turn)
    return -mirrored.cope().at(clock).outer


def test_the_square_cut_is_the_furthest_up_of_the_kernels_lines_through_the_wall():
    for seed in range(30):
        joint = random_joint(seed)
        clocks = np.random.default_rng(seed).uniform(0, 360, 4)
        template = joint.cope().at(clocks).template("square")
        depths = np.linspace(0, joint.branch.wall, 15)
        alongs = np.stack([kernel.alongs(joint, clocks, depth) for depth in depths])
        highest = np.where(np.isnan(alongs).all(axis=0), np.nan,
                           np.nan_to_num(alongs, nan=-np.inf).max(axis=0))
        known = ~np.isnan(highest)
        assert (template.y[known] >= highest[known] - 1e-6).all()
        assert (template.y[known] <= highest[known] + joint.branch.wall * 0.2).all()


def test_a_joint_of_solid_numbers_matches_the_kernel_at_the_four_sides():
    joint = Joint(Round(28.6, 0.9), Round(38.1), 62, 3)
    clocks = np.array([0.0, 90.0, 180.0, 270.0])
    np.testing.assert_allclose(
        joint.cope().at(clocks).outer, kernel.alongs(joint, clocks), rtol=0, atol=1e-9)
