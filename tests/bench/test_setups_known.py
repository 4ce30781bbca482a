"""Ends that are cut alike share one set-up; every other one has its own."""

import numpy as np
import pytest

from coper import make_pieces, parse_job
from coper.bench.setup import SawShop, piece_setups
from coper.telling.records.setup import setup_record

SAWS = SawShop((28.6, 41.3), enough=0.3)
RAILS = """\
[tubes.low]
shape = "{low}"
start = {{ at = [0, 0, 0] }}
end = {{ at = [900, 0, 0] }}
[tubes.other]
shape = "30 x 2"
start = {{ at = [0, 300, 0] }}
end = {{ at = [900, 300, 0] }}
"""
POST = """\
[tubes.post-{name}]
shape = "25 x 1.5"
start = {{ at = [{x}, {y}, 0], on = ["{on}"] }}
end = {{ at = [{top}, {y}, 400] }}
"""


def posts(places, low="30 x 2"):
    """Posts at these x, lean and y; those at 300 on the other rail."""
    text = RAILS.format(low=low) + "".join(
        POST.format(name=number, x=x, top=x + lean, y=y, on="low" if y < 150 else "other")
        for number, (x, lean, y) in enumerate(places))
    return [piece for piece in make_pieces(parse_job(text)) if piece.tube.name.startswith("post")]


def same(one, other):
    """Whether two records hold the same words and, to 1e-6, the same numbers."""
    if isinstance(one, dict):
        return one.keys() == other.keys() and all(same(one[key], other[key]) for key in one)
    if isinstance(one, list):
        return len(one) == len(other) and all(map(same, one, other))
    if isinstance(one, float):
        return one == pytest.approx(other, abs=1e-6, nan_ok=True)
    return one == other


def test_ends_that_are_cut_alike_are_worked_out_once_and_keep_their_own_mains():
    known = {}
    made = [piece_setups(piece, SAWS, known)[0]
            for piece in posts([(100, 60, 0), (417.3, 60, 0), (650, 60, 300)])]
    assert len(known) == 1
    assert [one.cuts[0].seat.name for one in made] == ["low", "low", "other"]
    assert [one.end.mains[0].name for one in made] == ["low", "low", "other"]


@pytest.mark.parametrize(("places", "low"), [
    ([(100, 60, 0), (400, 60, 0)], "30 x 2"),
    ([(100, 60, 0), (400, 60.1, 0), (700, -60, 0)], "30 x 2"),
    ([(100, 60, 0), (400, 60, 3), (700, 60, -3)], "30 x 2"),
    ([(100, 60, 0), (400, 60, 0)], "40 to 28 over 900 x 2"),
    ([(100, 60, 0), (400, 60, 300)], "box 30 by 30 x 2")])
def test_a_known_set_up_is_the_one_that_would_have_been_found(places, low):
    known = {}
    for piece in posts(places, low):
        shared, = piece_setups(piece, SAWS, known)
        alone, = piece_setups(piece, SAWS)
        assert same(setup_record(shared, None), setup_record(alone, None))


def test_a_bend_shares_nothing():
    text = """\
[points]
corner = [500, 0, 0]
[tubes.loop]
shape = "30 x 2"
start = { at = [0, 0, 0] }
end = { at = [500, 500, 0] }
corners = ["corner"]
bend = 90
""" + "".join(POST.format(name=number, x=x, top=x, y=0, on="loop")
              for number, x in enumerate((100, 480)))
    known = {}
    made = [piece_setups(piece, SAWS, known) for piece in make_pieces(parse_job(text))[1:]]
    assert len(known) == len(made) == 2
    shifts = np.array([setup.own.largest for setup, in made])
    assert np.isfinite(shifts).all()
