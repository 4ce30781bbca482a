"""At which angles a joint is cautioned about: a plate is met at its angle all along one side."""

import json
import re

import pytest

from tests.cli.run import run


def numbers(angle, cut):
    """The whole numbers in the cautions of a tube on a plate."""
    status, out, err = run("joint", "28.6 x 0.9", "plate 6", "--angle", str(angle), "--cut", cut,
                           "--json")
    assert (status, err) == (0, "")
    return {int(word) for said in json.loads(out)["cautions"] for word in re.findall(r"\d+", said)}


@pytest.mark.parametrize("angle", [29, 151])
def test_a_face_that_leans_over_60_degrees_leaves_under_half_the_wall_and_is_said_so(angle):
    # cos 60 = 1/2: the edge of a wall cut at that lean is half as thick. Met at 29 degrees, the
    # cut leans 61, and the corner closes below the 30 degrees of AWS D1.1.
    assert {29, 61} <= numbers(angle, "bevelled")


def test_a_face_that_leans_less_and_a_corner_that_is_wider_are_not_said():
    assert not {31, 59} & numbers(31, "bevelled")


def test_a_square_cut_has_no_thin_edge_but_the_same_narrow_corner():
    said = numbers(29, "square")
    assert 29 in said and 61 not in said
