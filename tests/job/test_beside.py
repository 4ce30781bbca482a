"""A tube beside another stands on the side that is said."""

import numpy as np
import pytest

from coper.job.beside import BESIDE, parallel
from coper.job.read import parse_job

RAIL = """\
[tubes.rail]
shape = "25 x 2"
start = { at = [10, 20, 30] }
end = { at = [310, 120, 90] }
"""


@pytest.mark.parametrize(("way", "off"), [
    ("above", (0, 0, 60)), ("below", (0, 0, -60)), ("ahead", (60, 0, 0)), ("behind", (-60, 0, 0)),
    ("to the left", (0, 60, 0)), ("to the right", (0, -60, 0))])
def test_a_tube_beside_another_stands_where_its_word_says(way, off):
    """x is forward, y to the left, z up."""
    made = parse_job(parallel(parse_job(RAIL), "rail", "other", way, 60.0, seats=False))
    rail, other = made.tubes
    for one, beside in ((rail.start, other.start), (rail.end, other.end)):
        np.testing.assert_allclose(np.subtract(beside.at, one.at), off, atol=1e-9)


def test_every_word_that_is_offered_is_one_of_those():
    assert len(BESIDE) == 6
