"""Which tapes fix a mark well, which marks are one, and to which side things lie on the table."""

import itertools
import math

import numpy as np
import pytest

from coper.bench.layout.diagonals import diagonals
from coper.bench.layout.spots import given_point, mark_spots

CORNERS = np.array(((0.0, 0.0), (1200.0, 0.0), (500.0, 800.0)))
# Near the middle of each side of the triangle, where the two tapes from its ends run in line.
INSIDE = np.array(((600.0, 15.0), (300.0, 420.0), (830.0, 380.0), (560.0, 300.0)))


def sine(one, other, mark):
    """Of the angle at which two tapes meet at a mark."""
    (ax, ay), (bx, by) = one - mark, other - mark
    return abs(ax * by - ay * bx) / math.hypot(ax, ay) / math.hypot(bx, by)


@pytest.mark.parametrize("order", [0, 1, 2, 3, 4, 5])
def test_a_mark_is_taped_from_the_two_corners_whose_tapes_meet_most_nearly_square(order):
    corners = CORNERS[list(list(itertools.permutations(range(3)))[order])]
    marks = np.concatenate((corners, INSIDE))
    tapes = {(one.one - 1, one.other - 1) for one in diagonals(marks)}
    for index in range(3, len(marks)):
        taken = {one for one, other in tapes if other == index}
        best = max(itertools.combinations(range(3), 2),
                   key=lambda pair: sine(*marks[list(pair)], marks[index]))
        assert taken == set(best)


def test_points_a_few_mm_apart_have_marks_of_their_own():
    places = [(100.0, 200.0), (100.0, 203.0), (103.0, 200.0), (100.02, 200.0)]
    spots = mark_spots([given_point(str(n), np.array((*place, 0.0)))
                        for n, place in enumerate(places)], None)
    assert sorted(spot.at for spot in spots) == sorted(places)
