"""Mitres, faces and twins of a job: who is cut with whom, and what cannot be."""

import numpy as np
import pytest

from coper import make_pieces, parse_job
from coper.bench.setup import piece_setups
from coper.frame.outline import skin
from coper.job.faults import JobError
from coper.sheets.setup_card import end_card
from coper.verbs.job import job
from tests.cli.run import run

SHAPE = 'shape = "box 40 by 40 corner 3 x 2"\n'
FRAME = f"""\
[tubes.side]
{SHAPE}start = {{ at = [0, 300, 0], mitre = "back" }}
end = {{ at = [900, 300, 0] }}
mirror = true
[tubes.back]
{SHAPE}start = {{ at = [0, 300, 0] }}
end = {{ at = [0, -300, 0] }}
[tubes.front]
{SHAPE}start = {{ at = [900, 300, 0], mitre = "side" }}
end = {{ at = [900, -300, 0], mitre = "side" }}
"""
LEG = """\
[tubes.leg]
shape = "28.6 x 1.5"
start = { at = [400, 200, 0], face = [0, 0, 1] }
end = { at = [400, 0, 500], twin = true }
mirror = true
"""


def pieces(text):
    return {piece.label: piece for piece in make_pieces(parse_job(text))}


def fault(text):
    with pytest.raises(JobError) as caught:
        make_pieces(parse_job(text))
    return str(caught.value)


def test_it_is_enough_that_one_of_two_ends_names_the_other():
    made = pieces(FRAME)
    partners = {(label, end.which): end.flat.partner
                for label, piece in made.items() for end in piece.ends}
    assert partners == {
        ("side left", "start"): "back", ("side left", "end"): "front",
        ("side right", "start"): "back", ("side right", "end"): "front",
        ("back", "start"): "side left", ("back", "end"): "side right",
        ("front", "start"): "side left", ("front", "end"): "side right"}
    assert [made[name].blank for name in ("side left", "back")] == pytest.approx([940, 640])
    both = FRAME.replace("at = [0, -300, 0] }", 'at = [0, -300, 0], mitre = "side" }')
    assert pieces(both)["back"].end.outer == pytest.approx(made["back"].end.outer)


def test_the_long_side_of_every_mitre_is_outside():
    for piece in pieces(FRAME).values():
        for end in piece.ends:
            edge = piece.tube.seen_from(end.which)[1].outward(end.cope.points)
            # All of the edge is in a plane through the corner and the middle of the frame's ends.
            corner = piece.tube.start if end.which == "start" else piece.tube.end
            inwards = np.sign((450, 0, 0) - corner * (1, 1, 0))
            off = edge - corner
            assert off[:, 0] * inwards[0] == pytest.approx(off[:, 1] * inwards[1], abs=1e-9)


def test_a_twin_meets_its_mirror_image_in_the_middle_plane_and_a_face_is_mirrored_too():
    made = pieces(LEG + "")
    for piece in made.values():
        apex = piece.tube.seen_from("end")[1].outward(piece.end.cope.points)
        assert apex[:, 1] == pytest.approx(np.zeros(len(apex)), abs=1e-9)
        foot = piece.tube.seen_from("start")[1].outward(piece.start.cope.points)
        assert foot[:, 2] == pytest.approx(np.zeros(len(foot)), abs=1e-9)
    slanted = pieces(LEG.replace("[0, 0, 1]", "[0, 1, 1]"))
    for piece, way in ((slanted["leg left"], (0, 1, 1)), (slanted["leg right"], (0, -1, 1))):
        edge = piece.tube.seen_from("start")[1].outward(piece.start.cope.points)
        assert (edge - piece.tube.start) @ way == pytest.approx(np.zeros(len(edge)), abs=1e-9)


def test_mitred_tubes_do_not_run_through_each_other_and_are_alike():
    shaped = job(parse_job(FRAME + LEG.replace("200, 0]", "200, 30]"))).result
    assert shaped.clashes == ()
    assert sorted(group.count for group in shaped.cut_list.alike) == [2, 2, 2]


def test_terminal_json_and_packet_say_how_it_is_sawn(tmp_path):
    file = tmp_path / "frame.toml"
    file.write_text(FRAME + LEG)
    status, out, _ = run("job", str(file))
    assert status == 0
    for words in ("start        mitred with back, 45° from square",
                  "cut along its face, 21.8° from square",
                  "mitred with leg right, 68.2° from square"):
        assert words in out
    record = job(parse_job(FRAME + LEG)).record()
    start = record["tubes"][0]["ends"]["start"]
    assert (start["on"], start["mains"], start["flat"]["partner"]) == ([], [], "back")
    assert start["setup"]["chop"]["angle"] == pytest.approx(45)
    assert (start["setup"]["chop"]["fence"], start["setup"]["chop"]["lean"]) == (0, 0)
    pages = " ".join(job(parse_job(FRAME + LEG)).svg())
    assert "Lay the tube with clock 0 against the fence." in pages
    assert "mitred with back, 45° from square" in pages


def test_the_side_at_the_fence_is_outside_by_the_tubes_own_clock_in_json_and_on_the_card():
    shaped = job(parse_job(FRAME))
    for piece, tube in zip(shaped.result.pieces, shaped.record()["tubes"], strict=True):
        outside = piece.tube.middle - (450, 0, 0)
        for setup in piece_setups(piece):
            own = tube["ends"][setup.end.which]["setup"]["chop"]["fence"]
            side = skin(piece, np.array([own]), np.array([200.0]))[0]
            middle = skin(piece, np.array([0.0, 180.0]), np.full(2, 200.0)).mean(axis=0)
            assert (side - middle) @ outside > 0
            assert f"Lay the tube with clock {own:.0f} against the fence." in end_card(
                piece, setup).chop


@pytest.mark.parametrize(("allowance", "says"), [
    ("", "to the blank's end"), ("[shop]\nallowance = 2\n", "2.00 mm from the blank's end")])
def test_the_card_says_where_on_the_blank_the_longest_point_of_either_end_is(allowance, says):
    for piece in make_pieces(parse_job(allowance + FRAME)):
        for setup in piece_setups(piece):
            assert end_card(piece, setup).chop[-1] == f"Its longest point comes {says}."


@pytest.mark.parametrize(("old", "new", "says"), [
    ('mitre = "back"', 'mitre = "bakc"', "tubes.side.start.mitre: 'bakc' is not"),
    ('mitre = "back"', 'mitre = "side"', "side is mitred with itself"),
    ('mitre = "back"', "mitre = 3", "tubes.side.start.mitre: 3 is not text"),
    ('mitre = "back"', 'mitre = "back", on = ["back"]', "says on too; keep on or mitre"),
    ('mitre = "back"', 'mitre = "back", back = 3', "cut in a plane through its point"),
    ('mitre = "back"', 'mitre = "back", cut = "square"', "seats on nothing and is cut in one"),
    ('mitre = "back"', "twin = true", "300 mm from the middle plane"),
    ('mitre = "back"', "twin = 1", "1 is neither true nor false"),
    ('mitre = "back"', "face = [0, 0, 0]", "0, 0, 0 is no direction"),
    ('mitre = "back"', "face = [0, 1, 0]", "too flat to saw"),
    ("at = [0, 300, 0] }", "at = [0, 303, 0] }", "the nearest end of back is 3 mm away"),
    ("at = [0, 300, 0] }", 'at = [0, 300, 0], face = [1, 0, 0] }', "the start of back says face"),
    ("at = [0, 300, 0] }", "at = [0, 300, 0], back = 2 }", "the start of back says back"),
    ("mirror = true\n", "", "the nearest end of side is"),
])
def test_what_cannot_be_mitred_is_said_in_one_line_with_what_mends_it(old, new, says):
    assert old in FRAME
    said = fault(FRAME.replace(old, new, 1))
    assert says in said and "; " in said


def test_a_tube_that_stands_already_is_no_partner():
    standing = FRAME.replace("end = { at = [0, -300, 0] }",
                             "end = { at = [0, -300, 0] }\nexisting = true")
    assert "back stands already, and is never cut; write on = [" in fault(standing)


def test_a_third_tube_at_a_corner_is_refused():
    third = f'[tubes.third]\n{SHAPE}start = {{ at = [0, 300, 0], mitre = "back" }}\n' \
            "end = { at = [0, 300, 400] }\n"
    assert "mitred with" in fault(FRAME + third) and "a corner has two tubes" in fault(
        FRAME + third)


def test_a_twin_needs_a_twin():
    assert "the tube has no twin; add mirror = true" in fault(LEG.replace("mirror = true\n", ""))


def test_a_bent_tube_is_mitred_on_its_straight_end():
    hoop = """\
[points]
top = [0, 0, 300]
[tubes.hoop]
shape = "30 x 2"
start = { at = [0, 0, 0], mitre = "rail" }
corners = ["top"]
bend = 90
end = { at = [200, 0, 300] }
[tubes.rail]
shape = "30 x 2"
start = { at = [0, 0, 0] }
end = { at = [400, 0, 0] }
"""
    made = pieces(hoop)
    assert made["hoop"].start.flat.from_square == pytest.approx(45)
    assert not any("stands over" in caution for piece in made.values()
                   for caution in piece.cautions)
