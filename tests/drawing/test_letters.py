"""Words are as wide as the face that prints them."""

from itertools import pairwise

import matplotlib as mpl
import pytest
from fontTools.ttLib import TTFont
from hypothesis import given
from hypothesis import strategies as st

from coper.drawing import letters
from coper.drawing.advances import CHARACTERS
from coper.drawing.letters import (
    CAP_EM,
    EM,
    MARK,
    drawable,
    lacking,
    shortened,
    shortened_name,
    text_width,
    wrap_text,
)

FACES = {False: "DejaVuSans.ttf", True: "DejaVuSans-Bold.ttf"}
SIGNS = "°×±–—·′″½¼¾≤≥→←↑↓µØ"
WORDS = st.text(alphabet="abcWil -1/½°", max_size=60)


def face(bold: bool) -> TTFont:
    return TTFont(f"{mpl.get_data_path()}/fonts/ttf/{FACES[bold]}")


@pytest.mark.parametrize("bold", [False, True])
def test_every_letter_has_the_advance_width_of_the_face(bold):
    font = face(bold)
    glyphs, advances = font.getBestCmap(), font["hmtx"]
    assert font["head"].unitsPerEm == EM
    for character in CHARACTERS:
        width = text_width(character, CAP_EM * EM, bold)
        assert width == pytest.approx(advances[glyphs[ord(character)]][0], rel=1e-12)


@pytest.mark.parametrize("bold", [False, True])
def test_the_height_of_letters_is_the_height_of_the_capital_h(bold):
    assert face(bold)["glyf"]["H"].yMax == CAP_EM * EM


def test_ascii_and_the_signs_of_the_trade_have_widths():
    for character in "".join(map(chr, range(32, 127))) + SIGNS:
        assert text_width(character, 2.5) > 0


def test_words_are_as_wide_as_their_letters_and_grow_with_their_height():
    apart = sum(text_width(letter, 3.5) for letter in "Toe 180°")
    assert text_width("Toe 180°", 3.5) == pytest.approx(apart)
    assert text_width("Toe 180°", 7.0) == pytest.approx(2 * apart)
    assert text_width("", 3.5) == 0


@pytest.mark.parametrize("letter", ["管", "\t", "\n", "😀", "\u0301", "\x00", "א"])
def test_a_letter_that_the_face_lacks_is_as_wide_as_the_mark_that_stands_for_it(letter):
    words = f"Rohr {letter}{letter} 1"
    assert lacking(words) == letter
    assert drawable(words) == f"Rohr {MARK}{MARK} 1"
    for bold in (False, True):
        assert text_width(words, 2.5, bold) == text_width(drawable(words), 2.5, bold)


@pytest.mark.parametrize("words", ["Łódź", "велосипед", "ποδήλατο", "kerékpár ő", "ČĎĚŘŽ ığ"])
def test_the_letters_of_europe_are_in_the_face(words):
    assert lacking(words) == "" and drawable(words) == words


@given(words=WORDS, width=st.floats(12.0, 90.0))
def test_wrapping_keeps_every_letter_and_no_line_is_too_wide(words, width):
    lines = wrap_text(words, width, 2.5)
    assert "".join(lines).replace(" ", "") == words.replace(" ", "")
    assert all(text_width(line, 2.5) <= width for line in lines)


@given(words=st.lists(st.text(alphabet="cut mark", min_size=1, max_size=8), max_size=30))
def test_wrapping_puts_as_many_words_on_a_line_as_fit(words):
    for line, after in pairwise(wrap_text(" ".join(words), 30.0, 2.5)):
        assert text_width(f"{line} {after.split()[0]}", 2.5) > 30.0


def test_a_word_wider_than_a_line_is_broken():
    lines = wrap_text("W" * 30, 20.0, 2.5)
    assert len(lines) > 1
    assert "".join(lines) == "W" * 30


def test_words_that_fit_are_not_shortened_and_others_end_in_an_ellipsis():
    assert shortened("short", 50.0, 2.5) == "short"
    cut = shortened("a long title " * 9, 50.0, 2.5)
    assert cut.endswith("…")
    assert 45.0 < text_width(cut, 2.5) <= 50.0


def test_a_name_that_is_shortened_still_says_which_end():
    name = "cross-member-between-the-two-rails-number-1"
    for end in ("start", "end"):
        told = shortened_name(f"{name}, {end}", 60.0, 3.5)
        assert told.endswith(f"…, {end}") and text_width(told, 3.5, bold=True) <= 60
    assert shortened_name("rail, end", 60.0, 3.5) == "rail, end"


@pytest.mark.parametrize("words", ["w" * 3000, "w " * 1500, "wide words " * 300])
@pytest.mark.parametrize("width", [12.0, 90.0, 5000.0])
def test_to_wrap_words_every_letter_is_measured_once(words, width, monkeypatch):
    measured = []

    class Counting(dict):
        def __getitem__(self, letter):
            measured.append(letter)
            return super().__getitem__(letter)

    monkeypatch.setattr(letters, "_WIDTHS", tuple(map(Counting, letters._WIDTHS)))
    lines = wrap_text(words, width, 2.5)
    assert "".join(lines).replace(" ", "") == words.replace(" ", "")
    assert len(measured) <= len(words) + 1
