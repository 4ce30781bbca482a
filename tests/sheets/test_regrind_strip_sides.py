"""The strip to regrind by: the metal to take off lies between the edge that is and the new one."""

import json

import numpy as np
import pytest

from tests.cli.run import run
from tests.drawing.readback import svg_paths
from tests.sheets.groups import group_strokes

GAPS = "0=1.1,45=0.85,90=0.1,135=0.15,180=0.9,225=1.25,270=0.95,315=0.95"
WORDS = ("regrind", "28.6 x 0.9", "38.1", "--angle", "62", "--offset", "3", "--gaps", GAPS)
PAPER = 0.1


@pytest.fixture(scope="module")
def drawn(tmp_path_factory):
    file = tmp_path_factory.mktemp("strip") / "strip.svg"
    status, _, err = run(*WORDS, "--svg", str(file))
    assert (status, err) == (0, "")
    return file.read_text(), json.loads(run(*WORDS, "--json")[1])["regrind"]


def test_the_line_to_grind_to_lies_up_the_tube_from_the_existing_edge_by_the_metal(drawn):
    text, found = drawn
    old, new = (svg_paths(text)[name] for name in ("existing-edge", "cut"))
    metal = np.interp(old[:, 0], new[:, 0], new[:, 1]) - old[:, 1]
    # The seam is at the toe, clock 180; the clock runs to the right.
    clock = 180 + (old[:, 0] - old[0, 0]) / (np.pi * (28.6 + PAPER)) * 360
    known = np.interp(clock, found["clock"], found["remove"], period=360)
    np.testing.assert_allclose(metal, known, rtol=0, atol=0.03)
    mirrored = np.interp(-clock, found["clock"], found["remove"], period=360)
    assert np.abs(mirrored - known).max() > 0.5  # else no mirror would show


def test_the_hatch_fills_the_metal_and_nothing_else(drawn):
    text, _ = drawn
    paths = svg_paths(text)
    points = np.concatenate(group_strokes(text, "metal"))
    low, high = (np.interp(points[:, 0], paths[name][:, 0], paths[name][:, 1])
                 for name in ("existing-edge", "cut"))
    assert (points[:, 1] >= low - 0.02).all() and (points[:, 1] <= high + 0.02).all()
    assert np.ptp(points[:, 0]) > 60
