"""Pushing ends home: one or many at once, to 1e-6 mm or as closely as a bench sees."""

import numpy as np
import pytest

from coper import Bent, Box, Joint, Oval, Round, Tapered
from coper.joint.fit.face import Bevelled, Square
from coper.joint.fit.fit import end_breaks, end_grid, seat
from coper.joint.fit.grid import break_clocks, cut_grid
from coper.joint.fit.mount import Mounting
from coper.joint.fit.seat import Ends, first_touch, widest_gap
from coper.joint.saw.place import moved_home, place_on
from coper.tolerances import BENCH, EXACT, SEATED_MM
from tests.specimens import random_pair

BENCH_MM = 3e-3
JOINTS = [
    Joint(Round(28.6, 0.9), Round(38.1), 62, 3),
    Joint(Box(30, 20, 2, 1.5), Box(40, 40, 3), 50),
    Joint(Tapered(22, 14, 390, 0.8), Oval(40, 30), 75, 2),
    Joint(Oval(30, 17, 0.9), Bent(45, 120), 80, 1),
]
ANGLE, TURN, OFFSET = (np.array(row) for row in (
    (0.0, 0.5, -0.8, 1.2), (0.0, 1.5, -2.0, 0.7), (0.0, -0.3, 0.2, 0.4)))


def ends_of(joint, face, chosen=slice(None)):
    """Four ends of a careless bench, or some of them."""
    turned = TURN[chosen, None, None]
    return Ends(face, joint.clusters(ANGLE[chosen], OFFSET[chosen]), turned)


def mounted(joint, number):
    """The branch and the main of one of them."""
    return Mounting(ANGLE[number], TURN[number], OFFSET[number]).of(joint).cluster()


def slides(ends, face, how):
    grid = cut_grid(face, break_clocks(face.cluster), how).turned(ends.turned)
    touch = first_touch(ends, grid, how)
    return touch.slide, widest_gap(ends.moved(touch.slide), grid.clock, grid.broken, how)[0]


@pytest.mark.parametrize("make", [Bevelled, Square])
@pytest.mark.parametrize("joint", JOINTS)
def test_a_bench_seating_is_as_good_as_an_exact_one_for_any_gauge(joint, make):
    face = make(joint.cluster())
    found = slides(ends_of(joint, face), face, BENCH)
    for number in range(4):
        fit = seat(face, mounted(joint, number), TURN[number], 8)
        assert found[0][number] == pytest.approx(fit.slide, abs=BENCH_MM)
        assert found[1][number] == pytest.approx(fit.largest, abs=BENCH_MM)


@pytest.mark.parametrize("how", [EXACT, BENCH], ids=["exact", "bench"])
@pytest.mark.parametrize("joint", JOINTS)
def test_an_end_has_the_same_seat_alone_and_in_company(joint, how):
    face = Bevelled(joint.cluster())
    together = slides(ends_of(joint, face), face, how)
    for number in range(4):
        alone = slides(ends_of(joint, face, slice(number, number + 1)), face, how)
        limit = 1e-6 if how is EXACT else BENCH_MM
        assert alone[0][0] == pytest.approx(together[0][number], abs=limit)
        assert alone[1][0] == pytest.approx(together[1][number], abs=limit)


@pytest.mark.parametrize("joint", JOINTS)
def test_an_exactly_seated_end_touches_and_nowhere_overlaps(joint):
    face = Bevelled(joint.cluster())
    for number in range(4):
        one = Ends(face, mounted(joint, number), np.full((1, 1, 1), TURN[number]))
        touch = first_touch(one, end_grid(one, end_breaks(one)), EXACT)
        clock = np.arange(0, 360, 0.25)
        room = one.moved(touch.slide).room(
            np.append(clock, touch.clock)[None, None],
            np.append(np.linspace(0, one.mounted.wall(), 21), touch.depth)[:, None])
        assert -1e-6 <= np.nanmin(room) <= 1e-6


def test_an_end_that_meets_nothing_has_no_seat():
    joint = JOINTS[0]
    face = Bevelled(joint.cluster())
    ends = Ends(face, joint.clusters(np.zeros(2), np.array([0.0, 80.0])), np.zeros((2, 1, 1)))
    grid = cut_grid(face, break_clocks(face.cluster), BENCH)
    touch = first_touch(ends, grid, BENCH)
    assert touch.slide[0] == pytest.approx(0, abs=1e-9) and np.isnan(touch.slide[1])
    assert np.isnan(touch.clock[1])


@pytest.mark.parametrize("seed", range(3))
def test_a_cut_that_was_moved_home_leaves_the_end_where_the_design_puts_it(seed):
    joint = random_pair(Tapered, Round, seed)
    place = place_on(joint)
    larger = Joint(joint.branch, Round(joint.main.diameter + 8), joint.angle, joint.offset,
                    joint.turn)
    face = Bevelled(larger.cluster())
    by, moved, fit = moved_home(face, place.mounted, place.breaks)
    assert abs(by) > 1e-3 and abs(fit.slide) <= 1e-6
    assert abs(seat(moved, place.mounted).slide) <= 10 * SEATED_MM
