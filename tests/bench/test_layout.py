"""A frame on the table: places, angles, marks and tapes against other ways to find them."""

import math

import numpy as np
import pytest
from hypothesis import assume, example, given
from hypothesis import strategies as st
from scipy.spatial import ConvexHull
from scipy.spatial.distance import pdist, squareform

from coper import Bent, CoperError, Plate, Round, Tapered, Tube, make_piece, plain_end, shape_end
from coper.bench.layout.axis_marks import axis_marks, marked_axes
from coper.bench.layout.blocks import BlockSet
from coper.bench.layout.diagonals import FEW, diagonals, hull
from coper.bench.layout.layout import MARGIN_MM, Setting, Subject, make_layout
from coper.bench.layout.lying import seen_outline
from coper.bench.layout.spots import given_point, mark_spots
from coper.bench.layout.table import FlatTable
from coper.bicycle.standing import StandingWheel
from coper.bicycle.wheel import Wheel
from coper.telling.records.layout import layout_record
from coper.telling.words.layout import layout_grids, table_lines
from tests.profiles import examples, seeds

COORDINATE = st.floats(-400, 400)
POINT = st.tuples(COORDINATE, COORDINATE)


def piece(shape, start, end, name="tube", back=0.0):
    tube = Tube(shape, start, end, name)
    return make_piece(tube, plain_end(tube, "start"), plain_end(tube, "end", back))


def twins(shape, start, end, name="stay"):
    tube = Tube(shape, start, end, name, side="left")
    return tuple(make_piece(one, plain_end(one, "start"), plain_end(one, "end"))
                 for one in (tube, tube.mirrored()))


def layout(*pieces, points=None, axes=None, wheels=(), **setting):
    return make_layout(Subject(pieces, points or {}, axes or {}, wheels), Setting(**setting))


# A chain stay of 410 with a drop of 70 lies 403.980197534 along the edge (computed, Pythagoras).
STAY = piece(Round(20), (0, 0, 0), (-403.980197534, 0, 70), "stay")


def test_the_table_is_the_frame_seen_from_its_left_and_not_its_mirror_image():
    table = FlatTable(100, 50, 70, 0, 0)
    right, away, up = table.turned(np.eye(3)).T
    assert np.cross(right, away) == pytest.approx(up)
    assert table.placed(np.array((-415.0, 62.0, 58.0))) == pytest.approx((515, 108, 132))


def test_a_stay_of_410_with_a_drop_of_70_lies_where_pythagoras_puts_it():
    laid = layout(STAY, points={"axle": (-403.980197534, 0, 70)})
    tube, = laid.tubes
    assert tube.length == pytest.approx(410, abs=1e-8)
    start = laid.spots[1]
    axle = laid.spots[0]
    assert axle.at[0] - start.at[0] == pytest.approx(403.980197534)
    assert axle.at[1] - start.at[1] == pytest.approx(70)
    assert laid.drops[0].rise == 70
    assert tube.finder == pytest.approx(math.degrees(math.asin(70 / 410)))
    assert (tube.leans, tube.climb) == ("right", 0.0)


@given(POINT, POINT)
@examples(60)
def test_the_finder_reads_the_acute_angle_between_tube_and_edge(start, end):
    run = np.array((start[0] - end[0], end[1] - start[1]))
    assume(np.hypot(*run) >= 5)
    tube, = layout(piece(Round(20), (start[0], 3, start[1]), (end[0], 3, end[1]))).tubes
    acute = math.degrees(math.atan2(abs(run[1]), abs(run[0])))
    assert tube.finder == pytest.approx(acute, abs=1e-9)
    if 1e-6 < acute < 90 - 1e-6:
        assert tube.leans == ("right" if run[0] * run[1] > 0 else "left")


def test_a_tube_that_climbs_tells_its_climb_and_both_heights():
    tube, = layout(piece(Round(20), (0, 10, 0), (-300, 60, 0)), plane=40).tubes
    assert tube.climb == pytest.approx(math.degrees(math.atan2(50, 300)))
    climb = math.radians(tube.climb)
    # A section square to the tube reaches its radius times the cosine of the climb down, and that
    # place is the radius times the sine further up the tube than its middle.
    assert [one.gap.mm for one in tube.supports] == pytest.approx(
        [middle - 10 * math.cos(climb) for middle in (50, 100)])
    assert [one.centre for one in tube.supports] == pytest.approx(
        [middle + 10 * math.sin(climb) * math.tan(climb) for middle in (50, 100)])


def first_met(tube, table, at):
    """How high over the table a plumb line at ``at`` first meets a round or tapered tube.

    By the quadratic of a line and a cone.
    """
    start, end, thick, thin, over = tube
    axis = (end - start) / np.linalg.norm(end - start)
    slope = (thin - thick) / 2 / over
    foot = np.array((table.left - at[0], 0.0, at[1] - table.edge)) - start
    up = np.array((0.0, 1.0, 0.0))
    along, way = foot @ axis, up @ axis
    radius = thick / 2 + slope * along
    a = 1 - way**2 - (slope * way) ** 2
    b = (foot - along * axis) @ (up - way * axis) - radius * slope * way
    c = foot @ foot - along**2 - radius**2
    return table.plane + (-b - math.sqrt(b * b - a * c)) / a


@pytest.mark.parametrize("rise", [12.0, -40.0, 90.0, -180.0, 400.0])
@pytest.mark.parametrize("thin", [22.0, 14.0])
def test_a_plumb_line_at_the_told_place_meets_the_underside_as_high_as_told(rise, thin):
    start, end = np.array((-30.0, 20.0, 15.0)), np.array((-290.0, 20.0 + rise, 130.0))
    shape = Round(22) if thin == 22 else Tapered(22, thin, 300)
    laid = layout(piece(shape, tuple(start), tuple(end)), plane=260)
    axis = (end - start) / np.linalg.norm(end - start)
    for one in laid.tubes[0].supports:
        met = first_met((start, end, 22, thin, 300), laid.table, one.at)
        assert one.gap.mm == pytest.approx(met, abs=1e-3)
        x, z = laid.table.left - one.at[0], one.at[1] - laid.table.edge
        over = np.array((x, one.centre - 260, z))
        assert np.cross(over - start, axis) == pytest.approx(np.zeros(3), abs=1e-6)


def test_under_a_bend_that_rises_the_place_is_below_its_underside_too():
    # Radius 110 about (0, 60): its end rises by 39.5 degrees, where its centreline is not straight.
    hoop = Tube(Bent(16, 110), (-70, 60, 0), (70, 60, 0), "hoop", turn=90)
    laid = layout(make_piece(hoop, plain_end(hoop, "start"), plain_end(hoop, "end")), plane=200)
    for one in laid.tubes[0].supports:
        x = laid.table.left - one.at[0]
        middle = 260 + math.sqrt(110**2 - 70**2)
        assert one.gap.mm == pytest.approx(middle - math.sqrt(118**2 - x * x), abs=1e-3)
        assert one.centre == pytest.approx(middle - math.sqrt(110**2 - x * x), abs=1e-6)


def test_under_a_coped_tube_blocks_stand_where_it_is_whole():
    shell = piece(Round(40, wall=3), (0, -34, 0), (0, 34, 0), "shell")
    tube = Tube(Round(28.6, wall=0.9), (0, 0, 0), (0, 0, 300), "seat-tube")
    seat = make_piece(tube, shape_end(tube, "start", [shell.tube]), plain_end(tube, "end", 12))
    laid = layout(shell, seat, plane=50)
    upright, standing = laid.tubes
    assert upright.angle is None
    assert [(one.which, one.gap.mm) for one in upright.supports] == [("start", pytest.approx(16))]
    assert [one.along for one in standing.supports] == pytest.approx([20, 288])
    assert (standing.finder, standing.leans) == (pytest.approx(90), "")


def test_an_upright_tube_that_seats_on_another_needs_no_blocks():
    lower = piece(Round(30, wall=1), (0, -40, 0), (-300, -40, 0), "lower")
    tube = Tube(Round(16, wall=1), (-100, 40, 0), (-100, -40, 0), "bridge")
    bridge = make_piece(tube, plain_end(tube, "start"), shape_end(tube, "end", [lower.tube]))
    assert layout(lower, bridge).tubes[1].supports == ()


def test_the_lowest_of_a_bend_is_its_belly():
    # Chord 140 of radius 110 bulging down: sagitta 110 - sqrt(110^2 - 70^2), and its own radius.
    hoop = Tube(Bent(16, 110), (-70, 0, 0), (70, 0, 0), "hoop", turn=90)
    bent = make_piece(hoop, plain_end(hoop, "start"), plain_end(hoop, "end"))
    assert hoop.pose.axes[1][1] == pytest.approx(-1)
    laid = layout(bent)
    sagitta = 110 - math.sqrt(110**2 - 70**2)
    assert laid.lowest == ("hoop", pytest.approx(-(sagitta + 8), abs=1e-3))
    assert laid.tubes[0].bent and not laid.axes


def test_a_plate_lies_with_its_face_up_or_down():
    plate = Tube(Plate(6), (0, -20, 0), (-200, -20, 0), "plate")
    face = make_piece(plate, plain_end(plate, "start"), plain_end(plate, "end"))
    down = plate.pose.axes[1][1]
    assert layout(face).lowest[1] == pytest.approx(-20 - (6 if down > 0.5 else 0))


def test_the_middle_plane_stands_at_the_next_stack_that_clears_everything():
    blocks = BlockSet((76.2, 50.8, 25.4, 12.7, 3.175))
    shell = piece(Round(40), (0, -34, 0), (0, 34, 0), "shell")
    assert layout(shell, blocks=blocks).table.plane == pytest.approx(25.4 + 12.7)
    assert layout(shell).table.plane == 40
    assert layout(shell, plane=34).table.plane == 34


def test_a_plane_below_the_frame_is_refused_with_what_is_in_its_way():
    with pytest.raises(CoperError, match=r"axle-right, which reaches 65 mm .* give 65 or more"):
        layout(STAY, points={"axle-right": (-400, -65, 70)}, plane=60)


@pytest.mark.parametrize(("origin", "line"), [((1, 80), "left end"), ((80, 5), "front edge")])
def test_an_origin_that_puts_a_tube_off_the_table_is_refused(origin, line):
    with pytest.raises(CoperError, match=f"stay reaches .* mm or more from the {line}"):
        layout(STAY, origin=origin)


def test_by_itself_everything_lies_clear_of_edge_and_end_at_round_numbers():
    wheel = StandingWheel("rear", Wheel(293.5, 40), (-403.98, 0, 70))
    laid = layout(STAY, wheels=(wheel,))
    table = laid.table
    assert table.left % 10 == table.edge % 10 == table.width % 10 == table.depth % 10 == 0
    centre = np.array(laid.wheels[0].at)
    reach = np.concatenate([*seen_outline(STAY, table), [centre - 293.5, centre + 293.5]])
    assert (reach.min(axis=0) >= MARGIN_MM).all() and (reach.min(axis=0) < MARGIN_MM + 10).all()
    assert (reach.max(axis=0) <= np.array((table.width, table.depth)) - MARGIN_MM).all()


def test_a_wheel_over_the_edge_is_told_and_not_refused():
    wheel = StandingWheel("rear", Wheel(293.5, 40), (-403.98, 0, 70))
    said, = layout(STAY, wheels=(wheel,), origin=(60, 60)).cautions
    assert "rear wheel's circle reaches 163.5 mm over the front edge" in said


def test_twins_share_their_marks_and_keep_their_heights():
    pieces = twins(Tapered(22, 14, length=400), (-4, 21, 0), (-400, 60, 60))
    laid = layout(*pieces, points={"axle-left": (-400, 60, 60), "axle-right": (-400, -60, 60)},
                  plane=80)
    assert [sorted(point.height.mm for point in spot.points) for spot in laid.spots] == [
        pytest.approx([20, 20, 140, 140]), pytest.approx([59, 101])]
    axis, = laid.axes
    assert axis.names == ("stay left", "stay right")
    assert laid.spots[0].label == "1 axle"


@given(st.lists(POINT, min_size=1, max_size=25))
@examples(60)
def test_points_share_a_mark_only_where_they_stand_above_each_other(places):
    named = [given_point(str(n), np.array((x, y, 10.0 * n))) for n, (x, y) in enumerate(places)]
    spots = mark_spots(named, None)
    assert sum(len(spot.points) for spot in spots) == len(places)
    for spot in spots:
        for point in spot.points:
            assert math.dist(places[int(point.name)], spot.at) < 0.01


@given(st.lists(POINT, min_size=2, max_size=14, unique=True))
@example([(5e-200 * n, 0.0) for n in range(7)])
@example([(0.0, 0.0), (5e-200, 0.0), *((100.0 * n, 9.0 * n * n) for n in range(1, 7))])
@examples(60)
def test_the_tapes_measure_what_scipy_measures(places):
    marks = np.array(places)
    known = squareform(pdist(marks))
    for one in diagonals(marks):
        assert one.length == pytest.approx(known[one.one - 1, one.other - 1])
    if len(marks) <= FEW:
        assert len(diagonals(marks)) == len(marks) * (len(marks) - 1) // 2


def rank(marks, pairs):
    """Rank of the rigidity matrix: 2 n - 3 where the lengths fix every mark."""
    rows = np.zeros((len(pairs), 2 * len(marks)))
    for row, (one, other) in zip(rows, pairs, strict=True):
        row[2 * one:2 * one + 2] = marks[one] - marks[other]
        row[2 * other:2 * other + 2] = marks[other] - marks[one]
    return np.linalg.matrix_rank(rows)


@pytest.mark.parametrize("seed", seeds(12))
def test_the_tapes_fix_every_mark_and_their_number_grows_with_the_marks(seed):
    rng = np.random.default_rng(seed)
    marks = rng.uniform(0, 900, (rng.integers(4, 40), 2))
    pairs = [(one.one - 1, one.other - 1) for one in diagonals(marks)]
    assert rank(marks, pairs) == 2 * len(marks) - 3
    if len(marks) > FEW:
        assert len(pairs) == 2 * len(marks) - 3


def test_marks_in_one_line_are_taped_from_both_its_ends():
    marks = np.stack((np.arange(9.0) * 100, np.zeros(9)), axis=-1)
    assert {(one.one, one.other) for one in diagonals(marks)} == {
        (1, 9), *((1, n) for n in range(2, 9)), *((n, 9) for n in range(2, 9))}


@pytest.mark.parametrize("seed", seeds(6))
def test_the_hull_is_scipys(seed):
    points = np.random.default_rng(seed).normal(size=(60, 2))
    assert sorted(hull(points)) == sorted(ConvexHull(points).vertices.tolist())


def test_the_same_frame_elsewhere_on_the_table_has_the_same_diagonals():
    pieces = twins(Round(16), (-4, 21, 0), (-400, 60, 60))
    near, far = (layout(*pieces, STAY, origin=origin) for origin in ((60, 60), (437.2, 219.7)))
    assert [one.length for one in near.diagonals] == pytest.approx(
        [one.length for one in far.diagonals], abs=1e-9)


@given(st.tuples(st.floats(60, 840), st.floats(60, 440)), st.floats(0, 360))
@examples(100)
def test_both_marks_lie_on_the_axis_on_the_four_lines_and_on_either_side_of_the_tube(point, turn):
    way = np.array((math.cos(math.radians(turn)), math.sin(math.radians(turn))))
    point = np.array(point)
    one, other = axis_marks(point, way, 900.0, 500.0)
    for mark in (one, other):
        off = np.array(mark.at) - point
        assert off[0] * way[1] - off[1] * way[0] == pytest.approx(0, abs=1e-6)
        on = {"front edge": mark.at[1], "far line": mark.at[1] - 500,
              "left end": mark.at[0], "right line": mark.at[0] - 900}[mark.line]
        assert on == 0
        assert -1e-6 <= mark.at[0] <= 900 + 1e-6 and -1e-6 <= mark.at[1] <= 500 + 1e-6
        assert mark.distance == mark.at[0 if mark.line in ("front edge", "far line") else 1]
    assert (np.array(one.at) - point) @ way < 0 < (np.array(other.at) - point) @ way


def test_axes_that_fall_together_are_one_and_one_that_passes_by_is_none():
    point, way = np.array((100.0, 100.0)), np.array((0.6, 0.8))
    axes = [("seat-axis", point, way), ("seat-tube", point + 30 * way, -way),
            ("elsewhere", np.array((0.0, 900.0)), np.array((1.0, 0.0)))]
    axis, = marked_axes(axes, 500.0, 400.0)
    assert (axis.key, axis.names) == ("A1", ("seat-axis", "seat-tube"))


def test_the_record_and_the_words_tell_the_same_places():
    blocks = BlockSet((50.0, 20.0, 10.0, 5.0, 2.0, 1.0))
    laid = layout(STAY, points={"axle": (-403.980197534, 0, 70)}, blocks=blocks)
    record = layout_record(laid)
    grids = {grid.head: grid for grid in layout_grids(laid)}
    for row, point in zip(grids["Points"].rows, (record["points"][0], record["points"][2]),
                          strict=True):
        assert (row[1], row[3], row[5]) == tuple(
            f"{point[key]:.2f}" for key in ("from_left", "from_edge", "height"))
    assert record["drops"][0]["blocks"] == {"sizes": [50.0, 20.0], "shim": 0.0}
    assert grids["Drop"].rows[0][2] == "50 mm + 20 mm"
    assert f"{laid.table.plane:.2f} mm" in " ".join(table_lines(laid))
    assert grids["Diagonals"].rows[0][:3] == ("1 axle", "2 stay start", "410.00")


def test_inches_are_told_to_the_nearest_32nd():
    laid = layout(piece(Round(20), (0, 0, 0), (-123.4, 0, 0)), origin=(101.6, 102.5))
    rows = {grid.head: grid for grid in layout_grids(laid)}["Points"].rows
    assert (rows[0][2], rows[0][4]) == ("4", "4-1/32")  # 102.5 mm is 4.0354 in


def test_without_blocks_no_stack_is_told():
    laid = layout(STAY, points={"axle": (-403.98, 0, 70)})
    heads = [grid.head for grid in layout_grids(laid)]
    assert "Blocks for each height" not in heads
    assert all(point["blocks"] is None for point in layout_record(laid)["points"])
