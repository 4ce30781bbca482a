"""How fast 10,000 joints are reckoned, beside fit-ups of one at a time in the same run.

Aim: about a second; 10,000 calls of ``seat`` take the better part of a minute.
"""

import time

import numpy as np
import pytest

from coper import Box, Joint, Oval, Round
from coper.joint.fit.face import Bevelled
from coper.joint.fit.fit import seat
from coper.joint.fit.mount import Mounting
from coper.joint.tolerance.gap_batch import gap_batch
from coper.joint.tolerance.spread import JOINTS, SEED, Scatter, drawn

JOINT = Joint(Round(28.6, 0.9), Round(38.1), 62, 3)
SEATED = 200


def seat_seconds(joint):
    """Seconds that one full fit-up takes, over many with errors of their own."""
    errors = drawn(Scatter(), SEED, SEATED)
    face = Bevelled(joint.cluster())
    start = time.perf_counter()
    for angle, turn, offset in zip(errors.angle, errors.turn, errors.offset, strict=True):
        seat(face, Mounting(angle, turn, offset).of(joint).cluster(), turn, 8)
    return (time.perf_counter() - start) / SEATED


@pytest.mark.parametrize("joint", [
    JOINT, Joint(Oval(30, 17, 0.9), Round(40), 75), Joint(Round(28.6, 0.9), Box(40, 40, 3), 62)],
    ids=["round-round", "oval-round", "round-box"])
def test_ten_thousand_joints_beside_as_many_fit_ups(benchmark, joint):
    errors = drawn(Scatter(), SEED, JOINTS)
    model = gap_batch(joint, "bevelled")
    gaps = benchmark.pedantic(model.largest, (errors,), rounds=3)
    assert np.isfinite(gaps).all()
    taken = benchmark.stats.stats.min
    benchmark.extra_info["times as fast as fit-ups"] = JOINTS * seat_seconds(joint) / taken
