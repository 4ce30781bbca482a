"""The strip to regrind an end of a job by lies on the tube as its template does."""

import json

import numpy as np
import pytest

from tests.cli.run import run
from tests.drawing.readback import svg_paths

END = ("demo/wagtail.toml", "down-tube", "end")
GAPS = ("--gaps", "0=0.6,45=0.45,90=0.8,135=0.8,180=0.25,225=0.05,270=0.8,315=1.2")
GIRTH, PAPER, SEAM = 31.8, 0.1, 90.0
"""The seam is at the toe; from there the clock runs to the right."""


@pytest.fixture(scope="module")
def drawn(tmp_path_factory):
    file = tmp_path_factory.mktemp("strip") / "strip.svg"
    assert run("regrind", *END, *GAPS, "--no-book", "--svg", str(file))[0] == 1
    paths = svg_paths(file.read_text())
    return (*(paths[name] for name in ("existing-edge", "cut")),
            json.loads(run("regrind", *END, *GAPS, "--no-book", "--json")[1])["regrind"])


def clocks(points):
    return (SEAM + (points[:, 0] - points[:, 0].min()) / (np.pi * (GIRTH + PAPER)) * 360) % 360


def test_from_a_tubes_end_the_metal_lies_towards_its_start_by_what_is_to_be_taken_off(drawn):
    old, new, found = drawn
    metal = old[:, 1] - np.interp(old[:, 0], new[:, 0], new[:, 1])  # down the page
    known = np.interp(clocks(old), found["clock"], found["remove"], period=360)
    np.testing.assert_allclose(metal, known, rtol=0, atol=0.03)
    other = np.interp(-clocks(old), found["clock"], found["remove"], period=360)
    assert np.abs(other - known).max() > 0.3  # else clocks counted the wrong way would not show


def test_the_existing_edge_has_the_shape_of_the_cope_over_the_tubes_clock(drawn):
    old, _, _ = drawn
    cope = json.loads(run("joint", *END, "--json")[1])["cope"]
    right, wrong = (np.interp(at % 360, cope["clock"], cope["outer"], period=360) - old[:, 1]
                    for at in (clocks(old), -clocks(old)))
    assert np.ptp(right) < 2.5  # what the end is turned and proud by the readings
    assert np.ptp(wrong) > 15
