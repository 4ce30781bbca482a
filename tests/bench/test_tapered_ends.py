"""Which end of a tapered tube is which: what comes off the thick one, and what off the thin one."""

import re

import numpy as np
import pytest

from coper import Tapered, Tube
from coper.bench.cut_list.cut_list import cut_list
from coper.drawing.bounds import leaves
from coper.drawing.marks import Hatch, Path
from coper.frame.end import plain_end
from coper.frame.piece import make_piece
from coper.sheets.cut_list import cut_list_blocks
from coper.telling.words.cut_list import cut_steps

# A taper of 410 mm; the metal that stays runs from 30 to 388 mm from the tube's start point.
TAPER, FROM, TO = 410.0, 30.0, 388.0
THICK, THIN = 22.2, 14.0


def blank(first, last, allowance=0.0):
    tube = Tube(Tapered(first, last, TAPER, 0.8), (0, 0, 0), (0, 0, 400), "stay")
    piece = make_piece(tube, plain_end(tube, "start", FROM), plain_end(tube, "end", 400 - TO),
                       allowance)
    return cut_list([piece])


@pytest.mark.parametrize(("first", "last", "thick_off", "thin_off"), [
    (THICK, THIN, FROM, TAPER - TO), (THIN, THICK, TAPER - TO, FROM)])
def test_what_comes_off_the_thick_end_and_what_off_the_thin_end(first, last, thick_off, thin_off):
    stay, = blank(first, last).tapered
    assert stay.end_names == ("thick", "thin")
    assert stay.off == pytest.approx((thick_off, thin_off))
    assert (stay.near, stay.far) == pytest.approx((thick_off, TAPER - thin_off))
    # Across there: straight from the one diameter to the other.
    across = [THICK + (THIN - THICK) * at / TAPER for at in (stay.near, stay.far)]
    for step, name, size, off in zip(
            cut_steps(stay), stay.end_names, across, stay.off, strict=True):
        numbers = [float(number) for number in re.findall(r"\d+\.\d\d(?= mm)", step)]
        assert name in step and round(size, 2) in numbers and round(off, 2) in numbers


@pytest.mark.parametrize(("first", "last", "thick_off", "thin_off"), [
    (THICK, THIN, FROM, TAPER - TO), (THIN, THICK, TAPER - TO, FROM)])
def test_an_allowance_leaves_as_much_more_on_either_end(first, last, thick_off, thin_off):
    stay, = blank(first, last, allowance=4).tapered
    assert stay.off == pytest.approx((thick_off - 4, thin_off - 4))
    assert stay.length == pytest.approx(TO - FROM + 8)


@pytest.mark.parametrize(("first", "last", "thick_off", "thin_off"), [
    (THICK, THIN, FROM, TAPER - TO), (THIN, THICK, TAPER - TO, FROM)])
def test_the_drawn_tube_is_cut_as_far_from_its_drawn_thick_end(first, last, thick_off, thin_off):
    paths = {mark.name: mark.points for block in cut_list_blocks(blank(first, last))
             for mark in leaves(block.marks) if isinstance(mark, Path)}
    tube = paths["tube"]
    left, right = tube[:, 0].min(), tube[:, 0].max()
    high = {x: np.ptp(tube[np.isclose(tube[:, 0], x), 1]) for x in (left, right)}
    thick, thin = sorted(high, key=high.get, reverse=True)
    scale = abs(thin - thick) / TAPER
    assert abs(paths["cut-1"][0, 0] - thick) == pytest.approx(thick_off * scale)
    assert abs(paths["cut-2"][0, 0] - thin) == pytest.approx(thin_off * scale)
    gone = sorted(np.ptp(mark.outline[0][:, 0]) for block in cut_list_blocks(blank(first, last))
                  for mark in leaves(block.marks) if isinstance(mark, Hatch))
    assert gone == pytest.approx(sorted((thick_off * scale, thin_off * scale)))
    for mark in (mark for block in cut_list_blocks(blank(first, last))
                 for mark in leaves(block.marks) if isinstance(mark, Hatch)):
        ring = mark.outline[0][:, 0]
        at_thick = np.isclose(ring, thick).any()
        assert np.ptp(ring) == pytest.approx((thick_off if at_thick else thin_off) * scale)
