"""The footprint lies where the edge does: towards which end of the main, and to which side."""

import json

import numpy as np
import pytest

from tests.cli.run import run
from tests.drawing.readback import svg_paths
from tests.sheets.groups import group_strokes

THICK, THIN, OVER, AT = 46.0, 34.0, 200.0, 35.0
SLOPE = (THIN - THICK) / 2 / OVER
WORDS = ("joint", "28.6 x 0.9", f"{THICK:g} to {THIN:g} over {OVER:g}", "--angle", "68",
         "--main-at", f"{AT:g}")


def edge(found, offset):
    """The outside edge (n, 3) in the joint's own axes, from the clocks and alongs of the JSON."""
    clock, along = (np.array(found["cope"][name]) for name in ("clock", "outer"))
    a, c = np.radians(68), np.radians(clock)
    e1, e2 = np.array((np.sin(a), 0, -np.cos(a))), np.array((0.0, 1.0, 0.0))
    ray = np.cos(c)[:, None] * e1 + np.sin(c)[:, None] * e2
    return ((0, offset, 0) + along[:, None] * np.array((np.cos(a), 0, np.sin(a)))
            + 14.3 * ray)


@pytest.mark.parametrize("offset", [0.0, 4.0])
def test_on_a_taper_that_starts_elsewhere_the_footprint_counts_from_the_branchs_axis(offset):
    status, out, err = run(*WORDS, "--offset", str(offset), "--json")
    assert (status, err) == (0, "")
    found = json.loads(out)
    x, y, z = edge(found, offset).T
    radius = THICK / 2 + SLOPE * (x - AT)
    np.testing.assert_allclose(np.hypot(y, z), radius, rtol=0, atol=1e-6)  # it is on the main
    np.testing.assert_allclose(found["footprint"]["x"], x, rtol=0, atol=1e-6)
    np.testing.assert_allclose(found["footprint"]["arc"], radius * np.arctan2(y, z), rtol=0,
                               atol=1e-6)


def test_the_paper_of_a_tapers_footprint_has_the_foot_of_the_axis_where_it_belongs(tmp_path):
    # On the line that faces the branch a place x mm along the main is x / cos(half angle) along
    # its skin. The edge crosses that line at clock 0, towards the + end, and at clock 180.
    file = tmp_path / "foot.svg"
    assert run(*WORDS, "--paper", "roll", "--svg", str(file))[0] == 0
    found = json.loads(run(*WORDS, "--json")[1])
    x = edge(found, 0.0)[:, 0]
    clock = np.array(found["cope"]["clock"])
    known = [x[clock == side][0] * np.hypot(1, SLOPE) for side in (180, 0)]
    text = file.read_text()
    landing, = group_strokes(text, "landing")
    paths = svg_paths(text)
    zero = paths["branch-foot"][0, 0]
    ends = landing[:, 0].min() - zero, landing[:, 0].max() - zero
    assert ends == pytest.approx(tuple(known), abs=0.02)


def test_on_a_round_main_the_offsets_side_is_up_and_the_mains_plus_end_to_the_right(tmp_path):
    file = tmp_path / "foot.svg"
    words = ("joint", "28.6 x 0.9", "38.1", "--angle", "62", "--offset", "3")
    assert run(*words, "--paper", "roll", "--svg", str(file))[0] == 0
    found = json.loads(run(*words, "--json")[1])["footprint"]
    text = file.read_text()
    landing, = group_strokes(text, "landing")
    paths = svg_paths(text)
    landing = landing - (paths["branch-foot"][0, 0], paths["main-line"][0, 1])
    for way, name in ((0, "x"), (1, "arc")):
        assert (landing[:, way].min(), landing[:, way].max()) == pytest.approx(
            (min(found[name]), max(found[name])), abs=0.1)
    # Derived: R asin((offset +- r) / R).
    assert (min(found["arc"]), max(found["arc"])) == pytest.approx(
        tuple(19.05 * np.arcsin((3 + way * 14.3) / 19.05) for way in (-1, 1)), abs=1e-6)
