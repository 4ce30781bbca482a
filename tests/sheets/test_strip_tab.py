"""A strip says what it is, which way the body is, and how far its datum is from where."""

import re

import numpy as np
import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from coper import Joint, Round, Tapered
from coper.drawing.letters import text_width
from coper.drawing.marks import Path, Text
from coper.job.frame import make_pieces
from coper.job.read import read_job
from coper.pages.lettered import PAGED, lettered
from coper.sheets.joint_sheet import joint_strip
from coper.sheets.strip_lettering import clear_level
from coper.sheets.strip_marks import strip_marks
from coper.sheets.strip_tab import tab_lines
from coper.sheets.tube_templates import piece_strips
from coper.units import lengths_in
from tests.pages.page_check import leaves
from tests.profiles import examples

JOBS = {name: read_job(f"demo/{name}.toml") for name in ("wagtail", "dipper")}
PIECES = {name: make_pieces(job) for name, job in JOBS.items()}


def marks_of(name):
    """Every piece of a demo with its strips' marks, by the end that each is of."""
    with lengths_in(JOBS[name].units):
        for piece in PIECES[name]:
            if not any(end.cope is not None for end in piece.ends):
                continue
            strips = dict(piece_strips(piece, 0.1, 10.0))
            yield piece, {which: (strip, list(leaves(strip_marks(strip))))
                          for which, strip in strips.items()}


def said_of(marks, name=""):
    return [mark.words for mark in marks if isinstance(mark, Text) and mark.name == name]


@pytest.mark.parametrize("name", JOBS)
def test_a_tape_from_datum_to_datum_reads_what_they_say_and_so_it_does_to_a_plain_end(name):
    unit = 25.4 if JOBS[name].units == "in" else 1.0
    checked = 0
    for piece, strips in marks_of(name):
        at = {}
        for which, (_, marks) in strips.items():
            lines = [mark.points for mark in marks if isinstance(mark, Path)
                     and mark.name == "datum"]
            if not lines or isinstance(piece.tube.shape, Tapered):
                continue
            # Of what does not taper the flat sheet's y is the place along the tube.
            at[which] = float(lines[0][:, 1].mean())
            words, = (words for words in said_of(marks) if "line to line" in words
                      or "to the plain" in words)
            far = float(re.match(r"[\d.]+", words)[0]) * unit
            assert far / unit % (0.25 if unit > 1 else 5) == 0
            if "to the plain end" in words:
                assert piece.end.reach - at[which] == pytest.approx(far, abs=1e-6)
                checked += 1
        if len(at) == 2:
            assert at["end"] - at["start"] == pytest.approx(far, abs=1e-6)
            checked += 1
    assert checked >= {"wagtail": 2, "dipper": 1}[name]


@pytest.mark.parametrize("name", JOBS)
def test_the_tab_names_the_side_that_the_tube_is_on_and_the_arrow_shows_its_body(name):
    sided = 0
    for piece, strips in marks_of(name):
        middle = piece.tube.middle[1]
        for which, (strip, marks) in strips.items():
            tab = " ".join(said_of(marks, PAGED))
            assert piece.tube.name[:6] in tab and "THIS SIDE OUT" in tab
            assert (" LEFT" in tab) == (piece.tube.side != "centre" and middle > 0)
            assert (" RIGHT" in tab) == (piece.tube.side != "centre" and middle < 0)
            sided += piece.tube.side != "centre"
            arrows = [mark.points for mark in marks if isinstance(mark, Path)
                      and mark.name == "to-the-body"]
            assert len(arrows) == (which != "whole")
            for tip, *foot in arrows:
                body = strip.up(strip.seam, strip.low) * (1 if which == "start" else -1)
                assert (tip - np.mean(foot, axis=0)) @ body > 5
                assert f", {which}" in tab
    assert sided >= 4


@given(st.floats(10, 40), st.floats(30, 150), st.floats(-6, 6), st.floats(-20, 60),
       st.floats(0, 360), st.sampled_from(["waste", "main's axis", "end of the blank"]))
@examples(60)
@example(34.0, 30.0, 5.75, 8.0, 42.0, "main's axis")
def test_words_round_the_tube_stand_on_no_cut_and_over_no_seam(
        diameter, angle, offset, along, clock, words):
    joint = Joint(Round(diameter, wall=0.9), Round(44.0), angle=angle, offset=offset)
    cope = joint.cope()
    strip = joint_strip(joint, cope, cope.drawn_template("bevelled", 0.1, joint.toe_clock), 10.0)
    text = clear_level(strip, words, clock, along, 2.5)
    half = text_width(words, 2.5) / 2
    girth = np.pi * (diameter + 0.1)
    if text is None:
        return
    assert half <= text.at[0] - strip.place(strip.seam, along)[0, 0] <= girth - half
    for off in np.linspace(-half, half, 41):
        cut = strip.edges[0].at(strip.seam + (text.at[0] - strip.place(strip.seam, along)[0, 0]
                                              + off) / girth * 360)
        assert np.isnan(cut) or not along - 0.3 < cut < along + 2.8


def test_the_page_is_named_once_the_letter_is_known_and_only_on_a_tab():
    tab, other = (Text((0.0, 0.0), "page WW", 2.5, name=name) for name in (PAGED, ""))
    assert [mark.words for mark in lettered((tab, other), "AC")] == ["page AC", "page WW"]


def test_phrases_fill_the_lines_in_their_order_and_the_name_is_never_left_out():
    wide = text_width("seat-tube, start  THIS SIDE OUT", 2.5)
    said = ("seat-tube, start", "THIS SIDE OUT", "page A", "on shell")
    assert tab_lines(said, wide, 2) == ["seat-tube, start  THIS SIDE OUT", "page A  on shell"]
    assert tab_lines(said, wide, 1) == ["seat-tube, start  THIS SIDE OUT"]
    short, = tab_lines(said[:1], 12.0, 1)
    assert 0 < text_width(short, 2.5) <= 12.0
