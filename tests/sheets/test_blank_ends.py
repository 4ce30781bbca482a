"""Cut list, notes, strip and card count from one blank: sawn by its card, it fits its main."""

import math
import random
import re
from dataclasses import replace

import numpy as np
import pytest

from coper.drawing.marks import Group, Path, Text
from coper.frame.order import work_order
from coper.job.read import parse_job, read_job
from coper.job.setups import ShopSetups
from coper.job.shaped import shape_job
from coper.shapes.round import Round
from coper.sheets.setup_card import end_card
from coper.sheets.setup_card_words import steps
from coper.sheets.strip_marks import strip_marks
from coper.sheets.tube_templates import notes_block, piece_strips
from tests.cli.test_job import DEMO

PRINTED_MM = 0.0051
"""Lengths are printed to 0.01 mm."""


def random_job(seed, allowance=None):
    """A tube between two mains that lean at random, its blank with a random allowance."""
    at = random.Random(seed)
    left = at.uniform(0, 6) if allowance is None else allowance
    lean = [at.uniform(-120, 120) for _ in range(2)]
    sizes = [at.uniform(30, 45) for _ in range(2)]
    return parse_job(f'''
        [shop]
        saws = [{sizes[0]}, {sizes[1]}]
        depth = 500
        allowance = {left}
        [tubes.low]
        shape = "{sizes[0]} x 2"
        start = {{ at = [-300, 0, {-lean[0]}] }}
        end = {{ at = [300, 0, {lean[0]}] }}
        [tubes.high]
        shape = "{sizes[1]} x 2"
        start = {{ at = [-300, 0, {400 - lean[1]}] }}
        end = {{ at = [300, 0, {400 + lean[1]}] }}
        [tubes.post]
        shape = "{at.uniform(18, 28)} x 1"
        start = {{ at = [0, 0, 0], on = ["low"] }}
        end = {{ at = [0, 0, 400], on = ["high"] }}
    ''')


def demo():
    """The demo, with a saw of the size of every round main."""
    job = read_job(DEMO)
    saws = (*job.shop.saws, 40.0, 36.0, 31.8)
    return replace(job, shop=replace(job.shop, saws=saws))


JOBS = [demo, *(lambda seed=seed: random_job(seed) for seed in range(4))]


def leaves(marks):
    for mark in marks:
        if isinstance(mark, Group):
            yield from leaves(mark.marks)
        else:
            yield mark


def cut_lengths(shaped):
    """What the cut list says of each piece, by name and side."""
    found = {(blank.name, blank.side): blank.length
             for stock in shaped.cut_list.stocks for blank in stock.blanks}
    return found | {(blank.name, side): blank.length
                    for blank in shaped.cut_list.tapered for side in blank.sides}


def printed_slides(piece, setup):
    """Each pass's way from the blank's end to the saw's axis, as its card prints it."""
    card = end_card(piece, setup)
    for cut in card.cuts:
        if cut.passes:
            for step in steps(card, cut):
                if found := re.search(r"axis ([\d.]+) mm (beyond|short of) blank's end", step):
                    yield float(found[1]) * (1 if found[2] == "beyond" else -1)


@pytest.mark.parametrize("make", JOBS)
def test_the_sheet_of_a_tube_says_the_length_that_the_cut_list_cuts(make):
    shaped = shape_job(make())
    lengths = cut_lengths(shaped)
    for piece in work_order(shaped.pieces):
        length = lengths[piece.tube.name, piece.tube.side]
        notes = notes_block(piece)
        words = " ".join(mark.words for mark in leaves(notes.marks) if isinstance(mark, Text))
        assert float(re.search(r"Blank ([\d.]+) mm", words)[1]) == pytest.approx(
            length, abs=PRINTED_MM)
        assert piece.blank == pytest.approx(length, abs=1e-9)


@pytest.mark.parametrize("make", JOBS)
def test_the_strip_shows_the_end_of_the_blank_that_the_cut_list_cuts(make):
    shaped = shape_job(make())
    lengths, allowance = cut_lengths(shaped), shaped.job.shop.allowance
    for piece in shaped.pieces:
        if not any(end.cope for end in piece.ends):
            continue
        shown = {}
        for _, strip in piece_strips(piece, 0.1, 10):
            drawn = [mark.points for mark in leaves(strip_marks(strip))
                     if isinstance(mark, Path) and mark.name == "blank-end"]
            for edge, at, line in zip(strip.edges, strip.blank_ends, drawn, strict=True):
                np.testing.assert_allclose(line, strip.round_at(at), atol=1e-9)
                shown[edge.body] = at
                waste = (edge.long - at) * edge.body
                assert waste >= allowance - 1e-6
        if len(shown) == 2:
            length = lengths[piece.tube.name, piece.tube.side]
            assert shown[-1] - shown[1] == pytest.approx(length, abs=1e-9)


@pytest.mark.parametrize("make", JOBS)
def test_the_blank_of_the_cut_list_sawn_by_its_card_gets_the_cope_of_the_job(make):
    shaped = shape_job(make())
    lengths = cut_lengths(shaped)
    compared = 0
    for piece in shaped.pieces:
        tube, allowance = piece.tube, shaped.job.shop.allowance
        length = lengths[tube.name, tube.side]
        for setup in ShopSetups(shaped.job.shop).of(piece):
            slides = list(printed_slides(piece, setup))
            own = sawn_edge(piece, setup, slides, length, allowance)
            if own is not None:
                np.testing.assert_allclose(own, setup.end.outer, atol=2 * PRINTED_MM)
                compared += 1
    assert compared >= 2


def sawn_edge(piece, setup, slides, length, allowance):
    """The edge that a matching saw leaves where the card says, by the formula of round tubes.

    The blank's own ends are the other end's furthest point, its allowance, and its length from
    there. ``None`` where the saw is of another size than the only main, or leans on an offset.
    """
    tube, end = piece.tube, setup.end
    main = end.mains[0]
    if len(end.mains) > 1 or not (isinstance(tube.shape, Round) and isinstance(main.shape, Round)):
        return None
    joint, (one,) = setup.cuts[0].joint, setup.cuts[0].passes[:1]
    if abs(one.setting.diameter - main.shape.diameter) > 1e-6 or abs(joint.offset) > 1e-6:
        return None
    if end.which == "start":
        blank_end = piece.end.reach + allowance - length
        foot = blank_end - slides[0]
    else:
        blank_end = piece.start.reach - allowance + length
        foot = blank_end + slides[0]
    big, small = main.shape.diameter / 2, tube.shape.diameter / 2
    way = 1 if end.which == "start" else -1
    turned = np.radians(way * (end.clock - end.stances[0].heel_clock))
    sharp = math.radians(min(joint.angle, 180 - joint.angle))
    along = (np.sqrt(big**2 - (small * np.sin(turned))**2)
             + small * np.cos(turned) * math.cos(sharp)) / math.sin(sharp)
    return foot + way * along


@pytest.mark.parametrize("allowance", [0, 3, 30, 60, 500])
def test_a_strip_shows_the_end_of_the_blank_or_says_how_far_off_the_paper_it_is(allowance):
    shaped = shape_job(random_job(1, allowance))
    piece = shaped.pieces[-1]
    for name, strip in piece_strips(piece, 0.1, 10):
        marks = list(leaves(strip_marks(strip)))
        (edge,), (at,) = strip.edges, strip.blank_ends
        words = " ".join(mark.words for mark in marks if isinstance(mark, Text))
        off = strip.low - at if edge.body > 0 else at - strip.high
        drawn = any(isinstance(mark, Path) and mark.name == "blank-end" for mark in marks)
        way = {"start": "below", "end": "above"}[name]
        assert drawn == (off < 0)
        assert drawn or f"blank's end {off:.1f} {way} the paper" in words
        assert strip.high - strip.low < 200
