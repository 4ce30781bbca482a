"""Laws that every joint of two round tubes obeys."""

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from coper import Joint, Round
from coper.joint.edge import even_clocks

sizes = st.floats(5, 160)
angles = st.floats(12, 168)
shares = st.floats(-0.95, 0.95)
clocks = even_clocks(72)


@st.composite
def joints(draw):
    branch, main = draw(sizes), draw(sizes)
    offset = draw(shares) * (branch + main) / 2
    return Joint(Round(branch, branch / 12), Round(main), draw(angles), offset)


def same(one, other, scale=1.0):
    """Equal where both are well clear of a tangent; the root there has no digits to compare."""
    np.testing.assert_array_equal(np.isnan(one), np.isnan(other))
    np.testing.assert_allclose(one, other, rtol=0, atol=2e-6 * scale)


def clear_of_tangents(joint):
    r, big = joint.branch.diameter / 2, joint.main.diameter / 2
    away = np.abs(np.abs(joint.offset + r * np.sin(np.radians(clocks))) - big)
    return away.min() > 1e-6


def at(joint, clock=clocks):
    return joint.cluster().entry(clock)


@given(joints())
def test_the_check_formula_of_two_cylinders_holds(joint):
    assume(clear_of_tangents(joint))
    r, big = joint.branch.diameter / 2, joint.main.diameter / 2
    angle, c = np.radians(joint.angle), np.radians(clocks)
    inside = big**2 - (joint.offset + r * np.sin(c)) ** 2
    root = np.sqrt(np.where(inside < 0, np.nan, inside))
    same(at(joint), (root + r * np.cos(c) * np.cos(angle)) / np.sin(angle))


@given(joints())
def test_the_mirrored_offset_mirrors_the_clock(joint):
    assume(clear_of_tangents(joint))
    mirrored = Joint(joint.branch, joint.main, joint.angle, -joint.offset)
    same(at(mirrored), at(joint, (-clocks) % 360))


@given(joints())
def test_swapping_the_mains_ends_turns_the_cope_half_round_and_mirrors_it(joint):
    assume(clear_of_tangents(joint))
    swapped = Joint(joint.branch, joint.main, 180 - joint.angle, joint.offset)
    same(at(swapped), at(joint, (180 - clocks) % 360))


@given(joints(), st.floats(0.2, 5))
def test_scaling_the_joint_scales_the_cope(joint, scale):
    assume(clear_of_tangents(joint))
    scaled = Joint(
        Round(joint.branch.diameter * scale, joint.branch.wall * scale),
        Round(joint.main.diameter * scale), joint.angle, joint.offset * scale)
    same(at(scaled), scale * at(joint), scale)


@given(joints(), st.floats(-360, 360))
def test_turning_the_branch_only_shifts_the_curve(joint, turn):
    # Apostol and Mnatsakanian (2007), Theorem 3.
    turned = Joint(joint.branch, joint.main, joint.angle, joint.offset, turn=turn)
    assume(clear_of_tangents(joint))
    same(at(turned, (clocks - turn) % 360), at(joint))


@given(joints())
def test_turning_a_round_main_changes_nothing(joint):
    assume(clear_of_tangents(joint))
    turned = Joint(joint.branch, joint.main, joint.angle, joint.offset, main_turn=77, main_at=31)
    same(at(turned), at(joint))
    one, other = joint.cope().footprint(), turned.cope().footprint()
    if one.x.shape == other.x.shape:
        np.testing.assert_allclose(np.nanmax(one.arc), np.nanmax(other.arc), rtol=0, atol=1e-3)


def spans(cope):
    """Clocks of each stretch that is not open, crowding towards its ends."""
    share = (1 - np.cos(np.linspace(0, np.pi, 6001))) / 2
    if not cope.open:
        yield 360 * share
    for (_, low), (high, _) in zip(cope.open, cope.open[1:] + cope.open[:1], strict=True):
        yield low + ((high - low) % 360) * share


@given(joints())
def test_the_footprint_is_as_long_as_the_edge(joint):
    # "Sheet and Plate Metal Work", Tee Piece with Unequal Pipes: the book's own test of the work.
    cope = joint.cope()
    total = 0.0
    for clock in spans(cope):
        footprint = cope.at(clock).footprint()
        total += np.nansum(np.hypot(np.diff(footprint.x), np.diff(footprint.arc)))
    assert cope.edge_length == pytest.approx(total, rel=1e-4)


@given(joints())
def test_the_long_and_the_short_point_bound_the_edge(joint):
    cope = joint.cope()
    assert cope.long_point.along <= np.nanmin(cope.outer) + 1e-7
    assert cope.short_point.along >= np.nanmax(cope.outer) - 1e-7
    for point in (cope.long_point, cope.short_point):
        np.testing.assert_allclose(cope.at(np.array([point.clock])).outer, point.along, atol=1e-6)


@given(joints())
def test_open_stretches_are_where_the_generators_pass_the_main(joint):
    cope = joint.cope()
    r, big = joint.branch.diameter / 2, joint.main.diameter / 2
    for start, stop in cope.open:
        for end in (start, stop):
            reach = abs(joint.offset + r * np.sin(np.radians(end)))
            assert reach == pytest.approx(big, abs=1e-6)
            assert np.isfinite(cope.at(np.array([end])).outer).all()
        middle = start + ((stop - start) % 360) / 2
        assert np.isnan(cope.at(np.array([middle % 360])).outer).all()


@given(joints())
def test_a_square_cut_clears_both_edges(joint):
    cope = joint.cope()
    square = cope.template("square").y
    for edge in (cope.outer, cope.inner):
        known = ~np.isnan(edge)
        assert (square[known] >= edge[known] - 1e-9).all()


@given(joints())
def test_the_template_wraps_back_onto_the_edge(joint):
    cope = joint.cope()
    template = cope.template(paper=0.3)
    clock = template.x / template.width * 360
    np.testing.assert_allclose(clock, cope.clock, atol=1e-9)
    same(template.y, cope.outer)
