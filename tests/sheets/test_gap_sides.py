"""The picture of the gap is the end as one sees it, not its mirror image."""

import json

import numpy as np
import pytest

from tests.cli.run import run
from tests.drawing.readback import svg_paths
from tests.sheets.groups import group_strokes, group_words

JOINT = ("28.6 x 0.9", "38.1", "--angle", "62", "--offset", "3", "--cut", "square",
         "--offset-error", "0.8", "--angle-error", "0.7", "--clock-error", "2")


@pytest.fixture(scope="module")
def drawn(tmp_path_factory):
    """The picture, and what the JSON says of the same fit."""
    file = tmp_path_factory.mktemp("gap") / "gap.svg"
    assert run("fit", *JOINT, "--picture", str(file))[0] == 0
    return file.read_text(), json.loads(run("fit", *JOINT, "--json")[1])["gap"]


def clockwise(point, middle, zero):
    """The angle from the direction of ``zero`` to that of ``point``, clockwise on paper."""
    one, other = (np.arctan2(*(at - middle)[::-1]) for at in (zero, point))
    return np.degrees(one - other) % 360


def near(one, other, within):
    return abs((one - other + 180) % 360 - 180) < within


def places(text):
    """The middle of the end, and where its four clocks are written."""
    words = {word.split()[0]: place for word, place in group_words(text, "end")}
    rim = svg_paths(text)["rim"]
    middle = (rim.min(axis=0) + rim.max(axis=0)) / 2
    return middle, {clock: words[clock] for clock in ("0", "90", "180", "270")}


def test_the_clock_runs_clockwise_for_an_eye_that_looks_into_the_cut_end(drawn):
    # The clock is right-handed about the branch's direction away from the joint: whoever looks
    # that way, from the main, sees it run clockwise.
    middle, words = places(drawn[0])
    for clock, place in words.items():
        assert near(clockwise(place, middle, words["0"]), float(clock), 8)


def test_the_gap_and_the_first_touch_are_drawn_at_their_own_clocks(drawn):
    text, gap = drawn
    middle, words = places(text)
    paths = svg_paths(text)
    ring = paths["gap"]
    furthest = ring[np.hypot(*(ring - middle).T).argmax()]
    assert near(clockwise(furthest, middle, words["0"]), gap["largest_clock"], 8)
    dot = paths["touches"].mean(axis=0)
    assert near(clockwise(dot, middle, words["0"]), gap["contact_clock"], 8)
    assert not near(gap["largest_clock"], -gap["largest_clock"], 20)  # else no mirror would show


def test_the_chart_runs_from_clock_0_on_the_left_to_360_on_the_right(drawn):
    text, gap = drawn
    paths = svg_paths(text)
    left, right = paths["frame"][:, 0].min(), paths["frame"][:, 0].max()
    curve = paths["outside"]
    top = curve[curve[:, 1].argmax(), 0]
    assert near((top - left) / (right - left) * 360, gap["largest_clock"], 2)
    tip = paths["contact"][0, 0]
    assert near((tip - left) / (right - left) * 360, gap["contact_clock"], 1)


def test_the_largest_gap_is_pointed_at_from_outside_its_band_and_from_above_its_curve(drawn):
    text, gap = drawn
    middle, words = places(text)
    (over,), (beside,) = (group_strokes(text, name) for name in ("largest", "largest-2"))
    assert near(clockwise(beside[0], middle, words["0"]), gap["largest_clock"], 3)
    ring = svg_paths(text)["gap"]
    nearest = ring[np.hypot(*(ring - beside[0]).T).argmin()]
    assert np.hypot(*(nearest - beside[0])) < 0.5
    assert (np.hypot(*(beside[1:] - middle).T) > np.hypot(*(beside[0] - middle))).all()
    frame = svg_paths(text)["frame"]
    across = (over[0, 0] - frame[:, 0].min()) / np.ptp(frame[:, 0]) * 360
    assert near(across, gap["largest_clock"], 0.1) and (over[1:, 1] > over[0, 1]).all()
