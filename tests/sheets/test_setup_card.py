"""Set-up cards: what is drawn, what is said, and that it all has its place."""

from functools import cache

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from coper import Box, Joint, Oval, Plate, Round, Tapered, Tube, make_piece, plain_end, shape_end
from coper.bench.setup import SawShop, piece_setups
from coper.joint.fit.limits import process_limit
from coper.joint.saw.kit import choose_saws
from coper.pages.compose import compose
from coper.sheets.setup_card import end_card, joint_card
from coper.sheets.setup_card_marks import PANEL_MM, card_block, card_blocks, card_marks
from coper.sheets.setup_card_words import rows, steps
from coper.units import format_inches, format_mm
from tests.pages.room import LONG, check_room, path, paths, texts
from tests.profiles import examples
from tests.specimens import random_joint

SHELL = Tube(Round(40), (0, -34, 0), (0, 34, 0), "shell")
SEAT_TUBE = Tube(Round(28.6), (0, 0, 0), (-120, 0, 420), "seat tube")
POST = Tube(Round(30), (0, 10, -200), (0, 10, 200), "post")
USUAL = SawShop()
TIG = process_limit("tig")
JOINTS = {
    "plain": Joint(Round(28.6, 0.9), Round(38.1), 62, 3),
    "square": Joint(Round(28.6, 0.9), Round(38.1), 90),
    "no offset": Joint(Round(28.6, 0.9), Round(31.75), 70),
    "25 degrees": Joint(Round(28.6, 0.9), Round(34.925), 25),
    "obtuse": Joint(Round(28.6, 0.9), Round(38.1), 118.25, -6),
    "oval": Joint(Oval(30, 17, 0.9), Round(38.1), 110, -4, 30),
    "tapered": Joint(Tapered(22.2, 14, 390, 0.8), Round(38.1), 100, 2.5, 20),
    "two passes": Joint(Round(28.6, 0.9), Round(36), 62, 3),
}


def of_joint(joint, **more):
    return joint_card(joint, choose_saws(joint, enough=0.3).choices[0], TIG, **more)


def of_end(which, mains, name="stay", shop=USUAL, shape=None):
    points = ((0, 8, 1), (-400, 60, 60))
    tube = Tube(shape or Round(36, 0.9), *(points if which == "start" else points[::-1]), name)
    shaped = shape_end(tube, which, mains)
    other = plain_end(tube, "end" if which == "start" else "start")
    piece = make_piece(tube, *((shaped, other) if which == "start" else (other, shaped)))
    return piece, piece_setups(piece, shop)


def of_first(piece, setups):
    return end_card(piece, setups[0], TIG)


def named_main(main, name):
    return Tube(main.shape, main.start, main.end, name)


ENDS = {
    "two mains": ("end", (SEAT_TUBE, SHELL)),
    "three mains": ("start", (SEAT_TUBE, SHELL, POST)),
    "long names": ("start", (named_main(SEAT_TUBE, LONG), named_main(SHELL, LONG)), LONG),
    "no saw": ("start", (Tube(Plate(5), (0, -60, 0), (0, 60, 0), "tab", turn=-90),)),
    "small kit": ("start", (SEAT_TUBE, SHELL), "stay", SawShop((30.0,))),
}
CARDS = (*JOINTS, *ENDS)


@cache
def card_of(name):
    return of_joint(JOINTS[name]) if name in JOINTS else of_first(*of_end(*ENDS[name]))


@pytest.mark.parametrize("name", CARDS)
def test_no_words_overlap_and_nothing_leaves_the_frame(name):
    marks = card_marks(card_of(name))
    check_room(marks, path(marks, "card-frame"))


@examples(15)
@given(st.integers(0, 10**6))
def test_any_joint_that_a_saw_cuts_has_a_card_with_room_for_everything(seed):
    joint = random_joint(seed)
    kit = (joint.main.diameter + 200.0, joint.main.diameter)
    marks = card_marks(joint_card(joint, choose_saws(joint, kit).choices[0]))
    check_room(marks, path(marks, "card-frame"))


@pytest.mark.parametrize("name", CARDS)
def test_every_step_has_a_box_to_check_and_comes_in_the_order_of_work(name):
    card = card_of(name)
    marks = card_marks(card)
    all_steps = [step for cut in card.cuts for step in steps(card, cut)]
    assert len(paths(marks, "tick")) == len(all_steps)
    words = " ".join(text.words for text in texts(marks))
    at = -1
    for step in all_steps:
        begins = step.split()[0]
        assert (at := words.find(begins, at + 1)) >= 0
    sawn = [cut for cut in card.cuts if cut.passes]
    assert [next(steps(card, cut)).split()[0] for cut in sawn] == [
        "Clamp", "Turn", "Turn"][:len(sawn)]


@pytest.mark.parametrize("name", JOINTS)
def test_the_saws_axis_is_drawn_at_the_set_angle_leaning_to_the_heel(name):
    marks = card_marks(card_of(name))
    low, high = path(marks, "saw-axis-1")
    lean = np.degrees(np.arctan2(low[0] - high[0], high[1] - low[1]))
    assert lean == pytest.approx(abs(90 - JOINTS[name].angle), abs=1e-9)


@pytest.mark.parametrize("name", JOINTS)
def test_the_sketch_is_in_proportion(name):
    card = card_of(name)
    marks, cut = card_marks(card), card.cuts[0]
    beyond = path(marks, "beyond")
    tube = path(marks, "tube")  # its far end, from edge to edge
    joint = cut.joint
    far = cut.joint.branch.generators(np.linspace(0, 360, 3601)).at(np.full(3601, 60.0))
    ray = np.radians((0 if joint.angle <= 90 else 180) - joint.turn)
    wide = np.ptp(far[:, :2] @ (np.cos(ray), np.sin(ray)))
    drawn = abs(beyond[1, 0] - beyond[0, 0]) / abs(tube[1, 1] - tube[0, 1])
    assert drawn == pytest.approx(abs(cut.passes[0].beyond_blank) / wide, rel=0.06)
    axes, rim = paths(marks, "saw-beside-1"), path(marks, "rim")
    middle = path(marks, "heel")[0, 0]
    across = np.ptp(far[:, :2] @ (-np.sin(ray), np.cos(ray)))
    for axis, one in zip(axes, cut.passes, strict=True):
        sideways = (axis.points[0, 0] - middle) / np.ptp(rim[:, 0]) * across
        assert sideways == pytest.approx(one.sideways, rel=0.06, abs=0.01)


def test_a_positive_offset_has_the_saw_on_the_left_of_an_acute_joint_and_right_of_an_obtuse():
    assert card_of("plain").cuts[0].passes[0].sideways == -3
    assert card_of("obtuse").cuts[0].passes[0].sideways == -6  # offset -6
    assert "Saw's axis 3.00 mm left, looking at the end." in list(
        steps(card_of("plain"), card_of("plain").cuts[0]))


def test_the_card_tells_the_numbers_of_the_setting_in_mm_and_inches():
    card = card_of("plain")
    saw = card.cuts[0].passes[0].setting
    assert list(rows(card, card.cuts[0])) == [
        ("saw", "38.10 mm", "1-1/2 in", True),
        ("angle from square", "28°", "", True),
        ("axis beyond long point", format_mm(saw.centre_beyond_long_point),
         format_inches(saw.centre_beyond_long_point), True),
        ("offset left", "3.00 mm", "1/8 in", False),
        ("depth needed", format_mm(saw.depth_needed), "1-9/32 in", False),
    ]
    words = {text.words for text in texts(card_marks(card))}
    assert {"38.10 mm", "1-1/2 in", "28°", "3.00 mm", "1/8 in",
            "Expected, by saw: no gap."} <= words


def test_what_the_saw_is_set_by_is_read_at_arms_length_and_an_offset_of_none_is_no_row():
    card = card_of("no offset")
    large = {text.words for text in texts(card_marks(card)) if 5 <= text.height <= 7}
    assert {row.value for row in rows(card, card.cuts[0]) if row.large} == large
    assert len(large) == 3 and not any("offset" in row.label for row in rows(card, card.cuts[0]))


def test_a_square_end_has_no_heel_on_its_card():
    words = " ".join(text.words for text in texts(card_marks(card_of("square"))))
    assert "heel" not in words and "end, main + up" in words


def test_with_the_material_known_the_card_tells_one_speed():
    joint = JOINTS["plain"]
    words = [text.words for text in texts(card_marks(of_joint(joint, material="brass")))]
    assert "313 rpm" in words and not any("Speed" in word for word in words)
    words = " ".join(text.words for text in texts(card_marks(of_joint(joint))))
    assert "233 in mild steel" in words and "313 in brass" in words


def test_two_mains_have_a_panel_each_and_the_turn_between_them_in_words():
    card = card_of("two mains")
    words = " ".join(text.words for text in texts(card_marks(card)))
    assert "cut 1 of 2, on shell" in words and "cut 2 of 2, on seat tube" in words
    turn = card.cuts[1].turn
    way = "clockwise" if turn > 0 else "anticlockwise"
    assert f"Turn the tube {abs(turn):.1f}° {way}, looking at the" in words
    assert "no pilot drill" in words
    assert path(card_marks(card), "card-frame")[:, 0].max() > 2 * PANEL_MM


def test_too_shallow_a_saw_and_too_open_a_gap_are_named():
    words = " ".join(text.words for text in texts(card_marks(card_of("25 degrees"))))
    assert "TOO SHALLOW by" in words
    open_one = joint_card(JOINTS["two passes"], choose_saws(
        JOINTS["two passes"], (44.45,)).choices[0], TIG)
    assert any("TOO OPEN" in line for line in open_one.gaps)


STEEP = Joint(Round(28.6, 0.9), Round(36), 20)


@pytest.mark.parametrize("depth", [40.0, 42.0, 84.0])
def test_a_card_has_steps_and_a_verdict_only_for_a_cut_that_can_be_made(depth):
    card = joint_card(STEEP, choose_saws(STEEP, (36.0,), depth).choices[0], TIG)
    said = " ".join((*steps(card, card.cuts[0]), *card.gaps))
    made = 2 * depth > 83.7
    assert ("cut right through" in said) == (depth > 83.7)
    assert ("cut from both sides" in said) == (made and depth < 83.7)
    assert ("Other side: turn the tube half round" in said) == (made and depth < 83.7)
    assert ("Limit for tig 0.30 mm: good" in said) == made
    assert ("Wrap the template" in said) == (not made)
    assert ("saw 41.82 mm deep or more" in said) == (not made)


def test_an_end_of_a_job_whose_saws_are_too_shallow_is_cut_by_its_template():
    low = Tube(Round(36), (-300, 0, 0), (300, 0, 0), "low")
    tube = Tube(Round(28.6, 0.9), (0, 0, 0), (400, 0, 400 * np.tan(np.radians(20))), "brace")
    piece = make_piece(tube, shape_end(tube, "start", [low]), plain_end(tube, "end"))
    setup, = piece_setups(piece, SawShop((36.0,), 40.0))
    card = end_card(piece, setup, TIG)
    said = " ".join((*steps(card, card.cuts[0]), *card.gaps))
    assert "No hole saw: the cut is 83.62 mm deep" in said and "Wrap the template" in said
    assert not any(words in said for words in ("TOO SHALLOW", "Limit", "by saw"))


def test_a_flat_end_has_a_card_for_a_saw_with_a_fence_and_names_no_hole_saw():
    marks = card_marks(card_of("no saw"))
    words = " ".join(text.words for text in texts(marks))
    assert "Chop saw or band saw: the cut is flat" in words and "ole saw" not in words
    assert not paths(marks, "saw-axis-1") and paths(marks, "cut")
    first, second = card_of("small kit").cuts
    assert not first.passes and second.passes and second.turn == 0


def test_two_cards_of_one_pass_stand_side_by_side_on_a_page():
    piece, setups = of_end("start", [SHELL], shop=SawShop((41.275,)), shape=Round(25.4, 0.9))
    blocks = [block for _ in range(4) for block in card_blocks(piece, setups, TIG, "mild steel")]
    assert len(compose(blocks[:2], "a4")) == 1 and len(compose(blocks, "a4")) == 2
    assert len(compose(blocks, "letter")) == 2
    assert card_block(card_of("plain")).keep_upright


def test_a_boxs_section_stands_with_its_heel_up():
    joint = Joint(Box(40, 20, 2, 1.5), Round(50.8), 70, turn=90)
    rim = path(card_marks(of_joint(joint)), "rim")
    assert np.ptp(rim[:, 0]) == pytest.approx(2 * np.ptp(rim[:, 1]), rel=1e-6)
