"""The chart that every picture with axes is drawn on."""

import numpy as np
import pytest

from coper.drawing.marks import CUT, THIN
from coper.pages.chart import Chart, round_steps
from tests.pages.room import path, paths, texts

CHART = Chart(100.0, 50.0, (-2.0, 2.0), (0.0, 4.0))


def test_a_curve_goes_through_its_values_and_is_open_above_the_chart_and_where_it_has_none():
    across = np.array((-2.0, -1.0, 0.0, 0.5, 1.0, 1.5, 2.0))
    up = np.array((0.0, 4.0, 4.1, 2.0, 1.0, np.nan, 0.0))
    (left, right) = CHART.curve(across, up, CUT, "curve")
    assert left.points.tolist() == [[0.0, 0.0], [25.0, 50.0]]
    assert right.points.tolist() == [[62.5, 25.0], [75.0, 12.5]]


def test_levels_and_uprights_run_from_side_to_side_and_from_foot_to_top():
    assert CHART.level(1.0, THIN).points.tolist() == [[0.0, 12.5], [100.0, 12.5]]
    assert CHART.upright(1.0, THIN).points.tolist() == [[75.0, 0.0], [75.0, 50.0]]
    assert np.ptp(path([CHART.frame("frame")], "frame"), axis=0).tolist() == [100.0, 50.0]


def test_each_number_of_the_scale_stands_beside_the_line_of_its_value():
    marks = list(CHART.lengths_up())
    levels, numbers = paths(marks, ""), texts(marks)
    assert [number.words for number in numbers] == ["0 mm", "1 mm", "2 mm", "3 mm", "4 mm"]
    for line, number in zip(levels, numbers, strict=True):
        assert line.points[0, 1] == float(number.words.split()[0]) / 4 * 50
        assert number.at[1] < line.points[0, 1] < number.at[1] + number.height
        assert number.anchor == "right" and number.at[0] < 0


def test_words_of_the_scale_across_stand_under_their_place():
    line, words = CHART.step_across(-1.0, "-1°")
    assert words.at[0] == line.points[0, 0] == 25.0 and words.anchor == "middle"
    assert words.at[1] + words.height < 0


@pytest.mark.parametrize(("low", "high", "steps"), [
    (0.0, 1.0, [0, 0.2, 0.4, 0.6, 0.8, 1]), (0.0, 0.9, [0, 0.2, 0.4, 0.6, 0.8]),
    (-3.0, 3.0, [-3, -2, -1, 0, 1, 2, 3]),
    (0.0, 40.0, [0, 10, 20, 30, 40]), (-0.7, 0.7, [-0.5, 0, 0.5])])
def test_steps_are_1_2_or_5_times_a_power_of_ten_and_0_is_one_of_them(low, high, steps):
    assert round_steps(low, high) == pytest.approx(steps)
