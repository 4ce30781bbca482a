"""An end as one looks into it from outside, heel up: which way its clocks run, and its marks."""

import numpy as np
import pytest

from coper.drawing.marks import Group, Hatch, Path, Text
from coper.frame.main_changes import main_changes
from coper.frame.outline import skin
from coper.job.named_end import find_end
from coper.job.read import parse_job
from coper.sheets.end_ring import (
    BAND_MM,
    KEYS_MM,
    SECTION_MM,
    SIZE_MM,
    Clock,
    Ground,
    enlarged,
    ring_picture,
)
from coper.sheets.end_seen import end_seen
from tests.page.pages import DEMO

JOB = """
[tubes.low]
shape = "60 x 2"
start = { at = [-300, 0, 0] }
end = { at = [300, 40, 0] }
[tubes.rail]
shape = "50 x 2"
start = { at = [-200, 200, 300] }
end = { at = [250, 230, 330] }
mirror = true
[tubes.leg]
shape = "SHAPE"
start = { at = [-60, 9, 0], on = ["low"] }
end = { at = [70, 216, 315], on = ["rail"] }
turn = 25
mirror = true
[tubes.foot]
shape = "60 x 2"
start = { at = [40, 34, 0], on = ["low"] }
end = { at = [60, 34, 300] }
"""
SHAPES = ["30 x 1.5", "box 40 by 20 corner 4 x 2", "oval 40 by 22 x 1.5", "34 to 22 over 380 x 1"]
KEYS = [Clock(0.0, "gap.0", "0")]
CLOCKS = np.array((10.0, 100.0, 190.0, 280.0))


def leg(shape, side, which):
    return find_end(parse_job(JOB.replace("SHAPE", shape)), "leg", side, which)


@pytest.mark.parametrize("which", ["start", "end"])
@pytest.mark.parametrize("side", ["left", "right"])
@pytest.mark.parametrize("shape", SHAPES)
def test_an_end_is_seen_by_an_eye_outside_it_with_its_acute_side_up(shape, side, which):
    end = leg(shape, side, which)
    tube, seen = end.piece.tube, end_seen(end.joint)
    inward = tube.way_in(which)
    main = end.end.mains[0].ways[0]
    acute = main * np.sign(main @ inward)
    up = acute - (acute @ inward) * inward
    up /= np.linalg.norm(up)
    right = np.cross(up, -inward)  # the eye is outside: towards it is against the way in
    along = np.full(CLOCKS.shape, end.joint.counted_along(seen.along))
    there = skin(end.piece, CLOCKS, along) - tube.point(which)
    assert seen.skin(CLOCKS) == pytest.approx(there @ np.stack((right, up), axis=-1), abs=1e-6)


@pytest.mark.parametrize("side", ["left", "right"])
def test_clocks_run_clockwise_at_a_start_and_the_other_way_at_an_end(side):
    for which, way in (("start", -1), ("end", 1)):
        ways = end_seen(leg(SHAPES[0], side, which).joint).ways(np.array((40.0, 60.0)))
        assert np.sign(np.linalg.det(ways)) == way


def test_a_section_is_that_of_its_place_with_its_wall():
    for shape, wide, high, wall in ((SHAPES[1], 40, 20, 2), (SHAPES[2], 40, 22, 1.5)):
        seen = end_seen(leg(shape, "left", "start").joint)
        clock = np.array((0.0, 90.0, 180.0, 270.0))
        points, bore = seen.skin(clock), seen.bore(clock)
        assert np.hypot(*(points[0] - points[2])) == pytest.approx(wide)
        assert np.hypot(*(points[1] - points[3])) == pytest.approx(high)
        assert np.hypot(*(points - bore).T) == pytest.approx([wall] * 4)
    thick, thin = (end_seen(leg(SHAPES[3], "left", which).joint).skin(CLOCKS)
                   for which in ("start", "end"))
    assert np.hypot(*thick[0]) > 16 and np.hypot(*thin[0]) < 13


def test_the_kinks_between_two_mains_are_where_the_edge_goes_from_one_to_the_other():
    job = parse_job((DEMO / "wagtail.toml").read_text())
    end = find_end(job, "down-tube", None, "start").end
    found = main_changes(end)
    assert [(one.before, one.after) for one in found] == [
        ("shell", "seat-tube"), ("seat-tube", "shell")]
    names = np.array([main.label for main in end.mains])[end.main]
    for one in found:
        before, after = (names[np.abs(end.clock - (one.clock + off) % 360).argmin()]
                         for off in (-1, 1))
        assert (before, after) == (one.before, one.after)
    assert main_changes(find_end(job, "down-tube", None, "end").end) == ()


def named(page, name):
    return next((mark for mark in page.marks if isinstance(mark, Group) and mark.name == name),
                None)


def marks(group):
    for mark in group.marks:
        yield from marks(mark) if isinstance(mark, Group) else (mark,)


def ground(at, sure=True):
    clock = np.arange(0.0, 360.0, 10.0)
    away = np.abs((clock - at + 180) % 360 - 180)
    return Ground(clock, np.maximum(0.4 - away / 200, 0.0), at, ("0.40 mm", f"at {at:g}"),
                  (at,), sure)


@pytest.mark.parametrize("which", ["start", "end"])
@pytest.mark.parametrize("at", [70.0, 250.0])
def test_the_band_is_thickest_and_the_arrow_and_the_bar_are_where_most_comes_off(which, at):
    seen = end_seen(leg(SHAPES[0], "left", which).joint)
    page = ring_picture(seen, [Clock(at, "gap.70", "70")], (), ground(at))
    way = seen.ways(np.array([at]))[0]
    outer = next(mark for mark in marks(named(page, "grind")) if isinstance(mark, Path))
    away = outer.points - SIZE_MM / 2
    assert away[np.hypot(*away.T).argmax()] / np.hypot(*away.T).max() == pytest.approx(way, abs=.02)
    assert np.hypot(*away.T).max() == pytest.approx(SECTION_MM + BAND_MM, abs=0.01)
    for name in ("most", "touches"):
        points = np.concatenate([mark.points for mark in marks(named(page, name))])
        middle = points.mean(axis=0) - SIZE_MM / 2
        assert middle / np.hypot(*middle) == pytest.approx(way, abs=0.02), name
    circle = list(marks(named(page, "dim-gap.70")))[2].points.mean(axis=0) - SIZE_MM / 2
    assert circle == pytest.approx(KEYS_MM * way, abs=0.01)
    assert enlarged(seen, ground(at)) == pytest.approx(
        BAND_MM / 0.4 / (SECTION_MM / 15), rel=1e-3)


def test_before_all_is_read_nothing_is_hatched_and_no_arrow_points_anywhere():
    page = ring_picture(end_seen(leg(SHAPES[0], "left", "start").joint), KEYS, (),
                        ground(70.0, sure=False))
    assert named(page, "grind") is None and named(page, "most") is None
    assert not any(isinstance(mark, Hatch) for mark in marks(named(page, "grind-later")))


def test_where_the_end_meets_nothing_its_wall_is_dashed():
    job = parse_job(JOB.replace("SHAPE", SHAPES[0]).replace("[40, 34, 0]", "[40, 54, 0]").replace(
        "[60, 34, 300]", "[60, 54, 300]"))
    end = find_end(job, "foot", None, "start")
    assert end.end.open
    page = ring_picture(end_seen(end.joint), KEYS)
    dashed = [mark for mark in marks(named(page, "ring")) if mark.pen.dash]
    points = np.concatenate([mark.points for mark in dashed]) - SIZE_MM / 2
    (start, to), = end.end.open
    middle = end_seen(end.joint).ways(np.array([start + (to - start) % 360 / 2]))[0]
    away = points.mean(axis=0)
    assert away / np.hypot(*away) == pytest.approx(middle, abs=0.05)
    shut = ring_picture(end_seen(leg(SHAPES[0], "left", "start").joint), KEYS)
    assert not [mark for mark in marks(named(shut, "ring")) if mark.pen.dash]


def test_keys_stand_apart_however_close_their_clocks_are_and_words_stay_on_the_picture():
    seen = end_seen(leg("box 60 by 15 corner 2 x 1.5", "left", "start").joint)
    clocks = [Clock(at, f"gap.{at:g}", f"{at:g}") for at in np.arange(0.0, 360.0, 15.0)]
    page = ring_picture(seen, clocks)
    middles = np.array([next(mark.at for mark in marks(named(page, f"dim-{one.name}"))
                             if isinstance(mark, Text)) for one in clocks])
    apart = np.hypot(*(middles[:, None] - middles[None]).transpose(2, 0, 1))
    assert apart[~np.eye(len(clocks), dtype=bool)].min() > 9
    assert middles.min() > 0 and middles.max() < SIZE_MM


@pytest.mark.parametrize(("shape", "wall"), [*zip(SHAPES, (1.5, 2.0, 1.5, 1.0), strict=True)])
def test_the_bore_is_the_wall_inside_the_skin(shape, wall):
    seen = end_seen(leg(shape, "left", "start").joint)
    skin_there, bore = seen.skin(CLOCKS), seen.bore(CLOCKS)
    deep = ((skin_there - bore) * seen.out(CLOCKS)).sum(axis=-1)
    assert deep == pytest.approx(wall, abs=0.01)
