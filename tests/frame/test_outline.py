"""The lines of a drawing, against dense points of the skin."""

import numpy as np
import pytest

from coper import Bent, Box, Oval, Plate, Round, Tapered, Tube, make_piece, plain_end, shape_end
from coper.frame.order import work_order
from coper.frame.outline import outline, skin
from coper.frame.view import FROM_ABOVE, FROM_RIGHT, view_towards

START, END = (10.0, -20.0, 30.0), (-180.0, 60.0, 210.0)
VIEWS = {"right": FROM_RIGHT, "above": FROM_ABOVE,
         "corner": view_towards(np.array((1.0, -2.0, 0.7)), np.array((0.0, 0.0, 1.0)))}
SHAPES = [Round(28.6, wall=0.9), Tapered(28, 14, length=280, wall=0.8), Oval(40, 20, wall=1),
          Box(30, 15, corner=3, wall=1), Bent(22, 200, wall=1)]


def plain(shape, start=START, end=END, name="tube"):
    tube = Tube(shape, start, end, name)
    return make_piece(tube, plain_end(tube, "start"), plain_end(tube, "end"))


def dense(piece):
    clock, along = np.meshgrid(np.arange(0, 360, 2.0), np.linspace(0, piece.tube.length, 60))
    return skin(piece, clock.ravel(), along.ravel())


@pytest.mark.parametrize("view", VIEWS.values(), ids=VIEWS)
@pytest.mark.parametrize("shape", SHAPES, ids=lambda shape: shape.kind)
def test_the_strokes_reach_as_far_as_the_skin_in_every_direction_of_the_paper(shape, view):
    piece = plain(shape)
    drawn = np.concatenate([stroke.points for stroke in outline(piece, view)])
    seen = view.seen(dense(piece))
    for angle in np.arange(0, np.pi, 0.2):
        way = np.array((np.cos(angle), np.sin(angle)))
        assert (drawn @ way).max() == pytest.approx((seen @ way).max(), abs=0.1)
        assert (drawn @ way).min() == pytest.approx((seen @ way).min(), abs=0.1)


@pytest.mark.parametrize("shape", SHAPES, ids=lambda shape: shape.kind)
def test_the_skin_of_a_drawing_is_the_mains_own(shape):
    piece = plain(shape)
    off = piece.tube.as_main.distance(piece.tube.pose.inward(dense(piece)))
    assert np.abs(off).max() < 1e-9


def test_the_far_half_of_an_edge_is_dashed_unless_its_open_end_faces_the_eye():
    piece = plain(Round(30, wall=1), (0, 0, 0), (200, 0, 0))
    view = view_towards(np.array((1.0, 0.0, 1.0)), np.array((0.0, 0.0, 1.0)))
    edges = [s for s in outline(piece, view) if len(s.points) > 2]
    for hidden, ellipses in ((True, 0.5), (False, 1.5)):
        length = sum(np.linalg.norm(np.diff(s.points, axis=0), axis=1).sum()
                     for s in edges if s.hidden is hidden)
        # Half of the far end's, the rest of both: a = 15, b = 15 sin 45, Ramanujan's second
        # formula (from memory).
        a, b = 15.0, 15 * np.sqrt(0.5)
        h = ((a - b) / (a + b)) ** 2
        whole = np.pi * (a + b) * (1 + 3 * h / (10 + np.sqrt(4 - 3 * h)))
        assert length == pytest.approx(ellipses * whole, rel=0.02)


def test_the_far_half_of_a_coped_edge_is_dashed_where_its_ears_stand_before_it():
    main = Tube(Round(40), (0, -60, 0), (0, 60, 0), "main")
    tube = Tube(Round(38, 1), (0, 0, 0), (0, 0, 200), "post")
    piece = make_piece(tube, shape_end(tube, "start", [main]), plain_end(tube, "end"))
    # From a little below, square to the main, each place is seen across one as high; at 45 degrees
    # an ear, 14 mm lower, stands 27 mm before the valley: too much for a fall of 0.3 in 1.4.
    for side, dashed in (((1.0, 0.0, -0.3), False), ((1.0, 1.0, -0.3), True)):
        view = view_towards(np.array(side), np.array((0.0, 0.0, 1.0)))
        low = [s for s in outline(piece, view, high=100.0) if len(s.points) > 2]
        assert any(s.hidden for s in low) is dashed


def test_a_tube_seen_end_on_is_its_section_without_flanks():
    piece = plain(Round(40, wall=3), (0, -34, 0), (0, 34, 0))
    strokes = outline(piece, FROM_RIGHT)
    assert {round(float(r), 6) for s in strokes for r in np.hypot(*s.points.T)} == {20.0}


def test_a_part_of_a_tube_shows_only_the_end_that_lies_in_it():
    piece = plain(Round(30, wall=1), (0, 0, 0), (200, 0, 0))
    strokes = outline(piece, FROM_RIGHT, -10.0, 60.0)
    points = np.concatenate([s.points for s in strokes])
    assert points[:, 0].min() == pytest.approx(0) and points[:, 0].max() == pytest.approx(60)
    assert all(np.allclose(s.points[:, 0], 0) for s in strokes if len(s.points) > 2)


def test_a_coped_end_is_drawn_along_its_cope():
    shell = Tube(Round(40, wall=3), (0, -34, 0), (0, 34, 0), "shell")
    tube = Tube(Round(28.6, wall=0.9), (0, 0, 0), (0, 0, 300), "tube")
    piece = make_piece(tube, shape_end(tube, "start", [shell]), plain_end(tube, "end"))
    edge = np.concatenate([s.points for s in outline(piece, FROM_RIGHT, -50.0, 50.0)
                           if len(s.points) > 2])
    # From the right the edge lies on the shell's circle.
    assert np.hypot(*edge.T) == pytest.approx(np.full(len(edge), 20.0), abs=1e-3)


def test_a_plate_with_a_width_is_drawn_as_its_slab():
    # From above: 30 either side of its points; from the right: its thickness below the face.
    tube = Tube(Plate(5, 60), (0, 0, 0), (100, 0, 0), "plate")
    piece = make_piece(tube, plain_end(tube, "start"), plain_end(tube, "end"))
    above = np.concatenate([s.points for s in outline(piece, FROM_ABOVE)])
    right = np.concatenate([s.points for s in outline(piece, FROM_RIGHT)])
    assert np.ptp(above, axis=0) == pytest.approx([100, 60], abs=1e-6)
    assert [right[:, 1].min(), right[:, 1].max()] == pytest.approx([-5, 0], abs=1e-6)


def test_a_plate_without_a_width_is_the_line_between_its_points():
    tube = Tube(Plate(5), (0, 0, 0), (100, 0, 20), "plate")
    piece = make_piece(tube, plain_end(tube, "start"), plain_end(tube, "end"))
    stroke, = outline(piece, FROM_RIGHT)
    assert stroke.points.tolist() == [[0, 0], [100, 20]]


def test_a_main_comes_before_what_seats_on_it_and_else_the_order_stays():
    shell = plain(Round(40, wall=3), (0, -34, 0), (0, 34, 0), "shell")
    tube = Tube(Round(20, wall=1), (0, 0, 0), (-300, 0, 0), "stay")
    stay = make_piece(tube, shape_end(tube, "start", [shell.tube]), plain_end(tube, "end"))
    other = plain(Round(20, wall=1), (0, 90, 0), (90, 90, 0), "other")
    names = [piece.tube.name for piece in work_order((stay, other, shell))]
    assert names == ["other", "shell", "stay"]


def test_a_box_shows_the_two_flats_that_face_the_eye():
    piece = plain(Box(40, 20, corner=3, wall=1), (0, 0, 0), (200, 0, 0))
    view = view_towards(np.array((0.0, -1.0, 1.0)), np.array((0.0, 0.0, 1.0)))
    along = [s for s in outline(piece, view) if len(s.points) == 2]
    # Two flanks; two lines each at the corner between the flats that are seen, one at each rim.
    assert len(along) == 6
