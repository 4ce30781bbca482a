"""The picture of how careful to be, read back from the SVG."""

import re

import numpy as np
import pytest

from coper import Joint, Plate, Round
from coper.drawing.svg import svg_text
from coper.joint.fit.limits import own_limit
from coper.joint.tolerance.spread import Scatter, spread
from coper.joint.tolerance.tolerance import UNITS, tolerance
from coper.sheets.tolerance_picture import HIGH_MM, TIMES_LIMIT, WIDE_MM, tolerance_page
from tests.drawing.readback import svg_paths, svg_size, svg_texts

FLAT = Joint(Round(30, 1), Plate(6), 90)
LIMIT = own_limit(0.4)


@pytest.fixture(scope="module")
def svg():
    found = tolerance(FLAT, "bevelled", LIMIT.mm)
    spreading = spread(FLAT, "bevelled", LIMIT.mm, Scatter(), joints=400)
    return svg_text(tolerance_page(found, spreading, LIMIT, "a joint", "bevelled")), spreading


def test_everything_lies_on_the_page(svg):
    width, height = svg_size(svg[0])
    for points in svg_paths(svg[0]).values():
        assert (np.asarray(points) >= -1e-6).all()
        assert (np.asarray(points) <= np.array((width, height)) + 1e-6).all()


def test_there_is_a_chart_for_each_thing_and_its_limit_is_said(svg):
    words = [word for word, _ in svg_texts(svg[0])]
    for thing in UNITS:
        assert any(word.startswith(f"largest gap with the {thing} off by") for word in words)
    assert "bevelled cut; dashed: the limit of 0.40 mm" in words


def test_the_curve_of_a_length_error_at_a_plate_is_the_error_itself(svg):
    paths = svg_paths(svg[0])
    curve, frame, limit = (paths[f"{name}-length"] for name in ("gap", "frame", "limit"))
    bottom = frame[:, 1].min()
    numbers = [(float(word), float(mark.attrib["x"])) for word, mark in svg_texts(svg[0])
               if re.fullmatch(r"[+-]?[\d.]+", word) and mark.get("text-anchor") == "middle"]
    (one, left), (other, right) = numbers[-2:]  # the last chart is that of the length
    error = one + (curve[:, 0] - left) / (right - left) * (other - one)
    gap = (curve[:, 1] - bottom) / (limit[0, 1] - bottom) * LIMIT.mm
    np.testing.assert_allclose(gap, np.abs(error), rtol=0, atol=0.01)
    assert gap.max() == pytest.approx(TIMES_LIMIT * LIMIT.mm, rel=0.05)
    assert np.ptp(frame[:, 0]) == pytest.approx(WIDE_MM, abs=1e-3)
    assert np.ptp(frame[:, 1]) == pytest.approx(HIGH_MM, abs=1e-3)


def test_the_bars_are_as_many_joints_as_lie_below_and_above_the_limit(svg):
    text, spreading = svg
    stair, limit = svg_paths(text)["joints"], svg_paths(text)["limit-joints"]
    heights = np.abs(stair[:, 1] - stair[0, 1])
    widths = np.diff(stair[:, 0])
    below = (heights[1:] * widths)[stair[1:, 0] <= limit[0, 0] + 1e-6].sum()
    share = below / (heights[1:] * widths).sum()
    assert share == pytest.approx(spreading.good, abs=0.06)
