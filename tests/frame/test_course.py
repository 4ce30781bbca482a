"""Tubes that are straight, bent, straight: their ends, what they run through, their twins."""

import math

import numpy as np
import pytest

from coper import Box, CoperError, Oval, Round, Tapered, Tube, make_piece, plain_end, shape_end
from coper.frame.clash import find_clashes
from coper.frame.outline import outline, skin
from coper.frame.view import FROM_RIGHT
from coper.shapes.plate import Plate

TUBE = Round(38.1, 2.4)
HOOP = ((0, -300, 400), (0, 300, 400))
RADIUS = 114.3


def hoop(**more):
    return Tube(TUBE, (0, -300, 0), (0, 300, 0), "hoop", corners=HOOP, radii=(RADIUS, RADIUS),
                **more)


def whole(tube):
    return make_piece(tube, plain_end(tube, "start"), plain_end(tube, "end"))


def test_a_hoop_is_as_long_as_its_legs_and_quarter_rings():
    assert hoop().length == pytest.approx(400 * 2 + 600 - 4 * RADIUS + math.pi * RADIUS, abs=1e-9)
    assert whole(hoop()).blank == pytest.approx(hoop().length)


def test_an_end_of_a_hoop_is_shaped_as_a_straight_tube_on_the_same_leg():
    for which, y in (("start", -300), ("end", 300)):
        main = Tube(Round(40), (-200, y + 5, 0), (200, y + 5, 30), "rail")
        straight = Tube(TUBE, (0, y, 0), (0, y, 280), "leg")
        bent, plain = shape_end(hoop(), which, [main]), shape_end(straight, "start", [main])
        past = bent.reach if which == "start" else hoop().length - bent.reach
        assert past == pytest.approx(plain.reach, abs=1e-7)
        assert bent.stances[0].angle == pytest.approx(plain.stances[0].angle)


def test_a_bar_from_leg_to_leg_ends_on_each_as_on_a_straight_tube():
    bar = Tube(Round(25.4, 2), (0, -300, 200), (0, 300, 200), "bar")
    ends = [shape_end(bar, which, [hoop()]) for which in ("start", "end")]
    saddle = math.sqrt(19.05**2 - 12.7**2)
    assert ends[0].reach == pytest.approx(saddle, abs=1e-9)
    assert ends[1].reach == pytest.approx(600 - saddle, abs=1e-9)
    assert not make_piece(bar, *ends).cautions


def test_a_bar_that_runs_through_the_other_leg_says_where():
    bar = Tube(Round(25.4, 2), (0, -300, 200), (0, 400, 200), "bar")
    said = make_piece(bar, shape_end(bar, "start", [hoop()]), plain_end(bar, "end")).cautions
    assert any("hoop comes round to the tube again 61" in caution for caution in said)


def test_a_cut_that_reaches_into_a_bend_is_refused_by_how_much():
    main = Tube(Round(60), (-300, -300, -10), (300, -300, 350), "rail")
    low = Tube(TUBE, (0, -300, 0), (0, 300, 0), "hoop",
               corners=((0, -300, 150), (0, 300, 150)), radii=(RADIUS, RADIUS))
    end = shape_end(low, "start", [main])
    leg = 150 - RADIUS
    with pytest.raises(CoperError, match=r"reaches .* mm into the bend") as caught:
        make_piece(low, end, plain_end(low, "end"))
    assert f"{end.short_point.along - leg:.2f}" in str(caught.value) or (
        f"{np.nanmax(end.inner) - leg:.2f}" in str(caught.value))
    with pytest.raises(CoperError, match="into the bend"):
        make_piece(low, plain_end(low, "start"), plain_end(low, "end", back=leg + 5))


def test_the_twin_of_a_hoop_is_its_mirror_image_all_over():
    tube = Tube(Round(20, 1), (10, 40, 0), (300, 90, 60), "stay", side="left", turn=25,
                corners=((100, 40, 0), (200, 90, 20)), radii=(60, 80))
    alongs = np.linspace(0, tube.length, 40)
    clocks = np.linspace(0, 350, 40)
    one = skin(whole(tube), clocks, alongs)
    other = skin(whole(tube.mirrored()), (180 - clocks) % 360, alongs)
    np.testing.assert_allclose(other, one * np.array((1, -1, 1)), atol=1e-9)


def test_a_tube_that_runs_through_the_top_of_a_hoop_is_a_clash_and_one_beside_it_is_not():
    through = Tube(Round(20, 1), (-100, 0, 400), (100, 0, 400), "through")
    within = Tube(Round(20, 1), (-100, 0, 300), (100, 0, 300), "within")
    corner = Tube(Round(20, 1), (-100, -290, 390), (100, -290, 390), "past the corner")
    found = find_clashes([whole(tube) for tube in (hoop(), through, within, corner)])
    assert [clash.other.label for clash in found] == ["through"]


def test_a_hoop_is_drawn_over_all_its_height_from_the_side_and_its_width_from_the_front():
    points = np.concatenate([stroke.points for stroke in outline(whole(hoop()), FROM_RIGHT)])
    assert points[:, 1].max() == pytest.approx(419.05, abs=0.05)
    assert np.ptp(points[:, 0]) == pytest.approx(38.1, abs=0.05)


def test_the_skin_of_a_bent_taper_counts_its_diameter_along_the_centreline():
    tube = Tube(Tapered(24, 14, 400, 1), (0, 0, 0), (300, 120, 0), "stay",
                corners=((150, 0, 0),), radii=(90,))
    rail = Tube(Round(12, 1), (110, 2, -150), (110, 2, 150), "bar")
    low, high = tube.course.bends[0].low, tube.course.bends[0].high
    middle = tube.course.frames(np.array((low + high) / 2)).origin
    rail = Tube(Round(12, 1), middle, middle + np.array((3, -4, 150)), "bar")
    cope = shape_end(rail, "start", [tube]).cope
    own = tube.straightened(rail.seen_from("start")[1].outward(cope.points))
    np.testing.assert_allclose(np.hypot(own[:, 0], own[:, 1]), tube.shape.radius(own[:, 2]),
                               atol=1e-9)
    assert own[:, 2].min() > low - 20 and own[:, 2].max() < high + 20


@pytest.mark.parametrize(("shape", "corners", "radii", "said"), [
    (TUBE, ((0, -300, 60), (0, 300, 400)), (RADIUS,) * 2, r"need .* mm more than there is"),
    (TUBE, ((0, -300, 400), (0, 300, 400)), (300, 310), "from corner 1 to corner 2 .* 10 mm more"),
    (TUBE, ((0, -300, 400),), (15,), "too tight for a tube 38.1 mm deep"),
    (TUBE, ((0, 0, 0),), (50,), "on a straight line"),
    (TUBE, ((0, 400, 0),), (50,), "turns back on itself"),
    (TUBE, ((0, -300, 0),), (50,), "same point"),
    (TUBE, ((0, -300, 400), (0, 300, 400)), (50,), "1 radii for 2 corners"),
    (Box(40, 25, 4, 2), ((0, -300, 400), (200, 300, 400)), (90, 90), "out of the plane"),
    (Oval(40, 25, 2), ((0, -300, 400), (200, 300, 400)), (90, 90), "out of the plane"),
    (Plate(6), ((0, -300, 400),), (90,), "cannot have corners"),
])
def test_what_no_bender_makes_is_refused(shape, corners, radii, said):
    with pytest.raises(CoperError, match=said):
        Tube(shape, (0, -300, 0), (0, 300, 0), "hoop", corners=corners, radii=radii)


def test_a_bend_below_one_and_a_half_diameters_is_a_caution():
    tight = Tube(TUBE, (0, -300, 0), (0, 300, 0), "hoop", corners=HOOP, radii=(50, RADIUS))
    assert [caution for caution in whole(tight).cautions if "tight" in caution] == [
        "Bend 1 is tight, 1.31 times what is bent: ask whether your bender does it without a kink."]
    assert not whole(hoop()).cautions
