"""The searches for lowest places, against a row of points far finer than any of them tries."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from coper.search import FREE, Places, changes, closed_in, hollows, lowest, lowest_round
from coper.tolerances import EDGE, EVEN_MM, FLATNESS, FOLLOWED, NEAREST, THROUGH
from tests.profiles import examples

CLOCKS = np.arange(720) / 2.0
FINE = np.arange(360_000) / 1000.0
WAVES = np.arange(1, 6)

seeds = st.integers(0, 2**32 - 1)


def waves(seed, curves=1):
    """Smooth curves (curves, n) of a clock (curves, n), a few waves in each."""
    rng = np.random.default_rng(seed)
    size = rng.normal(size=(curves, 1, WAVES.size)) / WAVES
    phase = rng.uniform(0, 360, (curves, 1, WAVES.size))
    return lambda clock: (size * np.cos(np.radians(clock[..., None] * WAVES - phase))).sum(axis=-1)


# ---- one axis


@examples(60)
@given(seeds)
def test_the_lowest_clock_of_a_smooth_curve_is_found_to_far_below_a_fine_row(seed):
    curve = waves(seed)
    clock, least = lowest_round(lambda at: curve(at)[0], CLOCKS)
    fine = curve(FINE)[0]
    assert fine.min() - 1e-6 <= least <= fine.min() + 2 * EVEN_MM
    assert curve(np.array([clock]))[0, 0] == least


@examples(30)
@given(seeds)
def test_many_curves_at_once_answer_as_each_would_alone(seed):
    curves, grid = waves(seed, 5), np.linspace(30.0, 200.0, 60)
    together = lowest(curves, grid, EDGE)
    for number in range(5):
        alone = lowest(lambda at, row=number: curves(np.broadcast_to(at, (5, at.shape[1])))[[row]],
                       grid, EDGE)
        assert together.least[number] == pytest.approx(alone.least[0], abs=2 * EVEN_MM)


@examples(30)
@given(seeds, st.floats(0, 360))
def test_a_turned_curve_is_lowest_at_the_turned_clock_over_0_too(seed, turn):
    curve = waves(seed)
    _, least = lowest_round(lambda at: curve(at)[0], CLOCKS)
    clock, turned = lowest_round(lambda at: curve(at - turn)[0], CLOCKS)
    assert 0 <= clock < 360 and turned == pytest.approx(least, abs=1e-6)


def test_of_two_equal_lows_the_first_is_taken_at_its_round_clock():
    clock, least = lowest_round(lambda at: np.cos(np.radians(2 * at)), CLOCKS)
    assert (clock, least) == (90.0, -1.0)


def test_a_flat_curve_is_lowest_at_the_first_clock_whatever_its_rounding():
    noise = np.random.default_rng(1).normal(0, 1e-12, CLOCKS.size)
    clock, _ = lowest_round(lambda at: np.interp(at % 360, CLOCKS, noise), CLOCKS)
    assert clock == 0.0


def test_a_low_between_the_last_clock_and_the_first_is_found():
    clock, _ = lowest_round(lambda at: -np.cos(np.radians(at - 359.77)), CLOCKS)
    assert clock == pytest.approx(359.77, abs=0.05)


def test_where_there_is_no_value_there_is_no_low():
    clock, least = lowest_round(lambda at: np.where(at % 360 < 180, np.nan, at % 360), CLOCKS)
    assert (clock, least) == (180.0, 180.0)


@pytest.mark.parametrize("how", [FLATNESS, FOLLOWED, THROUGH])
@pytest.mark.parametrize("place", [0.0, 0.123, 0.7, 1.0])
def test_a_low_is_found_between_two_ends_and_at_either(how, place):
    found = lowest(lambda at: np.abs(at - place), np.linspace(0, 1, 9), how)
    assert found.first[0][0] == pytest.approx(place, abs=how.to)
    assert 0 <= found.at[0].min() <= found.at[0].max() <= 1


# ---- two axes


@examples(30)
@given(seeds)
def test_the_lowest_place_of_a_smooth_hill_is_found_over_two_axes(seed):
    rng = np.random.default_rng(seed)
    at, share, lean = rng.uniform(0, 360), rng.uniform(-0.2, 1.2), rng.uniform(-0.5, 0.5)

    def value(clock, depth):
        off = (clock - at + 180) % 360 - 180
        return off**2 / 1e3 + (depth - share) ** 2 + lean * off / 30 * (depth - share)

    clocks, depths = np.arange(0.0, 360.0, 7.5)[:, None], np.linspace(0, 1, 41)
    grid = value(clocks, depths)
    one, other = hollows(grid[None], (True, False), NEAREST)
    near = Places(grid[one, other], (clocks[one, 0], depths[other]))
    found = closed_in(value, near, (7.5, 1 / 40), (FREE, (0.0, 1.0)), NEAREST)
    fine = np.linspace(0, 1, 2001)
    off = np.clip(-lean / 30 * (fine - share) * 1e3 / 2, -180, 180)
    brute = value(at + off, fine).min()
    assert brute - 1e-6 <= found.least[0] <= brute + 1e-6
    assert 0 <= found.first[1][0] <= 1


def test_a_window_moves_along_while_its_best_place_is_on_its_border():
    near = Places(np.array([[100.0]]), (np.array([[0.0]]),))
    found = closed_in(lambda at: np.abs(at - 100), near, (1.0,), (FREE,), replace(EDGE, rounds=500))
    assert found.first[0][0] == pytest.approx(100, abs=1e-6)


def test_hollows_are_the_lowest_few_in_the_order_of_the_grid():
    grid = np.array([[3.0, 1, 4, 0, 5, 2, 6, 1, 7]])
    at, = hollows(grid, (True,), replace(EDGE, kept=3))
    assert at.tolist() == [[1, 3, 7]]


def test_the_ends_of_a_grid_are_neighbours_only_where_it_wraps():
    grid = np.array([[1.0, 2, 3, 2, 0.5]])
    both = replace(EDGE, kept=2)
    assert hollows(grid, (True,), both)[0].tolist() == [[4]]
    assert hollows(grid, (False,), both)[0].tolist() == [[0, 4]]


# ---- changes of a label


@examples(30)
@given(st.lists(st.floats(0.01, 0.99), min_size=1, max_size=20))
def test_a_change_of_label_is_found_between_its_two_sides(places):
    place = np.array(places)
    low, high = np.zeros_like(place), np.ones_like(place)
    left, right, beyond = changes(lambda at: at >= place[:, None], low, high, low > 0, high > 0)
    assert beyond.all()
    assert (left < place).all() and (right >= place).all() and (right - left < 1e-14).all()


@pytest.mark.parametrize("depths", [(9,), (9, 5)])
def test_one_of_many_curves_is_followed_as_if_it_were_alone(depths):
    """More rows than an array is gone through in at once, 8192: some numpy count wrongly there."""
    rng = np.random.default_rng(1)
    grid = rng.random((20_000, *depths))
    wraps = (False,) * len(depths)
    together = hollows(grid, wraps, THROUGH)
    for first in range(0, 20_000, 4_000):
        few = hollows(grid[first:first + 4_000], wraps, THROUGH)
        for one, other in zip(together, few, strict=True):
            assert (one[first:first + 4_000] == other).all()


def test_the_lowest_places_of_twenty_thousand_parabolas_are_theirs():
    low = np.random.default_rng(2).random(20_000)
    found = lowest(lambda at: (at - low[:, None]) ** 2, np.linspace(0, 1, 9), FOLLOWED)
    assert found.first[0] == pytest.approx(low, abs=1e-5)
