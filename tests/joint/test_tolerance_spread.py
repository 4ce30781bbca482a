"""What gaps to expect of many joints, against distributions that are known."""

from dataclasses import asdict, replace
from itertools import pairwise

import numpy as np
import pytest
from scipy.stats import norm

from coper import Joint, Plate, Round
from coper.errors import JointError
from coper.joint.tolerance.gap_batch import gap_batch
from coper.joint.tolerance.spread import JOINTS, Scatter, drawn, spread
from coper.joint.tolerance.tolerance import UNITS

JOINT = Joint(Round(28.6, 0.9), Round(38.1), 62, 3)
FLAT = Joint(Round(30, 1), Plate(6), 90)
NONE = Scatter(0, 0, 0, 0, 0)
FEW = 300


def test_the_errors_scatter_as_was_asked_and_each_on_its_own():
    scatter = Scatter(0.4, 2.0, 0.3, 0.07, 0.6)
    errors = asdict(drawn(scatter, 3, JOINTS))
    for thing in UNITS:
        assert errors[thing].std() == pytest.approx(getattr(scatter, thing), rel=0.03)
        assert abs(errors[thing].mean()) < 4 * getattr(scatter, thing) / np.sqrt(JOINTS)
    together = np.corrcoef([errors[thing] for thing in UNITS])
    assert np.abs(together - np.eye(len(UNITS))).max() < 0.05


@pytest.mark.parametrize(("thing", "size", "per_unit"), [
    ("length", 0.5, 1.0), ("angle", 0.5, 30 * np.radians(1))])
def test_one_scatter_alone_gives_the_gaps_of_a_folded_normal(thing, size, per_unit):
    # Derived: at a plate the gap is `per_unit` times the error's size, so that p of the gaps are
    # below that times the normal's quantile of (1 + p) / 2.
    found = spread(FLAT, "bevelled", 0.3, replace(NONE, **{thing: size}))
    for share, gap in found.percentiles.items():
        known = per_unit * size * norm.ppf((1 + share / 100) / 2)
        assert gap == pytest.approx(known, rel=0.04)
    limit = 0.3 / per_unit / size
    assert found.good == pytest.approx(2 * norm.cdf(limit) - 1, abs=0.02)
    assert found.saves == {thing: pytest.approx(1, abs=1e-6)}


def test_the_same_seed_gives_the_same_numbers_and_another_seed_others():
    one, same, other = (spread(JOINT, "bevelled", 0.3, Scatter(), seed, FEW)
                        for seed in (5, 5, 6))
    assert (one.gaps == same.gaps).all() and one.saves == same.saves
    assert not (one.gaps == other.gaps).all()
    assert one.percentiles[50] == pytest.approx(other.percentiles[50], rel=0.15)


@pytest.mark.parametrize("thing", UNITS)
def test_more_scatter_of_one_thing_never_makes_a_gap_smaller(thing):
    model, usual = gap_batch(JOINT, "bevelled"), getattr(Scatter(), thing) or 0.5
    gaps = [model.largest(drawn(replace(NONE, **{thing: times * usual}), 1, 100))
            for times in (0.5, 1.0, 3.0)]
    for less, more in pairwise(gaps):
        assert (more >= less - 1e-3).all() and more.mean() > less.mean()


def test_more_scatter_of_everything_opens_more_and_leaves_fewer_under_the_limit():
    wide = Scatter(*(2 * value for value in asdict(Scatter()).values()))
    less, more = (spread(JOINT, "bevelled", 0.6, scatter, joints=FEW)
                  for scatter in (Scatter(), wide))
    assert more.good < less.good
    assert all(more.percentiles[share] > less.percentiles[share] for share in less.percentiles)


def test_without_scatter_every_joint_is_the_ideal_one():
    found = spread(JOINT, "bevelled", 0.3, NONE, joints=FEW)
    assert found.gaps.max() < 1e-6 and found.good == 1 and found.saves == {}


def test_what_is_told_is_what_the_gaps_are():
    found = spread(JOINT, "square", 1.2, Scatter(), joints=FEW)
    assert found.gaps.shape == (FEW,)
    assert found.good == (found.gaps <= 1.2).mean()
    for share, gap in found.percentiles.items():
        assert (found.gaps <= gap + 1e-12).mean() == pytest.approx(share / 100, abs=2 / FEW)


def test_the_thing_that_scatters_most_is_the_one_to_mend():
    found = spread(JOINT, "bevelled", 0.3, replace(Scatter(), turn=8.0), joints=FEW)
    assert max(found.saves, key=found.saves.get) == "turn" and found.saves["turn"] > 0.3


def test_a_scatter_that_leaves_no_joint_is_refused_with_how_many():
    with pytest.raises(JointError, match=r"\d+ of 300 joints that scatter so cannot be put"):
        spread(JOINT, "bevelled", 0.3, replace(NONE, offset=25), joints=FEW)


@pytest.mark.parametrize(("wrong", "words"), [
    ({"angle": -0.1}, "angle scatter: -0.1 deg is no scatter"),
    ({"turn": 31}, "turn scatter: 31 deg is no scatter"),
    ({"offset": float("nan")}, "offset scatter: nan mm is no scatter"),
    ({"length": 26}, "give a standard deviation of 0 to 25 mm"),
])
def test_a_scatter_that_cannot_be_is_refused(wrong, words):
    with pytest.raises(JointError, match=words):
        Scatter(**wrong)


def test_a_seed_below_0_is_refused():
    with pytest.raises(JointError, match="seed: -1 is no seed"):
        drawn(Scatter(), -1, 10)
