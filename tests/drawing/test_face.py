"""A smaller face draws its letters as the whole one does."""

import io
import re
from pathlib import Path

import matplotlib as mpl
import numpy as np
import pytest
from fontTools.ttLib import TTFont

from coper.drawing.advances import CHARACTERS
from coper.drawing.face import Face
from coper.drawing.subset import Subset, small_face


def data(bold):
    file = f"DejaVuSans{'-Bold' if bold else ''}.ttf"
    return Path(mpl.get_data_path(), "fonts", "ttf", file).read_bytes()


@pytest.mark.parametrize("bold", [False, True])
def test_a_face_knows_the_glyph_of_every_character_that_its_file_has(bold):
    face, font = Face(data(bold)), TTFont(io.BytesIO(data(bold)))
    numbers = font.getReverseGlyphMap()
    known = {code: numbers[name] for code, name in font.getBestCmap().items() if code < 0x10000}
    assert face.glyphs == known


@pytest.mark.parametrize("bold", [False, True])
def test_every_glyph_of_a_smaller_face_has_its_outline_and_its_width(bold):
    face, whole = Face(data(bold)), TTFont(io.BytesIO(data(bold)))
    letters = "Hij ÄŁőЙё½→□" + CHARACTERS[::7]
    small = TTFont(io.BytesIO(small_face(face, [face.glyphs[ord(one)] for one in letters])))
    names, order = whole.getBestCmap(), small.getGlyphOrder()
    for number, letter in enumerate(letters, 1):
        name = names[ord(letter)]
        assert small["hmtx"][order[number]] == whole["hmtx"][name]
        there, here = (font["glyf"][one].getCoordinates(font["glyf"])[:2]
                       for font, one in ((whole, name), (small, order[number])))
        np.testing.assert_array_equal(np.array(here[0]), np.array(there[0]))
        assert list(here[1]) == list(there[1])


def test_a_smaller_face_is_small():
    face = Face(data(False))
    assert len(small_face(face, [face.glyphs[ord(one)] for one in "coper 60 mm"])) < 4000


def test_other_letters_have_another_tag():
    face = Face(data(False))
    names = {Subset(face, letters, "Sans").name for letters in ("a", "b", "ab", "ba", "Ł")}
    assert len(names) == 5 and all(re.fullmatch(r"[A-Z]{6}\+Sans", name) for name in names)
