"""On the charts of errors + is to the right."""

import numpy as np
import pytest

from coper import Joint, Round
from coper.drawing.svg import svg_text
from coper.joint.fit.face import Square
from coper.joint.fit.fit import seat
from coper.joint.fit.limits import own_limit
from coper.joint.fit.mount import Mounting
from coper.joint.tolerance.spread import Scatter, spread
from coper.joint.tolerance.tolerance import tolerance
from coper.sheets.tolerance_picture import tolerance_page
from tests.drawing.readback import svg_paths, svg_texts

JOINT = Joint(Round(28.6, 1.5), Round(38.1), 55, 3)
LIMIT = own_limit(1.6)


@pytest.fixture(scope="module")
def svg():
    found = tolerance(JOINT, "square", LIMIT.mm)
    spreading = spread(JOINT, "square", LIMIT.mm, Scatter(), joints=50)
    return svg_text(tolerance_page(found, spreading, LIMIT, "a joint", "square"))


def signed(word):
    """A number below the charts, or None."""
    try:
        return float(word.removesuffix(" mm").removesuffix("°"))
    except ValueError:
        return None


@pytest.mark.parametrize(("thing", "errors"), [
    ("angle", (1.0, -1.0)), ("offset", (0.4, -0.4))])
def test_the_gap_of_an_error_is_drawn_at_that_error_and_not_at_its_opposite(svg, thing, errors):
    paths = svg_paths(svg)
    frame, curve, limit = (paths[f"{name}-{thing}"] for name in ("frame", "gap", "limit"))
    height = max(frame[:, 1].max() - frame[:, 1].min(), 1)
    from_top = float(svg.split('viewBox="0 0 ')[1].split('"')[0].split()[1])
    ticks = [(value, float(mark.attrib["x"])) for word, mark in svg_texts(svg)
             if (value := signed(word)) is not None and mark.get("text-anchor") == "middle"
             and frame[:, 0].min() - 1 <= float(mark.attrib["x"]) <= frame[:, 0].max() + 1
             and 0 < frame[:, 1].min() - (from_top - float(mark.attrib["y"])) < height / 4]
    assert len(ticks) > 2
    values, x = np.array(sorted(ticks)).T
    assert (np.diff(x) > 0).all()  # + to the right
    known = [seat(Square(JOINT.cluster()), Mounting(**{thing: error}).of(JOINT).cluster(),
                  points=8).largest for error in errors]
    at = np.interp(errors, values, x)
    gap = ((np.interp(at, curve[:, 0], curve[:, 1]) - frame[:, 1].min())
           / (limit[0, 1] - frame[:, 1].min()) * LIMIT.mm)
    np.testing.assert_allclose(gap, known, rtol=0, atol=0.03)
    assert abs(known[0] - known[1]) > 0.1  # else no mirror would show
