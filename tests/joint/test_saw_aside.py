"""Saws moved sideways, pairs on any section, slivers: held against trying everything."""

from dataclasses import replace

import numpy as np
import pytest

from coper import Box, CoperError, Joint, Oval, Round
from coper.joint.fit.face import pass_face
from coper.joint.fit.fit import seat
from coper.joint.fit.passes import Pass
from coper.joint.saw.kit import USUAL_KIT_MM, WORTH_MM, choose_saws
from tests.profiles import seeds
from tests.specimens import BRANCHES, MAINS, random_pair

OVAL = Joint(Round(28.6, 0.9), Oval(40, 32), 62, main_turn=20)
WIDE = Joint(Round(28.6, 0.9), Round(25.4), 62)


def gap(joint, *passes):
    """The largest gap in mm of a cut that is pushed home, wherever that is."""
    return seat(pass_face(joint, passes), joint.cluster(), points=72).largest


def tried(joint, diameter, offsets):
    """The least gap in mm of one saw, set at each of the offsets."""
    found = []
    for offset in offsets:
        face = pass_face(joint, (Pass(diameter, offset, 0.0),))
        if not np.isnan(face.station(np.arange(0.0, 360, 5), np.zeros(1))).any():
            found.append(gap(joint, Pass(diameter, offset, 0.0)))
    return min(found, default=np.inf)


def test_on_a_turned_oval_a_saw_moved_sideways_leaves_an_eighth_of_the_gap():
    best = choose_saws(OVAL, (44.45,), enough=0.35).choices[0]
    assert best.aside == pytest.approx(-2.14, abs=0.02)
    assert best.fit.largest == pytest.approx(0.31, abs=0.01)
    assert best.level == pytest.approx(2.55, abs=0.01)
    assert gap(OVAL, Pass(44.45, best.setting.offset, 0.0)) == pytest.approx(best.fit.largest,
                                                                            abs=1e-6)


def test_a_mirrored_joint_has_its_saw_moved_to_the_other_side():
    mirrored = replace(OVAL, main_turn=-20)
    one, other = (choose_saws(joint, (44.45,), enough=0.35).choices[0]
                  for joint in (OVAL, mirrored))
    assert one.aside < -1 and other.aside == pytest.approx(-one.aside, abs=0.02)


@pytest.mark.parametrize("seed", seeds(6))
def test_no_saw_of_the_kit_set_anywhere_beside_the_main_does_better(seed):
    # Prismatic branches: the dense grid costs a fit-up a place. In a search ten times as many.
    rng = np.random.default_rng(seed)
    branch, main = (Round, Oval, Box)[seed % 3], MAINS[seed // 3 % len(MAINS)]
    joint = replace(random_pair(branch, main, seed), offset=rng.uniform(-6, 6))
    assert branch in BRANCHES
    try:
        kit = choose_saws(joint, depth=500, enough=0.0)
    except CoperError:
        return
    best = kit.choices[0]
    saws = rng.choice(USUAL_KIT_MM, 3)
    for diameter in saws:
        least = tried(joint, diameter, joint.offset + np.linspace(-12, 12, 17))
        assert best.fit.largest <= least + WORTH_MM


def test_what_is_harder_to_set_has_to_be_worth_it():
    # A matching saw leaves nothing: no other way is looked for.
    easy = choose_saws(Joint(Round(28.6, 0.9), Round(38.1), 62, 3), enough=0.3)
    assert not any(one.aside or one.passes[1:] or one.slivers for one in easy.choices)
    joint = Joint(Round(28.6, 0.9), Round(36), 62, 3)
    for choice in choose_saws(joint, enough=0.0).choices:
        if choice.aside:
            assert choice.level - choice.fit.largest >= WORTH_MM
    single = next(one for one in choose_saws(joint, (38.1,), enough=0.0).choices
                  if len(one.passes) == 1)
    assert (single.level, single.fit.largest) == (pytest.approx(0.64, abs=0.01),
                                                  pytest.approx(0.41, abs=0.01))


def test_on_a_main_that_is_not_round_two_passes_need_not_be_even_sided():
    two = choose_saws(OVAL, enough=0.0).choices[0]
    assert len(two.passes) == 2 and two.fit.largest < 0.2
    off = [one.offset for one in two.passes]
    assert abs(sum(off)) > 1  # both on one side of the tube's axis


def test_a_matching_saw_that_is_too_narrow_is_offered_with_the_clocks_to_file():
    # Derived: a generator r sin(clock) off the axis misses a saw of 12.7 mm radius beyond
    # asin(12.7 / 14.3) = 62.64 degrees.
    edge = np.degrees(np.arcsin(12.7 / 14.3))
    best = choose_saws(WIDE, enough=0.3).choices[0]
    assert best.setting.diameter == 25.4 and best.fit.largest < 1e-6
    assert best.slivers == (pytest.approx((edge, 180 - edge), abs=1e-6),
                            pytest.approx((180 + edge, 360 - edge), abs=1e-6))
    assert not best.setting.covers
    # a saw that leaves more than a file takes is none; nor is one looked for without a limit
    assert all(one.setting.diameter >= 25.4 for one in choose_saws(WIDE, enough=0.3).choices)
    assert not any(one.slivers for one in choose_saws(WIDE).choices)


def test_a_sliver_on_one_side_only_is_named_on_that_side():
    for side in (1, -1):
        joint = replace(WIDE, main=Round(38.1), offset=side * 6)
        slivers = choose_saws(joint, (38.1, 60), enough=0.3).choices[0].slivers
        middle = [(start + end) / 2 for start, end in slivers]
        # the branch stands off the main's axis: what lies furthest from it is not reached
        assert middle == [pytest.approx(90 if side > 0 else 270, abs=1e-6)]
