"""Templates wrapped back onto their tubes: the paper's cut line is the edge in space."""

import numpy as np
import pytest
from scipy.optimize import root

from coper import Box, Joint, Oval, Round, Tapered, TaperedOval

EXACT = [Round(28.6, 0.9), Tapered(50, 30, 80, 1.5), Oval(30, 17, 0.9), Box(40, 20, 3, 1.5)]
MAINS = [Round(60), Oval(70, 50), Box(60, 50, 5), Tapered(70, 50, 120)]


def box_point(box, way):
    """The outline's point ``way`` mm on from the middle of its first face, piece by piece."""
    a, b, r = box.first / 2, box.second / 2, box.corner
    pieces = [((a, 0), (0, 1), b - r), ((a - r, b - r), 0, r), ((a - r, b), (-1, 0), 2 * (a - r)),
              ((r - a, b - r), 90, r), ((-a, b - r), (0, -1), 2 * (b - r)),
              ((r - a, r - b), 180, r), ((r - a, -b), (1, 0), 2 * (a - r)),
              ((a - r, r - b), 270, r), ((a, r - b), (0, 1), b - r)]
    for start, towards, size in pieces:
        length = size if isinstance(towards, tuple) else np.pi / 2 * size
        if way <= length:
            if isinstance(towards, tuple):
                return np.array(start) + way * np.array(towards)
            angle = np.radians(towards) + way / r
            return np.array(start) + r * np.array((np.cos(angle), np.sin(angle)))
        way -= length
    raise AssertionError("walked past the whole outline")


@pytest.mark.parametrize("main", MAINS, ids=lambda shape: shape.kind)
def test_a_boxs_template_wraps_back_onto_its_edge(main):
    box = Box(40, 20, 3, 1.5)
    cope = Joint(box, main, 68, 3, turn=25).cope()
    template = cope.template(paper=0)
    known = ~np.isnan(template.y)
    wrapped = np.array([box_point(box, way) for way in template.x[known]])
    np.testing.assert_allclose(wrapped, cope.points[known, :2], rtol=0, atol=1e-9)
    np.testing.assert_allclose(template.y[known], cope.points[known, 2], rtol=0, atol=1e-9)


def test_a_tapered_ovals_template_leads_back_to_one_place_on_the_tube():
    tube = TaperedOval(30, 17, 14, 380, 0.8)
    cope = Joint(tube, Round(60), 68, 3).cope(24)
    template = cope.template(paper=0.1)

    for clock, along, x, y in zip(template.clock, template.along, template.x, template.y,
                                  strict=True):
        def off(place, x=x, y=y):
            flat = tube.flat(np.array(place[0]), np.array(place[1]), 0.05)
            return [float(flat[0]) - x, float(flat[1]) - y]

        found = root(off, (clock + 0.5, along + 0.5), tol=1e-13)
        space = tube.generators(np.array(found.x[0])).at(np.array(found.x[1]))
        edge = tube.generators(np.array(clock)).at(np.array(along))
        np.testing.assert_allclose(space, edge, rtol=0, atol=1e-9)


@pytest.mark.parametrize("branch", EXACT, ids=lambda shape: shape.kind)
@pytest.mark.parametrize("main", MAINS, ids=lambda shape: shape.kind)
def test_the_flat_edge_is_as_long_as_the_edge_in_space(branch, main):
    cope = Joint(branch, main, 68, 3, turn=25, main_turn=15)
    template = cope.cope().drawn_template(paper=0)
    flat = np.stack((template.x, template.y), axis=-1)
    space = branch.generators(template.clock).at(template.along)
    one, other = (np.nansum(np.linalg.norm(np.diff(p, axis=0), axis=-1)) for p in (flat, space))
    assert one == pytest.approx(other, rel=2e-5)  # chords of a curve in space are the shorter
    assert one >= other
