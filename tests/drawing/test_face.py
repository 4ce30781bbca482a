"""A smaller face draws its letters as the whole one does."""

import io
import re
from pathlib import Path

import matplotlib as mpl
import numpy as np
import pytest
from fontTools.ttLib import TTFont

from coper.drawing.advances import CHARACTERS
from coper.drawing.letters import EM
from coper.drawing.subset import make_subset


def face(bold=False):
    file = f"DejaVuSans{'-Bold' if bold else ''}.ttf"
    return Path(mpl.get_data_path(), "fonts", "ttf", file).read_bytes()


@pytest.mark.parametrize("bold", [False, True])
def test_every_number_of_a_smaller_face_is_its_letters_outline_and_width(bold):
    letters = "".join(dict.fromkeys("Hij ÄŁőЙё½→□" + CHARACTERS[::7]))
    made, whole = make_subset(face(bold), "Sans", letters), TTFont(io.BytesIO(face(bold)))
    small = TTFont(io.BytesIO(made.file))
    names, order = whole.getBestCmap(), small.getGlyphOrder()
    numbers = np.frombuffer(made.glyphs, ">u2").tolist()
    assert len(numbers) == len(letters) + 1 == len(made.widths) and numbers[0] == 0
    for number, width, letter in zip(numbers[1:], made.widths[1:], letters, strict=True):
        name = names[ord(letter)]
        assert small["hmtx"][order[number]] == whole["hmtx"][name]
        assert width == pytest.approx(whole["hmtx"][name][0] / EM * 1000)
        there, here = (font["glyf"][one].getCoordinates(font["glyf"])[:2]
                       for font, one in ((whole, name), (small, order[number])))
        np.testing.assert_array_equal(np.array(here[0]), np.array(there[0]))
        assert list(here[1]) == list(there[1])


def test_a_smaller_face_is_small_and_the_same_bytes_each_time():
    one, other = (make_subset(face(), "Sans", "coper 60m") for _ in range(2))
    assert len(one.file) < 4000 and one.file == other.file


def test_other_letters_have_another_tag():
    names = {make_subset(face(), "Sans", letters).name for letters in ("a", "b", "ab", "ba", "Ł")}
    assert len(names) == 5 and all(re.fullmatch(r"[A-Z]{6}\+Sans", name) for name in names)
