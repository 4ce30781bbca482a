"""How a box, an oval or a bend lies, as a builder says it: held against points of its own skin."""

import json
import math

import numpy as np
import pytest

from coper import Bent, Box, Oval, Tube, make_piece, make_pieces, parse_job, plain_end
from coper.drawing.bounds import leaves
from coper.drawing.marks import Text
from coper.frame.outline import skin
from coper.frame.standing import WAYS, turn_through, turn_to_bulge, turn_to_stand
from coper.job.faults import JobError
from coper.job.stock import job_cut_list
from coper.sheets.job_sheet import job_sheet_blocks
from coper.sheets.tube_templates import notes_block
from coper.telling.words.standing import stands_words
from tests.cli.run import run
from tests.profiles import seeds

CLOCKS = np.arange(0.0, 360.0, 0.25)


def heights(shape, ahead, turn):
    """How tall and how wide the section is: square to the tube, in its plumb plane and across."""
    tube = Tube(shape, (0, 0, 0), 100 * ahead, turn=turn)
    section = skin(make_piece(tube, plain_end(tube, "start"), plain_end(tube, "end")),
                   CLOCKS, np.full(CLOCKS.shape, 50.0))
    across = np.cross((0.0, 0.0, 1.0), ahead)
    across = across / np.linalg.norm(across)
    return np.ptp(section @ np.cross(ahead, across)), np.ptp(section @ across)


def random_way(rng):
    """A unit direction, 15 degrees or more from upright; often along x or y."""
    way = np.array((1.0, 0.0, 0.0)) if rng.random() < 0.2 else rng.normal(size=3)
    if rng.random() < 0.2:
        way = np.array((0.02, -1.0, 0.1))
    way = way / np.linalg.norm(way)
    return way if abs(way[2]) < math.cos(math.radians(15)) else random_way(rng)


@pytest.mark.parametrize("seed", seeds(12))
def test_the_side_that_is_said_to_stand_is_the_height_of_the_section(seed):
    rng = np.random.default_rng(seed)
    ahead = random_way(rng)
    small, large = np.sort(rng.uniform(15, 60, 2)).tolist()
    shape = Box(*rng.permutation((small, large)).tolist(), corner=2, wall=1) if seed % 2 else Oval(
        large, small, wall=1)
    for tall, wide in ((small, large), (large, small)):
        turn = turn_to_stand(shape, ahead, tall)
        assert abs(turn) <= 90 + 1e-6
        assert heights(shape, ahead, turn) == pytest.approx((tall, wide), abs=1e-6)
        tube = Tube(shape, (0, 0, 0), 300 * ahead, turn=turn)
        sizes = [round(size, 2) for size in (tall, wide)]
        assert stands_words(tube) == (
            "stands {0:g} tall, {1:g} wide" if tall > wide else "lies {1:g} wide, {0:g} tall"
        ).format(*sizes)


@pytest.mark.parametrize("seed", seeds(12))
def test_a_bend_bulges_as_near_to_the_way_that_is_said_as_any_turn_has_it(seed):
    rng = np.random.default_rng(seed)
    ahead, way = random_way(rng), rng.normal(size=3)
    way = way / np.linalg.norm(way)
    if abs(ahead @ way) > 0.95:
        return
    shape = Bent(20, 200, wall=1)

    def crown(turn):
        return Tube(shape, -100 * ahead, 100 * ahead, turn=turn).pose.origin @ way

    turn = turn_to_bulge(shape, ahead, way)
    assert -180 < turn <= 180
    rise = 200 - math.sqrt(200**2 - 100**2)
    assert crown(turn) == pytest.approx(rise * math.sqrt(1 - (ahead @ way) ** 2), abs=1e-9)
    assert all(crown(turn) > crown(turn + other) for other in (-1, 1, 90, 180))


@pytest.mark.parametrize("seed", seeds(12))
def test_the_arc_goes_through_the_point_and_a_point_off_it_is_refused_by_how_far(seed):
    rng = np.random.default_rng(seed)
    radius = rng.uniform(150, 400)
    shape = Bent(20, radius, wall=1)
    # An arc of its own: a circle about a centre, from one angle to another, less than half round.
    one, other, _ = np.linalg.qr(rng.normal(size=(3, 3)))[0].T
    begun, part = rng.uniform(0, 6), rng.uniform(0.4, 3.0)

    def at(share, out=0.0):
        angle = begun + share * part
        return (radius + out) * (math.cos(angle) * one + math.sin(angle) * other) + 50

    start, end, share = at(0), at(1), rng.uniform(0.3, 0.7)
    turn = turn_through(shape, start, end, at(share))
    crown = Tube(shape, start, end, turn=turn).pose.origin
    assert crown == pytest.approx(at(0.5), abs=1e-7)
    for out, side in ((7.25, "outside"), (-3.5, "inside")):
        if radius * (1 - math.cos(part / 4)) < 8:
            continue
        with pytest.raises(ValueError, match=f"the point is {abs(out):g} mm {side} an arc"):
            turn_through(shape, start, end, at(share, out))


def test_the_radius_that_is_offered_for_a_point_off_the_arc_goes_through_it():
    start, end, point = np.array(((0.0, 0.0, 0.0), (400.0, 0.0, 0.0), (150.0, 0.0, 60.0)))
    # From the centre, 100 sqrt(5) below the line, it is sqrt(50^2 + (60 + 223.607)^2): 12.02 short.
    with pytest.raises(ValueError, match=r"12\.02 mm inside .* or bend it to \d+") as caught:
        turn_through(Bent(25, 300), start, end, point)
    offered = float(caught.value.cure.split()[-2])
    assert turn_through(Bent(25, offered), start, end, point) == pytest.approx(0, abs=1e-9)


@pytest.mark.parametrize(("word", "way"), WAYS.items())
def test_the_six_words_are_the_six_ways_of_the_frame(word, way):
    known = {"up": (0, 0, 1), "down": (0, 0, -1), "left": (0, 1, 0), "right": (0, -1, 0),
             "front": (1, 0, 0), "back": (-1, 0, 0)}
    assert way == known[word]
    ends = (-70, 0, 0), (70, 0, 0)
    if way[0]:
        ends = (0, 0, -70), (0, 0, 70)
    tube, = tubes(tube_text("25 bent to 110 x 2", f'bulge = "{word}"', *ends))
    rise = 110 - math.sqrt(110**2 - 70**2)
    assert tube.pose.origin == pytest.approx(rise * np.array(way), abs=1e-9)
    to = word if way[2] else f"to the {word}"
    assert stands_words(tube) == f"bulges {to}, by {rise:.2f} mm"


def tube_text(shape, lies, start=(0, 0, 0), end=(400, 0, 0), name="rail"):
    return (f'[tubes.{name}]\nshape = "{shape}"\n{lies}\nstart = {{ at = {list(start)} }}\n'
            f"end = {{ at = {list(end)} }}\n")


def tubes(text):
    return [piece.tube for piece in make_pieces(parse_job(text))]


BOX, BEND = "box 60 by 30 x 2", "25 bent to 300 x 2"


@pytest.mark.parametrize(("shape", "lies", "said"), [
    (BOX, "tall = 60\nturn = 90", r"rail\.tall: turn already says .*; take out turn, or tall"),
    (BOX, 'tall = 60\nbulge = "up"', r"rail\.bulge: tall already says"),
    (BEND, 'through = [0, 0, 9]\nbulge = "up"', r"rail\.through: bulge already says"),
    (BOX, "tall = 31", r"tall: 31 mm is no side of box 60 by 30 x 2; give 60 or 30"),
    (BOX, "tall = -60", r"tall: -60 is not a size"),
    ("28 x 1", "tall = 28", r"tall: 28 x 1 is neither a box nor an oval, .*; take out tall"),
    (BOX, 'bulge = "up"', r"bulge: .* is no bend; take out bulge, or bend it"),
    (BEND, 'bulge = "sideways"', r"bulge: 'sideways' is not known; known are back, down"),
    (BEND, "bulge = 5", r"bulge: neither a word nor a direction; write \[x, y, z\]"),
    (BEND, "bulge = [0, 0, 0]", r"bulge: a direction without a length; write"),
    (BEND, 'bulge = "front"', r"bulge: the line from its start to its end runs that way"),
    (BEND, "through = [200, 0, 0]", r"through: the point lies on the straight line"),
    (BEND, "through = [200, 0, 86.393]", r"through: the point is 10 mm outside an arc"),
    (BEND, "through = [200, 0, 300]", r"outside .* the short way round"),
    (BEND, 'through = "top"', r"through: 'top' is not known"),
    ("28 x 1", 'bulge = "up"\ncorners = [[200, 0, 90]]\nbend = 100',
     r"bulge: the corners say where the tube is bent; take out bulge")])
def test_what_cannot_be_is_one_line_with_a_cure(shape, lies, said):
    with pytest.raises(JobError, match=said) as caught:
        parse_job(tube_text(shape, lies))
    assert len(caught.value.faults) == 1 and "\n" not in str(caught.value)


def test_no_side_of_an_upright_tube_is_the_tall_one():
    with pytest.raises(JobError, match=r"stands upright: none of its sides .* with turn"):
        parse_job(tube_text(BOX, "tall = 60", end=(20, 0, 400)))


def test_a_tube_without_a_length_is_one_fault_whatever_it_says():
    for shape, lies in ((BOX, "tall = 60"), (BEND, 'bulge = "up"'), (BEND, "through = [0, 0, 9]")):
        with pytest.raises(JobError) as caught:
            make_pieces(parse_job(tube_text(shape, lies, end=(0, 0, 0))))
        assert str(caught.value) == ("tubes.rail: start and end are the same point; "
                                     "move one of them")


def test_a_twin_lies_as_the_mirror_image_of_what_is_said():
    lies = 'tall = 60\nmirror = true'
    for tube in tubes(tube_text(BOX, lies, (0, 200, 0), (400, 260, 90))):
        assert stands_words(tube) == "stands 60 tall, 30 wide"
    left, right = tubes(tube_text(BEND, 'bulge = "left"\nmirror = true', (0, 200, 0),
                                  (400, 200, 0)))
    assert (stands_words(left), stands_words(right)) == (
        "bulges to the left, by 76.39 mm", "bulges to the right, by 76.39 mm")


def test_how_it_lies_is_in_the_terminal_and_in_the_json(tmp_path):
    file = tmp_path / "job.toml"
    file.write_text(tube_text(BOX, "tall = 60") + tube_text(BEND, "through = [200, 0, 76.4]",
                                                            name="bow")
                    + tube_text("28 x 1", "", name="plain")
                    + tube_text("oval 60 by 30 x 2", "turn = 20", end=(0, 0, 400), name="post"))
    status, out, _ = run("job", str(file))
    assert status == 0
    for said in ("stands 60 tall, 30 wide", "bulges up, by 76.39 mm",
                 "upright, 30 from front to back, 60 across, turned 20° clockwise"):
        assert said in out
    rail, bow, straight, post = (
        tube["stands"] for tube in json.loads(run("job", str(file), "--json")[1])["tubes"])
    assert rail == {"words": "stands 60 tall, 30 wide", "bulge": None, "section": {
        "tall": 60.0, "wide": 30.0, "turned": pytest.approx(0), "upright": False}}
    assert bow["section"] is None and bow["bulge"]["rise"] == pytest.approx(76.3932)
    assert bow["bulge"]["way"] == pytest.approx((0, 0, 1))
    assert straight is None
    assert (post["section"]["tall"], post["section"]["turned"]) == (30.0, pytest.approx(20))


def test_a_section_that_lies_in_two_ways_without_a_word_of_the_job_is_a_caution(tmp_path):
    file = tmp_path / "job.toml"
    along, across = tube_text(BOX, ""), tube_text(BOX, "", end=(0, 400, 0), name="cross")
    file.write_text(along + across)
    said = run("job", str(file))[1]
    assert ("! Box 60 by 30 x 2: rail lies 60 wide, 30 tall, but cross stands 60 tall, 30 wide; "
            "say which side stands up on each, with tall = 60 or 30\n") in said
    file.write_text(along + tube_text(BOX, "tall = 60", end=(0, 400, 0), name="cross"))
    assert "say which side" not in run("job", str(file))[1]


def test_a_hoop_with_corners_bulges_where_its_corners_are():
    hoop = tube_text("28 x 1", "corners = [[0, 0, 300], [0, 400, 300]]\nbend = 100",
                     end=(0, 400, 0))
    zigzag = tube_text("28 x 1", "corners = [[100, 0, 150], [300, 0, -150]]\nbend = 60")
    assert [stands_words(tube) for tube in (*tubes(hoop), *tubes(zigzag))] == ["bulges up", None]


def test_how_it_lies_stands_on_the_job_sheet_and_on_the_tubes_own_page():
    job = parse_job(tube_text(BOX, "tall = 60") + tube_text(
        "28 x 1", "", (0, 400, 0), (400, 400, 0), "round"))
    pieces = make_pieces(job)
    cuts = job_cut_list(job, pieces)
    sheet = [mark.words for block in job_sheet_blocks("", pieces, (), (), cuts, "")
             for mark in leaves(block.marks) if isinstance(mark, Text)]
    assert sheet[sheet.index("Which way they lie") + 1] == "rail: stands 60 tall, 30 wide"
    notes = [mark.words for mark in leaves(notes_block(pieces[0]).marks)
             if isinstance(mark, Text)]
    assert "Stands 60 tall, 30 wide." in notes
    plain = [mark.words for block in job_sheet_blocks("", pieces[1:], (), (), cuts, "")
             for mark in leaves(block.marks) if isinstance(mark, Text)]
    assert "Which way they lie" not in plain
