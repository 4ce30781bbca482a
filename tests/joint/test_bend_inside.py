"""A branch that comes to a bent main from the inside of its bend."""

import json

import numpy as np
import pytest

from coper import Bent, Joint, Round, Tapered
from coper.errors import JointError
from coper.joint.cautions import cautions
from tests import kernel
from tests.cli.run import run
from tests.specimens import BRANCHES, random_branch

HOOP = Bent(16, 110, 1.2)
ROUND_ABOUT = np.arange(0.0, 360.0, 15.0)


def inside(seed):
    """A branch of any shape from the inside of a bend, some larger than it and some to a side."""
    rng = np.random.default_rng([17, seed])
    branch = random_branch(BRANCHES[seed % len(BRANCHES)], rng)
    size = rng.uniform(12, 60)
    return Joint(branch, Bent(size, size / 2 + rng.uniform(30, 150)), rng.uniform(50, 130),
                 rng.uniform(-0.4, 0.4) * size, rng.uniform(-180, 180), rng.uniform(145, 215))


@pytest.mark.parametrize("seed", range(60))
def test_a_cope_inside_a_bend_lies_where_the_kernels_lines_leave_its_near_side(seed):
    joint = inside(seed)
    try:
        cope = joint.cope()
    except JointError as error:
        assert "no room" in str(error)
        return
    clocks = np.random.default_rng(seed).uniform(0, 360, 8)
    cope = cope.at(clocks)
    np.testing.assert_allclose(cope.outer, kernel.alongs(joint, clocks), rtol=0, atol=1e-6)
    np.testing.assert_allclose(
        cope.inner, kernel.alongs(joint, clocks, joint.branch.wall), rtol=0, atol=1e-6)


def test_most_of_those_joints_have_room_and_some_overhang():
    copes = []
    for seed in range(60):
        try:
            copes.append(inside(seed).cope())
        except JointError:
            continue
    assert len(copes) >= 40 and sum(bool(cope.open) for cope in copes) >= 5


@pytest.mark.parametrize("across", [0, 180])
@pytest.mark.parametrize(("branch", "angle", "offset"), [
    (Round(12, 1), 90, 0), (Round(12, 1), 60, 2), (Tapered(12, 22, 300, 1), 75, 0),
    (Round(20, 1), 90, 3)])
def test_a_cope_changes_little_by_little_as_the_bend_turns_past_the_branch(
        branch, angle, offset, across):
    turns = across + np.arange(-5.0, 5.25, 0.25)
    copes = np.stack([Joint(branch, HOOP, angle, offset, 0, turn).cope().at(ROUND_ABOUT).outer
                      for turn in turns])
    assert np.abs(copes[np.isfinite(copes)]).max() < 30  # the ring's other side is 220 mm away
    known = np.isfinite(copes).all(axis=0)
    assert known.sum() >= 12
    assert np.abs(np.diff(copes[:, known], axis=0)).max() < 0.1


def test_the_inside_of_a_wide_bend_is_met_as_a_straight_tube_is():
    straight = Joint(Round(12, 1), Round(16), 70, 1).cope().at(ROUND_ABOUT)
    bent = Joint(Round(12, 1), Bent(16, 5e6), 70, 1, main_turn=180).cope().at(ROUND_ABOUT)
    np.testing.assert_allclose(bent.outer, straight.outer, atol=1e-3)


def test_it_is_said_where_the_ring_comes_round_to_the_branch_again():
    said = cautions(Joint(Round(12, 1), HOOP, 90, main_turn=180).cope(), "bevelled")
    # Across the bend's centre: 220 mm, and the chord of the main's section at the branch's sides.
    assert f"again {220 + np.sqrt(8**2 - 6**2):.0f} mm up" in said[0]
    for turn in (0, 90, 170):
        said = cautions(Joint(Round(12, 1), HOOP, 90, main_turn=turn).cope(), "bevelled")
        assert not any("again" in caution for caution in said)


@pytest.mark.parametrize(("branch", "main", "angle"), [
    (Round(28, 1), Bent(30, 16), 90),  # the hole of the ring is 2 mm wide
    (Round(12, 1), HOOP, 15),          # steeper than the bend itself
])
def test_a_branch_without_room_on_the_inside_of_a_bend_is_refused(branch, main, angle):
    with pytest.raises(JointError, match="the bend has no room for the branch on its inside"):
        Joint(branch, main, angle, main_turn=180).cope()


def test_the_same_bend_from_its_outside_takes_a_branch_as_wide():
    assert Joint(Round(28, 1), Bent(30, 16), 90).cope().open == ()


@pytest.mark.parametrize("verb", ["joint", "fit", "saw", "tolerance", "regrind"])
def test_every_verb_refuses_it_in_one_line(verb):
    more = ("--gaps", "0=0.5,90=0.2,180=0,270=0.2") if verb == "regrind" else ()
    status, out, err = run(verb, "28 x 1", "30 bent to 16", "--angle", "90", "--main-turn", "180",
                           *more)
    assert (status, out) == (2, "") and err.count("\n") <= 1
    assert "no room" in err


@pytest.mark.parametrize("asked", [
    ("fit", "--cut", "square"), ("saw", "--process", "tig"), ("tolerance", "--limit", "1"),
    ("regrind", "--gaps", "0=0.5,45=0.4,90=0.2,135=0.1,180=0,225=0.1,270=0.2,315=0.4")])
def test_every_verb_answers_inside_a_bend_as_beside_it(asked, monkeypatch):
    """At 180 the whole ring stands in the branch's way, at 170 nothing does."""
    monkeypatch.setattr("coper.verbs.tolerance.JOINTS", 60)
    verb, *more = asked
    (status, clear), (beside_status, beside) = (
        run(verb, "12 x 1", "16 bent to 110", "--angle", "90", "--main-turn", turn, *more,
            "--json")[:2] for turn in ("180", "170"))
    assert status == beside_status
    clear, beside = (dict(_numbers(json.loads(text), "")) for text in (clear, beside))
    shared = sorted(clear.keys() & beside.keys())
    assert len(shared) >= 3
    np.testing.assert_allclose(
        [clear[key] for key in shared], [beside[key] for key in shared], atol=0.35)


def _numbers(record, path):
    """The single numbers of a record by their path, without the joint itself and clocks."""
    for key, value in record.items():
        if isinstance(value, dict) and key != "joint":
            yield from _numbers(value, f"{path}.{key}")
        elif isinstance(value, (int, float)) and "clock" not in key:
            yield f"{path}.{key}", float(value)
