"""Read, grind as advised, read again: random ends of every kind close, and none is made worse."""

import numpy as np
import pytest

from coper.joint.regrind.regrind import regrind
from tests.joint.regrind_ends import NOISE_MM, rounds
from tests.profiles import seeds

CLOSED_MM = 0.3


@pytest.fixture(scope="module")
def gaps():
    """Largest gaps (n, 3) before, after one round and after two; no reading is refused."""
    return np.array([rounds(seed, regrind) for seed in seeds(20)])


def test_no_round_makes_an_end_worse_than_a_gauge_tells(gaps):
    assert (np.diff(gaps, axis=1) <= 2 * NOISE_MM).all()
    assert (gaps[:, 2] <= gaps[:, 0] + NOISE_MM).all()


def test_two_rounds_close_95_of_100_ends(gaps):
    assert np.mean(gaps[:, 2] < CLOSED_MM) >= 0.95
