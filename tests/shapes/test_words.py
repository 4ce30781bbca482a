"""The words of a tube, before any shape is known."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coper.errors import WordsError
from coper.shapes.words import KEYWORDS, TubeWords, no_such_form, split_tube


@pytest.mark.parametrize(("text", "parts"), [
    ("28.6 x 0.9", (("", 28.6), ("x", 0.9))),
    ("28.6", (("", 28.6),)),
    ("1-1/8in x 0.035in", (("", 28.575), ("x", 0.889))),
    ('1 1/8" x 0.035"', (("", 28.575), ("x", 0.889))),
    ("around 89.8 x 0.9", (("around", 89.8), ("x", 0.9))),
    ("22.2 to 14 over 390 x 0.8", (("", 22.2), ("to", 14), ("over", 390), ("x", 0.8))),
    ("oval 30 by 17 x 0.9", (("oval", 30), ("by", 17), ("x", 0.9))),
    ("oval 30 by 17 to 14 over 380 x 0.8",
     (("oval", 30), ("by", 17), ("to", 14), ("over", 380), ("x", 0.8))),
    ("box 40 by 20 corner 3 x 1.5", (("box", 40), ("by", 20), ("corner", 3), ("x", 1.5))),
    ("plate 6", (("plate", 6),)),
    ("plate 6 by 80", (("plate", 6), ("by", 80))),
    ("25.4 bent to 120 x 0.9", (("", 25.4), ("bent to", 120), ("x", 0.9))),
])
def test_every_line_of_the_grammar_is_split_into_its_keywords(text, parts):
    assert split_tube(text).parts == parts


@pytest.mark.parametrize(("free", "plain"), [
    ("OVAL30by17x0.9", "oval 30 by 17 x 0.9"),
    ("28.6×0.9", "28.6 x 0.9"),
    ("28.6mmX0.9mm", "28.6 x 0.9"),
    ("22.2mmto1.4cmover390mmx0.8", "22.2 to 14 over 390 x 0.8"),
    ('1 1/8"x.035"', "1-1/8in x .035in"),
    ("25.4BENT  TO120", "25.4 bent to 120"),
    ("25.4mmbentto120", "25.4 bent to 120"),
    ("  28.6\tx\n0.9 ", "28.6 x 0.9"),
    ("28.6 x 18 gauge bwg", "28.6 x 18bwg"),
])
def test_case_spaces_and_the_sign_of_the_wall_are_free(free, plain):
    assert split_tube(free).parts == split_tube(plain).parts


def test_bare_numbers_are_in_the_unit_of_the_job():
    assert split_tube("1-1/8 x 0.9mm", "in").parts == (("", 28.575), ("x", 0.9))


def test_only_a_wall_may_be_a_gauge():
    assert split_tube("28.6 x 18bwg").get("x") == pytest.approx(0.049 * 25.4, abs=1e-9)
    with pytest.raises(WordsError, match="a gauge is for walls only"):
        split_tube("18bwg x 0.9")


def test_parts_are_found_by_their_keyword():
    words = split_tube("22.2 to 14 over 390")
    assert words.keys == ("", "to", "over")
    assert words.get("") == 22.2
    assert words.get("over") == 390
    assert words.get("x") is None


def test_the_words_keep_the_text_as_it_came_on_one_line():
    assert split_tube(" 28.6\n X 0.9 ").text == "28.6 X 0.9"


@given(st.lists(st.sampled_from(KEYWORDS), unique=True, max_size=6),
       st.lists(st.integers(1, 99_999), min_size=7, max_size=7),
       st.sampled_from(["", " "]))
def test_words_put_together_come_apart_again(keys, hundredths, space):
    sizes = [number / 100 for number in hundredths]
    parts = tuple(zip(["", *keys], sizes, strict=False))
    text = space.join(f"{key}{space}{size}" for key, size in parts)
    assert split_tube(text).parts == parts


BAD_TUBES = [
    ("", "no tube; write one such as 28.6 x 0.9"),
    ("  ", "no tube"),
    ("28.6 0.9", "28.6 0.9: no keyword says what 0.9 is; for a wall write 28.6 x 0.9"),
    ("28.6*0.9", "for a wall write 28.6 x 0.9"),
    ("28.6, 0.9", "for a wall write 28.6 x 0.9"),
    ("28.6mm 0.9mm", "for a wall write 28.6mm x 0.9mm"),
    ("28.6 18bwg", "for a wall write 28.6 x 18bwg"),
    ("oval 30 17 x 0.9", "no keyword says what 17 is; write one before it"),
    ("28,6 x 0.9", "28,6 x 0.9: 28,6: a comma is not a decimal point here; write 28.6"),
    ("28.6 x 0,9", "28.6 x 0,9: 0,9: a comma is not a decimal point here; write 0.9"),
    ("28,6", "28,6: a comma is not a decimal point here; write 28.6"),
    ("40 x 20 x 1.5", "x is given twice; keep it for the wall, and write by between two sides"),
    ("22 to 14 to 12", "22 to 14 to 12: to is given twice; keep one of them"),
    ("28.6 x", "28.6 x: x has no number after it; write it, such as x 0.9"),
    ("oval by 17", "oval by 17: oval has no number after it"),
    ("22.2 to 14 over", "over has no number after it"),
    ("28.6 y 0.9", "unknown word y; did you mean by?"),
    ("30 ovl 17", "unknown word ovl; did you mean oval?"),
    ("25.4 bent 120", "unknown word bent; did you mean bent to?"),
    ("round 28.6 x 0.9", "unknown word round; a round tube has no word before its diameter"),
    ("square 40 x 2", "unknown word square; write box 40 by 40"),
    ("28.6 x 0.9 wall", "unknown word wall; a wall is written x 0.9"),
    ("ø28.6 x 0.9", "unknown word ø; known are around, bent to, box"),
    ("28.6 inch x 0.9", "unknown word inch"),
    ("1e3 x 1", "unknown word e; write numbers without powers of ten"),
    ("nan x 0.9", "unknown word nan"),
    ("28.6 x 0", "28.6 x 0: 0: a wall must be above 0"),
    ("28.6 x -0.9", "-0.9: a wall must be above 0"),
    ("-28.6 x 0.9", "-28.6 x 0.9: -28.6 is not a size; write one above 0"),
    ("oval 30 by 0 x 0.9", "by 0 is not a size"),
    ("28.6 x 18ga", "28.6 x 18ga: 18ga: a gauge needs its system"),
    ("28.6 x 99swg", "99swg: Standard Wire Gauge has no 99 here"),
    ("1 9/8in x 0.9", "1 9/8in: the fraction after a whole number must be below 1"),
    ("1/0in x 0.9", "1/0in: the lower number of the fraction is 0"),
    ("28.6m bent to 900m", "900m: longer than 100 m"),
    ("28.6 x mm", "mm: no number in this length"),
    ("5'3 x 0.9", "no unit after the inches; write 5ft 3in"),
    ("28.6 x 0.9;", "0.9;: not a length"),
    ("28.6\x00 x\x1b 0.9", "28.6\\x00 x\\x1b 0.9: "),
    ("28.6 " + "very " * 100 + "x 0.9", "unknown word very"),
]


@pytest.mark.parametrize(("text", "says"), BAD_TUBES)
def test_words_that_make_no_tube_are_refused_in_one_line_that_says_why(text, says):
    with pytest.raises(WordsError) as caught:
        split_tube(text)
    message = str(caught.value)
    assert says in message
    assert message.isprintable()
    assert len(message) < 250


@given(st.text(alphabet="0123456789 ./-,\"×xXovalbyentrmi", max_size=20))
def test_any_text_is_positive_parts_or_a_clear_refusal(text):
    try:
        parts = split_tube(text).parts
    except WordsError as error:
        assert str(error).isprintable()
    else:
        assert parts
        assert all(length > 0 for _, length in parts)


def test_words_of_no_known_form_are_answered_with_the_forms_in_one_line():
    words = TubeWords("plate 6 by 3", (("plate", 6.0), ("by", 3.0)))
    error = no_such_form(words, ["28.6 x 0.9", "plate 6"])
    assert isinstance(error, WordsError)
    assert str(error) == "plate 6 by 3: not a known form of tube; known are 28.6 x 0.9; plate 6"
