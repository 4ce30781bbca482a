"""The frame's picture shows it from its right, front to the right, and from above, left side up."""

import numpy as np
import pytest

from coper import Box, Round, Tube, make_piece, plain_end, shape_end
from coper.drawing.bounds import leaves
from coper.drawing.marks import HIDDEN, Group, Path
from coper.frame.view import view_towards
from coper.sheets.frame_picture import frame_marks
from coper.sheets.joint_picture import joint_marks


def bar(name, start, end, size=20.0):
    tube = Tube(Round(size, wall=1), start, end, name)
    return make_piece(tube, plain_end(tube, "start"), plain_end(tube, "end"))


# A long bar along the frame, and a short one that marks one corner: front, left and top.
LONG = bar("rail", (-500, 0, 0), (500, 0, 0))
CORNER = bar("peg", (400, 30, 50), (400, 230, 250))


def view(name):
    group = next(mark for mark in frame_marks([LONG, CORNER])
                 if isinstance(mark, Group) and mark.name == name)
    points = np.concatenate([mark.points for mark in leaves([group]) if isinstance(mark, Path)])
    return points - points.min(axis=0), np.ptp(points, axis=0)


@pytest.mark.parametrize("name", ["from-right", "from-above"])
def test_what_stands_in_front_left_and_up_is_drawn_right_and_up(name):
    points, (wide, high) = view(name)
    up = points[points[:, 1] > high / 2]
    # The peg crosses the rail at 900 of its 1000 mm, from its rear end.
    assert up[:, 0].mean() / wide == pytest.approx(0.9, abs=0.02)
    # Its top is 250 and 230 mm up, or to the left, of the rail's middle, which has 10 mm to spare.
    assert high / wide == pytest.approx((10 + (250 if name == "from-right" else 230)
                                         + 10 * np.sqrt(0.5)) / 1000, rel=0.02)


def test_the_view_from_above_stands_below_the_view_from_the_right():
    groups = {mark.name: np.concatenate([one.points for one in leaves([mark])
                                         if isinstance(one, Path)])
              for mark in frame_marks([LONG, CORNER]) if isinstance(mark, Group) and mark.marks
              and mark.name.startswith("from")}
    assert groups["from-above"][:, 1].max() < groups["from-right"][:, 1].min()


def test_of_a_rim_that_turns_away_from_the_eye_the_half_behind_the_tube_is_dashed():
    # From the right one looks towards +y. A tube that comes out towards the eye to the right turns
    # its left end away: of that rim the far half lies to the right, behind the tube's body.
    leaning = bar("leg", (0, 0, 0), (100, -60, 0), 30.0)
    group = next(mark for mark in frame_marks([leaning])
                 if isinstance(mark, Group) and mark.name == "from-right")
    edges = [mark for mark in leaves([group]) if isinstance(mark, Path) and len(mark.points) > 2]
    points = np.concatenate([mark.points for mark in edges])
    middle = (points[:, 0].min() + points[:, 0].max()) / 2
    rim = [mark for mark in edges if mark.points[:, 0].mean() < middle]
    hidden, seen = (np.concatenate([mark.points for mark in rim if (mark.pen == HIDDEN) == dashed])
                    for dashed in (True, False))
    assert hidden[:, 0].mean() > seen[:, 0].mean() + 2


def test_a_joint_is_seen_from_above_with_up_on_paper_up():
    shell = bar("shell", (0, -60, 0), (0, 60, 0), 40.0)
    tube = Tube(Round(20, wall=1), (0, 0, 0), (0, 5, 300), "post")
    post = make_piece(tube, shape_end(tube, "start", [shell.tube]), plain_end(tube, "end"))
    marks = joint_marks(post, post.start, {("shell", "centre"): shell}, "x")
    drawn = next(mark for mark in marks if isinstance(mark, Group) and mark.name == "joint")
    strokes = [mark.points for mark in leaves([drawn]) if isinstance(mark, Path)]
    # The post stands upright on the shell: its flanks go straight up to the top of the picture.
    highest = max(strokes, key=lambda points: points[:, 1].max())
    assert np.ptp(highest[:, 1]) > 3 * np.ptp(highest[:, 0])


@pytest.mark.parametrize("eye", [(1.0, 0.2, 0.5), (-0.4, 1.0, 0.3), (-1.0, -1.0, 0.1)])
def test_an_eye_sees_what_is_to_its_right_on_the_right_of_the_paper_and_up_is_up(eye):
    view = view_towards(np.array(eye), np.array((0.0, 0.0, 1.0)))
    # Seen from above with the eye at the bottom of the plan, right is a quarter turn on,
    # anticlockwise, from the direction to the eye.
    right = np.array((-eye[1], eye[0], 0.0))
    across, level = view.seen(right / np.linalg.norm(right))
    assert (across, level) == pytest.approx((1, 0), abs=1e-12)
    assert view.seen(np.array((0.0, 0.0, 1.0)))[1] > 0
    assert view.seen(np.array(eye)) == pytest.approx((0, 0), abs=1e-12)


def test_of_a_box_the_corner_nearest_the_eye_is_drawn_and_the_furthest_is_not():
    tube = Tube(Box(40, 20), (0, 0, 0), (300, 0, 0), "box", turn=25)
    box = make_piece(tube, plain_end(tube, "start"), plain_end(tube, "end"))
    shape, pose = tube.seen_from("start")
    corners = pose.outward(shape.generators(shape.corners()).points)
    # From the right the eye is at -y. The corners' heights are the places of their lines.
    near, far = corners[corners[:, 1].argmin(), 2], corners[corners[:, 1].argmax(), 2]
    group = next(mark for mark in frame_marks([box])
                 if isinstance(mark, Group) and mark.name == "from-right")
    lines = [mark.points for mark in leaves([group])
             if isinstance(mark, Path) and len(mark.points) == 2
             and np.ptp(mark.points[:, 0]) > 10 * np.ptp(mark.points[:, 1])]
    points = np.concatenate(lines)
    scale = np.ptp(points[:, 0]) / 300
    heights = (points[:, 1] - (points[:, 1].min() + points[:, 1].max()) / 2) / scale
    assert np.abs(heights - near).min() < 0.1 and np.abs(heights - far).min() > 1


def test_from_the_front_what_stands_left_is_drawn_right_and_up_is_up():
    marks = frame_marks([bar("rail", (0, -300, 0), (0, 300, 0)),
                         bar("peg", (0, 250, 0), (0, 250, 200))])
    group = next(mark for mark in marks if isinstance(mark, Group) and mark.name == "from-front")
    points = np.concatenate([mark.points for mark in leaves([group]) if isinstance(mark, Path)])
    points = points - points.min(axis=0)
    wide, high = points.max(axis=0)
    up = points[points[:, 1] > high / 2]
    # The peg stands 550 of 600 mm from the rail's right end, and 200 up from its middle.
    assert up[:, 0].mean() / wide == pytest.approx(550 / 600, abs=0.01)
    assert high / wide == pytest.approx((200 + 10) / 600, rel=0.02)


@pytest.mark.parametrize(("size", "stacked"), [((500, 60, 300), False), ((1600, 500, 120), True)])
def test_the_view_from_the_front_stands_beside_that_from_the_right_or_below_all(size, stacked):
    x, y, z = size
    marks = frame_marks([bar("low", (0, 0, 0), (x, 0, 0)), bar("cross", (0, 0, 0), (0, y, 0)),
                         bar("post", (0, 0, 0), (0, 0, z))])
    right, above, front = (
        np.concatenate([one.points for one in leaves([mark]) if isinstance(one, Path)])
        for mark in marks if isinstance(mark, Group) and mark.name.startswith("from"))
    if stacked:
        assert front[:, 1].max() < above[:, 1].min()
    else:
        assert front[:, 0].min() > right[:, 0].max()
        assert front[:, 1].min() == pytest.approx(right[:, 1].min(), abs=1e-6)
        assert front[:, 1].max() == pytest.approx(right[:, 1].max(), abs=1e-6)
