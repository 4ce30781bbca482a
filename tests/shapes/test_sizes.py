"""Shapes in words, and the numbers that make none."""

import pytest

from coper import Bent, Box, CoperError, Oval, Plate, Round, Tapered, TaperedOval, parse_tube

WORDS = [
    ("28.6 x 0.9", Round(28.6, 0.9)),
    ("22.2 to 14 over 390 x 0.8", Tapered(22.2, 14, 390, 0.8)),
    ("oval 30 by 17 x 0.9", Oval(30, 17, 0.9)),
    ("oval 30 by 17 to 14 over 380 x 0.8", TaperedOval(30, 17, 14, 380, 0.8)),
    ("box 40 by 20 corner 3 x 1.5", Box(40, 20, 3, 1.5)),
    ("box 40 by 20 x 1.5", Box(40, 20, 0, 1.5)),
    ("plate 6", Plate(6)),
    ("25.4 bent to 120 x 0.9", Bent(25.4, 120, 0.9)),
]


@pytest.mark.parametrize(("text", "tube"), WORDS)
def test_the_words_of_the_design_make_their_tube_and_the_tube_says_them_again(text, tube):
    assert parse_tube(text) == tube
    assert tube.words() == text


@pytest.mark.parametrize(("text", "tube"), [
    ("22.2 to 14 over 390", Tapered(22.2, 14, 390)),
    ("oval 30 by 17", Oval(30, 17)),
    ("BOX 40 by 20 × 1.5 corner 3", Box(40, 20, 3, 1.5)),
    ("1in bent to 5in", Bent(25.4, 127)),
])
def test_the_wall_may_be_left_out_and_stand_anywhere(text, tube):
    assert parse_tube(text) == tube


@pytest.mark.parametrize("text", [
    "22.2 to 14", "22.2 over 390", "oval 30", "oval 30 by 17 to 14", "box 40", "plate 6 x 2",
    "28.6 corner 3", "oval 30 by 17 corner 3"])
def test_half_a_form_is_refused_with_the_forms_there_are(text):
    with pytest.raises(CoperError, match=r"not a known form of tube; known .*plate 6") as caught:
        parse_tube(text)
    assert str(caught.value).startswith(text)


@pytest.mark.parametrize(("make", "says"), [
    (lambda: Tapered(0, 14, 390), "first diameter 0 mm is not a size"),
    (lambda: Tapered(22, float("nan"), 390), "second diameter nan mm is not a size"),
    (lambda: Tapered(22, 14, -1), "taper length -1 mm is not a size"),
    (lambda: Tapered(22, 22, 300, 0.8), "write it as round: 22 x 0.8"),
    (lambda: Tapered(22, 14, 300, 7), "wall 7 mm is too thick for 14 mm; give a wall below 7 mm"),
    (lambda: Oval(17, 30), "below minor axis 30 mm; swap them: oval 30 by 17"),
    (lambda: Oval(30, 0), "minor axis 0 mm is not a size"),
    (lambda: Oval(30, 0.001), "flatter than any tube"),
    (lambda: Oval(30, 17, 8.5), "wall 8.5 mm is too thick for 17 mm"),
    (lambda: TaperedOval(17, 30, 14, 300), "swap them"),
    (lambda: TaperedOval(30, 17, 14, 0), "taper length 0 mm is not a size"),
    (lambda: TaperedOval(30, 17, -14, 300), "end diameter -14 mm is not a size"),
    (lambda: TaperedOval(30, 30, 14, 300, 1), "leave the oval out: 30 to 14 over 300 x 1"),
    (lambda: TaperedOval(30, 30, 30, 300), "leave the oval out: 30"),
    (lambda: TaperedOval(30, 17, 14, 300, 7), "wall 7 mm is too thick for 14 mm"),
    (lambda: Box(40, 20, 11), "corner 11 mm does not fit a side of 20 mm; give a corner radius of "
                              "0 to 10 mm"),
    (lambda: Box(40, 20, -1), "corner -1 mm does not fit"),
    (lambda: Box(40, 20, float("nan")), "corner nan mm does not fit"),
    (lambda: Box(40, float("inf")), "second side inf mm is not a size"),
    (lambda: Box(40, 20, 3, 10), "wall 10 mm is too thick for 20 mm"),
    (lambda: Plate(0), "thickness 0 mm is not a size"),
    (lambda: Bent(25.4, 12.7), "bend radius 12.7 mm is too tight for 25.4 mm; give the radius of "
                               "the centreline, above 12.7 mm"),
    (lambda: Bent(25.4, 120, 13), "wall 13 mm is too thick"),
])
def test_numbers_that_make_no_tube_are_refused_in_one_line_that_mends_them(make, says):
    with pytest.raises(CoperError) as caught:
        make()
    assert says in str(caught.value)
    assert "; " in str(caught.value)
    assert "\n" not in str(caught.value)
