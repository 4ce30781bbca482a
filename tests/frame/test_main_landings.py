"""Where branches land on a main, from the two axes alone: numpy's own lines, arcs and clocks."""

import math
from itertools import pairwise

import numpy as np
import pytest

from coper import make_pieces, parse_job
from coper.frame.main_landings import find_landings
from coper.job.read import read_job
from coper.telling.records.job import landing_record
from coper.verbs.job import job
from tests.cli.test_job import DEMO
from tests.profiles import seeds

DIPPER = DEMO.with_name("dipper.toml")
STEP_MM = 0.02


def unit(vector):
    return np.asarray(vector, float) / np.linalg.norm(vector)


def clock_0(ahead, turn):
    """The way that clock 0 of a tube faces at its start: +y, beside the y axis +z, then turned."""
    facing = np.array((0, 0, 1) if abs(ahead[1]) > math.cos(math.radians(10)) else (0, 1, 0))
    first = unit(facing - (facing @ ahead) * ahead)
    a = math.radians(turn)
    return math.cos(a) * first + math.sin(a) * np.cross(ahead, first)


def fillet(points, radii):
    """Places (n, 3) every ``STEP_MM`` or so along straight pieces and the arcs between them."""
    stops, here = [], points[0]
    for before, corner, after, radius in zip(points, points[1:], points[2:], radii, strict=False):
        back, on = unit(before - corner), unit(after - corner)
        half = math.acos(float(back @ on)) / 2
        cut = radius / math.tan(half)
        centre = corner + radius / math.sin(half) * unit(back + on)
        one, other = corner + cut * back - centre, corner + cut * on - centre
        whole = math.pi - 2 * half
        share = np.linspace(0, 1, int(radius * whole / STEP_MM))[:, None]
        arc = (np.sin((1 - share) * whole) * one + np.sin(share * whole) * other) / math.sin(whole)
        stops += [straight(here, corner + cut * back), centre + arc]
        here = corner + cut * on
    return np.concatenate([*stops, straight(here, points[-1])])


def straight(one, other):
    count = int(np.linalg.norm(other - one) / STEP_MM) + 2
    return one + np.linspace(0, 1, count)[:, None] * (other - one)


def centreline(tube):
    """Places (n, 3) along a main; a bend of 110 bulges to clock 90, the long way is not taken."""
    if tube.radii:
        return fillet([tube.start, *tube.corners, tube.end], tube.radii)
    if not hasattr(tube.shape, "radius") or callable(tube.shape.radius):
        return None
    chord = tube.end - tube.start
    ahead, half = unit(chord), math.asin(np.linalg.norm(chord) / 2 / tube.shape.radius)
    out = np.cross(ahead, clock_0(ahead, tube.turn))
    corner = (tube.start + tube.end) / 2 + tube.shape.radius * (
        1 / math.cos(half) - math.cos(half)) * out
    return fillet([tube.start, corner, tube.end], [tube.shape.radius])


def expected(main, point, away):
    """The main's along, mm, where the two axes pass nearest, and the way ahead there."""
    line = centreline(main)
    if line is None:
        ahead = unit(main.end - main.start)
        rows = np.stack((ahead, -away), axis=1)
        (along, _), *_ = np.linalg.lstsq(rows, point - main.start, rcond=None)
        return along, ahead
    off = line - point
    passing = np.linalg.norm(off - (off @ away)[:, None] * away, axis=1)
    near = np.flatnonzero(passing <= passing.min() + main.shape.diameter)
    runs = np.split(near, np.flatnonzero(np.diff(near) > 1) + 1)
    lowest = [run[passing[run].argmin()] for run in runs]
    best = min(lowest, key=lambda at: np.linalg.norm(line[at] - point))
    along = np.linalg.norm(np.diff(line[:best + 1], axis=0), axis=1).sum()
    return along, unit(line[min(best + 1, len(line) - 1)] - line[max(best - 1, 0)])


def along_the_bends(main, ahead):
    """Clock 0 carried from the main's start to a place where it runs ``ahead``, without a twist."""
    way = unit((main.corners[0] if len(main.corners) else main.end) - main.start)
    first, corners = clock_0(way, main.turn), [*main.corners, main.end]
    for one, other in pairwise(corners):
        if np.allclose(way, ahead, atol=1e-3):
            break
        on = unit(other - one)
        axis, angle = unit(np.cross(way, on)), math.acos(np.clip(way @ on, -1, 1))
        first = (math.cos(angle) * first + math.sin(angle) * np.cross(axis, first)
                 + (1 - math.cos(angle)) * (axis @ first) * axis)
        way = on
    return unit(first - (first @ ahead) * ahead)


def check(pieces, on):
    """Hold every landing against the axes; ``on`` is how many there are."""
    mains = {(piece.tube.name, piece.tube.side): piece for piece in pieces}
    found = [(mains[named], one) for named, some in find_landings(pieces).items() for one in some]
    assert len(found) == on
    for main, one in found:
        tube, branch = main.tube, one.piece.tube
        point = branch.start if one.which == "start" else branch.end
        away = branch.way_in(one.which)
        if one.clock is None:
            continue  # a plate: its own test holds it
        along, ahead = expected(tube, point, away)
        assert one.along == pytest.approx(along, abs=0.03), one.words
        assert one.at == pytest.approx(along - main.start.reach, abs=0.03)
        first = along_the_bends(tube, ahead)
        clock = math.degrees(math.atan2(away @ np.cross(ahead, first), away @ first))
        assert abs((one.clock - clock + 180) % 360 - 180) < 0.1, one.words
        lean = ahead @ away
        assert one.heel == (None if abs(lean) < 1e-6 else "end" if lean > 0 else "start")
        edge = one.edge[np.isfinite(one.edge[:, 0])]
        if centreline(tube) is None:
            station = (edge - tube.start) @ ahead - main.start.reach
            assert one.reach == pytest.approx((station.min(), station.max()), abs=1e-6)


@pytest.mark.parametrize(("file", "on"), [(DEMO, 14), (DIPPER, 14)])
def test_every_landing_of_the_demos_is_where_the_two_axes_pass_nearest(file, on):
    check(make_pieces(read_job(str(file))), on)


def random_frame(seed):
    rng = np.random.default_rng([14, seed])
    near = rng.uniform((60, 37, -3), (340, 43, 3), (2, 3))
    far = near + rng.uniform(((-150, 100, -100), (-90, -30, 120)), ((150, 200, 100), (90, 30, 200)))
    return "".join(f"""\
[tubes.{name}]
shape = "{shape}"
{rest}
mirror = true
""" for name, shape, rest in (
        ("rail", "38 to 30 over 400 x 1.5",
         f"turn = {rng.uniform(-180, 180):.3f}\nstart = {{ at = [0, 40, 0] }}\n"
         "end = { at = [400, 40, 0] }"),
        ("arm", "16 x 1", f"start = {{ at = {near[0].tolist()}, on = [\"rail\"] }}\n"
         f"end = {{ at = {far[0].tolist()} }}"),
        ("post", "19 x 1", f"start = {{ at = {far[1].tolist()} }}\n"
         f"end = {{ at = {near[1].tolist()}, on = [\"rail\"] }}")))


@pytest.mark.parametrize("seed", seeds(2))
def test_every_landing_of_a_random_frame_is_where_the_two_axes_pass_nearest(seed):
    check(make_pieces(parse_job(random_frame(seed))), 4)


def test_of_mirrored_branches_the_left_one_lands_on_the_left():
    pieces = make_pieces(read_job(str(DEMO)))
    on = find_landings(pieces)
    shell = {one.piece.label: one for one in on["shell", "centre"]}
    # The shell runs from right to left, from -34 to 34: its middle is 34 from its start.
    left, right = shell["chain-stay left"], shell["chain-stay right"]
    assert left.at > 34 + 20 and right.at < 34 - 20
    assert left.at + right.at == pytest.approx(68)
    assert (left.heel, right.heel) == ("end", "start")
    # Clock 0 of the seat tube faces left, and clock 90 back: the left stay comes from below 90.
    seat = {one.piece.label: one.clock for one in on["seat-tube", "centre"]}
    assert seat["seat-stay left"] < 90 < seat["seat-stay right"]
    assert seat["seat-stay left"] + seat["seat-stay right"] == pytest.approx(180)


def test_the_footprint_counts_from_where_the_axes_pass_nearest_on_bends_too():
    for file in (DEMO, DIPPER):
        for piece in make_pieces(read_job(str(file))):
            for end in piece.ends:
                for index, main in enumerate(end.mains if end.flat is None else ()):
                    if (end.cope.main == index).any() and main.shape.kind != "plate":
                        away = piece.tube.way_in(end.which)
                        along, _ = expected(main, piece.tube.point(end.which), away)
                        points = piece.tube.seen_from(end.which)[1].outward(end.cope.points)
                        np.testing.assert_allclose(
                            end.cope.footprint(index).x[end.cope.main == index],
                            (main.station(points) - along)[end.cope.main == index], atol=0.03)


PLATE = """\
[shop]
allowance = 2
[tubes.base]
shape = "plate 6 by 80"
start = { at = [10, 0, 0], back = 4 }
end = { at = [210, 0, 0] }
[tubes.post]
shape = "28 x 1.5"
start = { at = [60, 12, 30], on = ["base"] }
end = { at = [90, 12, 300] }
[tubes.rung]
shape = "20 x 1.5"
start = { at = [78, 12, 192], on = ["post"] }
end = { at = [78, 92, 192] }
"""


def test_the_json_of_a_job_says_of_every_main_what_lands_on_it():
    base, post, rung = job(parse_job(PLATE)).record()["tubes"]
    (one,), (other,) = base["landings"], post["landings"]
    assert (one["name"], one["side"], one["end"]) == ("post", "centre", "start")
    # The post leans by 30 in 270: it meets the face 30 / 9 before the place below its start.
    assert one["along"] == pytest.approx(50 - 30 / 9)
    assert one["at"] == pytest.approx(50 - 30 / 9 - 4) and one["clock"] is None
    assert one["aside"] == pytest.approx(12)  # y is to the left of it
    assert (other["name"], other["heel"], other["clock"]) == ("rung", None, pytest.approx(0))
    assert other["along"] == pytest.approx(math.hypot(18, 162))
    assert other["at"] == pytest.approx(other["along"] - post["blank_ends"][0] - 2)
    assert other["reach"] == pytest.approx([other["at"] - 10, other["at"] + 10], abs=1e-3)
    assert rung["landings"] == []
    assert landing_record(find_landings(make_pieces(parse_job(PLATE)))[
        "post", "centre"][0]) == other
