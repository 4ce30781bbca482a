"""A frame that lies flat: from the left end is x, from the front edge is y, the height is z."""

import math

import numpy as np
import pytest

from coper import CoperError, Oval, Plate, Round, Tube, make_piece, plain_end
from coper.bench.layout.blocks import BlockSet
from coper.bench.layout.layout import Setting, Subject, make_layout
from coper.bench.layout.lying import centreline, seen_outline
from coper.bicycle.standing import StandingWheel
from coper.bicycle.wheel import Wheel
from coper.telling.records.layout import layout_record
from coper.telling.words.layout import table_lines
from tests.profiles import seeds

ORIGIN = (700.0, 650.0)


def piece(shape, start, end, name="tube", **lies):
    tube = Tube(shape, start, end, name, **lies)
    return make_piece(tube, plain_end(tube, "start"), plain_end(tube, "end"))


def flat(*pieces, points=None, wheels=(), **setting):
    return make_layout(Subject(pieces, points or {}, {}, wheels), Setting(lies="flat", **setting))


def on_table(point, high):
    """Where a point of the frame comes to stand: the test's own map, by the letters."""
    x, y, z = point
    return ORIGIN[0] + x, ORIGIN[1] + y, z + high


@pytest.mark.parametrize("seed", seeds(8))
def test_x_is_from_the_left_end_y_from_the_front_edge_and_z_the_height(seed):
    rng = np.random.default_rng(seed)
    points = {name: tuple(rng.uniform(-600, 600, 3).tolist()) for name in ("a", "b", "c")}
    rod = piece(Round(20), points["a"], points["b"], "rod")
    laid = flat(rod, points=points, origin=ORIGIN, plane=40.0)
    # A round tube's section reaches its radius times the cosine of its climb below its axis.
    run = np.array(points["b"]) - points["a"]
    lowest = min(points["c"][2], min(points["a"][2], points["b"][2])
                 - 10 * math.hypot(run[0], run[1]) / np.linalg.norm(run))
    known = {name: on_table(point, 40 - lowest) for name, point in points.items()}
    found = {point["name"]: (point["from_left"], point["from_edge"], point["height"])
             for point in layout_record(laid)["points"]}
    for name, place in known.items():
        assert found[name] == pytest.approx(place, abs=1e-3)
    assert (found["rod start"], found["rod end"]) == (found["a"], found["b"])
    assert centreline(rod, laid.table)[[0, -1]] == pytest.approx(
        np.array((known["a"], known["b"]))[:, :2], abs=1e-9)
    outline = np.concatenate(seen_outline(rod, laid.table))
    assert np.abs(outline - np.array(known["a"])[:2]).min(axis=0).max() < 20
    assert outline.max(axis=0) == pytest.approx(
        np.max((known["a"], known["b"]), axis=0)[:2], abs=10.001)
    tube, = laid.tubes
    assert tube.angle == pytest.approx(math.degrees(math.atan2(run[1], run[0])) % 180)
    assert tube.climb == pytest.approx(math.degrees(math.atan2(run[2], math.hypot(*run[:2]))))


def test_the_lowest_point_lies_on_the_table_unless_it_is_to_be_higher():
    rail = piece(Oval(60, 30), (0, 0, 100), (500, 0, 100), "rail", turn=90)  # 30 below its axis
    for asked, clear in ((None, 0.0), (0.0, 0.0), (25.4, 25.4)):
        laid = flat(rail, plane=asked, blocks=BlockSet((50.0, 20.0)))
        assert laid.lowest == ("rail", pytest.approx(70))
        assert laid.clear == pytest.approx(clear)
        assert [one.gap.mm for one in laid.tubes[0].supports] == pytest.approx([clear] * 2)
        table = layout_record(laid)["table"]
        assert (table["lies"], table["plane"]) == ("flat", pytest.approx(clear))
        assert table["origin_height"] == pytest.approx(clear - 70)
        assert table["lowest"] == {"name": "rail", "z": pytest.approx(70)}


def test_below_the_top_of_the_table_there_is_no_room():
    rail = piece(Round(20), (0, 0, 0), (500, 0, 0), "rail")
    with pytest.raises(CoperError, match=r"of rail, would be 5 mm below .*; give 0 or more"):
        flat(rail, plane=-5.0)


@pytest.mark.parametrize(("origin", "line"), [((80, 5), "front edge"), ((5, 80), "left end")])
def test_an_origin_that_puts_it_off_the_table_is_refused(origin, line):
    rod = piece(Round(20), (-60, -60, 0), (500, 300, 0), "rod")
    with pytest.raises(CoperError, match=rf"rod reaches .* mm or more from the {line}"):
        flat(rod, origin=origin)


def test_twins_have_marks_and_names_of_their_own():
    rail = Tube(Round(20), (0, 200, 0), (500, 200, 0), "rail", side="left")
    pieces = tuple(make_piece(one, plain_end(one, "start"), plain_end(one, "end"))
                   for one in (rail, rail.mirrored()))
    points = {"eye-left": (250.0, 200.0, 0.0), "eye-right": (250.0, -200.0, 0.0)}
    laid = flat(*pieces, points=points, origin=(100.0, 300.0))
    assert [(spot.label, spot.at) for spot in laid.spots] == [
        ("1 eye-left", (350, 500)), ("2 eye-right", (350, 100)),
        ("3 rail left start", (100, 500)), ("4 rail left end", (600, 500)),
        ("5 rail right start", (100, 100)), ("6 rail right end", (600, 100))]
    assert [axis.names for axis in laid.axes] == [("rail left",), ("rail right",)]


def test_wheels_and_drops_belong_to_a_frame_on_its_side():
    rail = piece(Round(20), (0, 0, 0), (500, 0, 0), "rail")
    wheel = StandingWheel("rear", Wheel(293.5, 40), (-400, 0, 70))
    laid = flat(rail, points={"axle": (-400.0, 0.0, 70.0)}, wheels=(wheel,))
    assert (laid.wheels, laid.drops) == ((), ())
    assert laid.table.width == 1000  # of 900 mm and 50 at either side


def test_of_a_plate_the_lower_face_is_the_lowest():
    plate = piece(Plate(6), (0, 0, 20), (500, 0, 20), "plate")
    face = plate.tube.pose.axes[1][2]
    assert abs(face) == pytest.approx(1)
    assert flat(plate).lowest[1] == pytest.approx(20 - 6 if face > 0 else 20)


def test_the_words_say_how_it_lies():
    rail = piece(Round(20), (0, 0, 100), (500, 0, 100), "rail")
    said = list(table_lines(flat(rail, origin=(60.0, 70.0), plane=12.7)))
    assert said[:4] == [
        "The frame lies flat: its front to the right, its left side away from you.",
        "Its origin, z = 0, is 77.30 mm (3-1/32 in) below the top of the table.",
        "Its origin stands 60.00 mm (2-3/8 in) from the left end and 70.00 mm (2-3/4 in) from the "
        "front edge.",
        "The lowest part is rail, 12.70 mm (1/2 in) above the table."]
