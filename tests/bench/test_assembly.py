"""The order of work, tube by tube: what stands before what, what holds it, what is checked."""

import json
from functools import cache
from pathlib import Path

import numpy as np
import pytest

from coper import parse_job
from coper.bench.assembly.assembly import DROPOUT_MM
from coper.drawing.bounds import leaves
from coper.drawing.marks import Text
from coper.job.assembly import fitting_order, job_assembly
from coper.job.layout import job_layout
from coper.job.read import read_job
from coper.job.shaped import shape_job
from coper.sheets.order_of_work import order_blocks
from coper.sheets.packet import packet_pages
from coper.telling.lines import Fact
from coper.telling.records.assembly import assembly_record
from coper.telling.records.job import job_record
from coper.telling.words.assembly import assembly_lines, step_title
from coper.units import lengths_in
from coper.verbs.job import job as ask_job

TOP = Path(__file__).parents[2]
JOBS = [*sorted((TOP / "demo").glob("*.toml")),
        *sorted((TOP / "coper/job/starters").glob("*.toml"))]
BRIDGED = """\
[tubes.bridge]
shape = "12 x 1"
start = { at = [-150, 30, 30], on = ["stay"] }
end = { at = [-150, -30, 30], on = ["stay"] }

[tubes.stay]
shape = "16 x 1"
start = { at = [0, 20, 0], on = ["shell"] }
end = { at = [-300, 40, 60] }
mirror = true

[tubes.shell]
shape = "40 x 3"
start = { at = [0, -34, 0] }
end = { at = [0, 34, 0] }
"""
BENT = """\
[tubes.hoop]
shape = "20 x 2"
start = { at = [0, -200, 0], cap = 2 }
corners = [[0, -200, 300], [0, 200, 300]]
bend = 80
end = { at = [0, 200, 0], cap = 2 }
"""
RING = """\
[table]
lies = "flat"

[tubes.post]
shape = "box 20 by 20 corner 2 x 2"
start = { at = [20, 0, 0], on = ["front"] }
end = { at = [20, 0, 300] }

[tubes.front]
shape = "box 20 by 20 corner 2 x 2"
start = { at = [0, 0, 0], mitre = "left" }
end = { at = [400, 0, 0], mitre = "right" }

[tubes.back]
shape = "box 20 by 20 corner 2 x 2"
start = { at = [0, 300, 0], mitre = "left" }
end = { at = [400, 300, 0], mitre = "right" }

[tubes.left]
shape = "box 20 by 20 corner 2 x 2"
start = { at = [0, 0, 0] }
end = { at = [0, 300, 0] }

[tubes.right]
shape = "box 20 by 20 corner 2 x 2"
start = { at = [400, 0, 0] }
end = { at = [400, 300, 0] }
"""


@cache
def shaped(path):
    return shape_job(read_job(str(path)))


@cache
def made(path):
    return job_assembly(shaped(path))


def demo(name):
    return made(TOP / f"demo/{name}.toml")


def of_text(text):
    return job_assembly(shape_job(parse_job(text)))


def titles(assembly):
    return [step_title(step) for step in assembly.steps]


def said(assembly, units="mm"):
    """Every line by the title of its step, and what comes outside of all steps under ''."""
    with lengths_in(units):
        lines, title, found = list(assembly_lines(assembly)), "", {"": []}
    for line in lines:
        if isinstance(line, Fact):
            found[title] += [f"{line.name} {words}" for words in (line.words, *line.more)]
        elif line[:1].isdigit():
            title = line.partition(" ")[2]
            found[title] = []
        else:
            found[""].append(line)
    return found


def words_of(blocks):
    return " ".join(mark.words for block in blocks for mark in leaves(block.marks)
                    if isinstance(mark, Text))


@pytest.mark.parametrize("path", JOBS, ids=lambda path: path.stem)
def test_no_step_comes_before_what_it_seats_on(path):
    stands = {piece.label for piece in made(path).stands}
    for step in made(path).steps:
        for piece in step.pieces:
            for end in piece.ends:
                if end.flat is None:
                    assert {main.label for main in end.mains} <= stands, piece.label
        stands |= {piece.label for piece in step.pieces}


@pytest.mark.parametrize("path", JOBS, ids=lambda path: path.stem)
def test_every_shaped_end_is_in_exactly_one_step_and_tacked_to_all_that_it_seats_on(path):
    pieces = [piece for piece in shaped(path).pieces if not piece.tube.existing]
    ends = [(one.piece.label, one.end.which) for step in made(path).steps for one in step.ends]
    assert sorted(ends) == sorted((piece.label, end.which) for piece in pieces
                                  for end in piece.ends)
    tacks = [(tack.label, tack.which, tack.to) for step in made(path).steps
             for tack in step.tacks]
    seats = [(piece.label, end.which, main.label) for piece in pieces for end in piece.ends
             if end.flat is None for main in end.mains]
    assert sorted(tack for tack in tacks if tack in seats) == sorted(seats)


@pytest.mark.parametrize("path", JOBS, ids=lambda path: path.stem)
def test_asked_for_by_itself_the_order_is_that_of_the_steps(path):
    assert fitting_order(shaped(path)) == tuple(
        piece for step in made(path).steps for piece in step.pieces)


@pytest.mark.parametrize("path", [TOP / "coper/job/starters/rear-end-mm.toml", BRIDGED, BENT],
                         ids=("rear-end", "bridged", "bent"))
def test_a_sheet_is_named_only_where_the_packet_has_it(path):
    job = shape_job(parse_job(path)) if isinstance(path, str) else shaped(path)
    sections = {title for one in packet_pages(job, lambda step: None).sections
                for title, _ in one.plan.listed}
    assembly = job_assembly(job)
    words = [line for lines in said(assembly).values() for line in lines]
    text = " ".join((*words, words_of(order_blocks(assembly))))
    for phrase, sheet in (("Is it straight?", "Is it straight?"), ("mark ", "On the table"),
                          ("layout on the table", "On the table"), ("sheet of bends", "Bends"),
                          ("sheet of caps", "outlines of caps"), ("cut list", "Cut list")):
        assert (phrase in text) <= any(sheet in one for one in sections), phrase
    assert ("Is it straight?" in text) == ("Is it straight?" in sections)


@pytest.mark.parametrize("path", JOBS, ids=lambda path: path.stem)
def test_a_length_to_check_is_that_between_the_two_cut_ends(path):
    pieces = {piece.label: piece for piece in shaped(path).pieces}
    for step in made(path).steps:
        for check in step.lengths:
            for pair in check.pairs:
                at = []
                for place in pair:
                    tube, end = pieces[place.label].tube, pieces[place.label].end_at(place.which)
                    way = tube.ways[place.which == "end"]
                    reach = end.reach - (tube.length if place.which == "end" else 0)
                    at.append(tube.point(place.which) + (0 if end.flat else reach) * way)
                assert np.linalg.norm(at[0] - at[1]) == pytest.approx(check.length, abs=0.05)


def test_a_bicycle_is_built_from_its_bracket_round_the_main_frame_to_the_stays_and_bridges():
    assert titles(demo("wagtail")) == [
        "shell", "seat-tube", "head-tube", "down-tube", "top-tube", "chain-stay left and right",
        "seat-stay left and right", "stay-bridge", "rack-hoop", "rack-rail"]


def test_a_trailer_is_built_from_its_ring_up():
    assert titles(demo("dipper")) == [
        "rail left and right", "tail, nose", "cross-rear, cross-front", "hoop",
        "stake left and right", "brace left and right", "tongue", "drawbar",
        "axle-plate left and right"]


def test_the_order_of_the_file_does_not_matter():
    assert titles(of_text(BRIDGED)) == ["shell", "stay left and right", "bridge"]
    assert titles(of_text(RING)) == ["front, back", "left, right", "post"]


def test_a_ring_is_squared_by_its_diagonals_as_soon_as_it_is_closed():
    check = of_text(RING).steps[1].lengths[0]
    assert check.length == pytest.approx(500) and check.on_layout
    first = demo("dipper").steps[1].lengths[0]
    assert first.length == pytest.approx(25.4 * np.hypot(38, 22)) and len(first.pairs) == 2


def test_a_seat_tube_is_square_to_its_shell_where_both_ends_of_that_are_as_far():
    check, = demo("wagtail").steps[1].lengths
    assert check.length == pytest.approx(np.hypot(440, 34))
    assert {(one.name, other.name) for one, other in check.pairs} == {
        ("seat-tube end", "shell start"), ("seat-tube end", "shell end")}


def test_stays_are_set_with_the_axle_in_and_their_own_sides_at_their_own_heights():
    lines = said(demo("wagtail"))["chain-stay left and right"]
    assert "hold the rear axle or a bar of 130.00 mm holds the dropouts apart" in lines
    assert ("hold chain-stay left end over mark 7, lug, 141.20 mm high, cut 15 mm short of it"
            in lines)
    assert "hold chain-stay right end over mark 7, 11.20 mm high, cut 15 mm short of it" in lines
    for side, end in (("left", "end"), ("right", "start")):
        assert (f"hold chain-stay {side} start seated on shell, axis 0.60 mm to the underside, "
                f"12.42 mm from its {end}" in lines)
    lines = said(demo("wagtail"))["seat-stay left and right"]
    for side in ("left", "right"):
        assert (f"hold seat-stay {side} start seated on seat-tube, axis 8.88 mm to the {side}, "
                "34.23 mm from its end" in lines)


def test_an_end_is_held_at_the_mark_and_height_of_the_layout():
    path = TOP / "demo/wagtail.toml"
    layout = job_layout(shaped(path).job, shaped(path).pieces)
    heights = {(spot.number, point.name): point.height.mm for spot in layout.spots
               for point in spot.points}
    stands = [(one.piece, one.end, one.stand) for step in made(path).steps for one in step.ends
              if one.stand is not None]
    assert len(stands) == 11
    for piece, end, stand in stands:
        assert heights[stand.mark, f"{piece.label} {end.which}"] == stand.height


def test_the_tracking_is_measured_once_the_bridge_is_in_and_not_where_there_is_no_log():
    steps = dict(zip(titles(demo("wagtail")), demo("wagtail").steps, strict=True))
    assert [title for title, step in steps.items() if step.track] == ["stay-bridge"]
    assert not any(step.track for step in demo("dipper").steps)
    words = words_of(order_blocks(demo("dipper")))
    assert "racking" not in words and "Order of work" in words


def test_a_bridge_comes_while_the_stays_are_still_held_apart():
    words = said(of_text(BRIDGED))
    assert any(line.startswith("hold a bar of 80.00 mm") for line in words["stay left and right"])
    assert any("stays in until it is welded" in line for line in words["bridge"])


def test_an_end_far_from_any_axle_is_held_by_a_bar_between_its_two_points():
    far = BRIDGED.replace("-300, 40, 60", f"{-400 + DROPOUT_MM + 1}, 40, 0")
    bicycle = "\n[bicycle]\ndrop = 0\nchain_stay = 400\nrear_hub = 80\nshell = 68\n"
    for text, axle in ((far, ""), (far.replace("-339.0", "-345"), "axle")):
        stay = of_text(text.replace("-150, 30, 30", "-150, 30, 0").replace(
            "-150, -30, 30", "-150, -30, 0") + bicycle).steps[1]
        assert [spacer.axle for spacer in stay.spacers] == [axle]


def test_what_stands_already_is_clamped_and_in_no_step():
    text = BRIDGED + "existing = true\n"
    assert titles(of_text(text)) == ["stay left and right", "bridge"]
    assert any("There already" in line and "shell" in line for line in said(of_text(text))[""])


def test_nothing_is_measured_from_an_end_that_stands_inside_another_tube():
    path = TOP / "coper/job/starters/rear-end-mm.toml"
    names = {place.name for step in made(path).steps for check in step.lengths
             for pair in check.pairs for place in pair}
    assert "seat-tube end" in names and "seat-tube start" not in names


def test_alike_pieces_and_twins_are_one_step_with_their_blank_said_once():
    lines = said(demo("dipper"), "in")["cross-rear, cross-front"]
    assert lines[0] == "cut to 20-3/4 in"
    assert ("hold cross-front end seated on rail right, axes cross 13.000 in from its end") in lines


def test_where_no_length_can_be_taken_the_angle_is():
    angles = [(one.label, one.to, round(one.angle, 2))
              for one in dict(zip(titles(demo("dipper")), demo("dipper").steps,
                                  strict=True))["brace left and right"].angles]
    assert angles == [("brace left", "rail left", 36.03), ("brace left", "hoop", 126.03),
                      ("brace right", "rail right", 36.03), ("brace right", "hoop", 53.97)]


def test_the_job_says_its_order_in_words_in_json_and_on_paper():
    answer = ask_job(shaped(TOP / "demo/wagtail.toml").job)
    assert "order of work, tube by tube" in list(answer.lines())
    bent = shape_job(parse_job(BENT))
    assert job_record(bent, job_assembly(bent))["order"]["sheets"]["bends"]
    order = json.loads(json.dumps(assembly_record(demo("wagtail"))))
    assert order["sheets"] == {"layout": True, "bends": True, "tracking": True}
    stays = order["steps"][5]
    assert [(tube["name"], tube["side"]) for tube in stays["tubes"]] == [
        ("chain-stay", "left"), ("chain-stay", "right")]
    assert stays["apart"] == [{"axle": "axle", "length": 130.0}]
    left, right = stays["checks"]["heights"]
    assert (left["side"], right["side"]) == ("left", "right")
    spacing = stays["checks"]["lengths"][1]["length"]
    assert left["height"] - right["height"] == pytest.approx(spacing)
    words = words_of(order_blocks(demo("wagtail")))
    assert "6. chain-stay left and right" in words and "409.35 mm" in words
