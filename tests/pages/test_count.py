"""Pages are counted before one of them is made."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from coper import parse_job, parse_tube
from coper.drawing.marks import LINE, Hatch, Path, Text
from coper.errors import CoperError
from coper.joint.joint import Joint
from coper.pages.boxes import box_path
from coper.pages.compose import MOST_TILES, Block, compose, tiles_needed
from coper.pages.count import tile_count
from coper.pages.roll import LONGEST_MM
from coper.pages.tiles import tiles
from coper.sheets.footprint import footprint_marks
from tests.cli.run import run
from tests.profiles import examples

GAPS = ("--gaps", "0=0,90=0.3,180=0.6,270=0.3")
PLATE = """\
{shop}
[tubes.floor]
shape = "plate 6"
start = {{ at = [-3000, 0, 0] }}
end = {{ at = [3000, 0, 0] }}
[tubes.pipe]
shape = "2000 x 5"
start = {{ at = [0, 0, 0], on = ["floor"] }}
end = {{ at = [60000, 0, {rise}] }}
"""
"""A tube of 2 m on a plate."""

SIZES = st.floats(20.0, 1500.0)


@given(width=SIZES, height=SIZES, window=st.sampled_from([(180.0, 260.0), (260.0, 180.0)]))
@examples(60)
def test_a_frame_is_counted_as_it_is_cut(width, height, window):
    marks = (box_path(-30.0, 7.0, width, height, LINE, name="frame"),)
    assert tile_count(marks, *window, 10.0) == len(tiles(marks, *window, 10.0))


@pytest.mark.parametrize("size", [400.0, 900.0, 1400.0])
def test_areas_words_and_slanting_lines_are_counted_as_they_are_cut(size):
    slope = Path(np.array(((0.0, 0.0), (size, 0.7 * size))), LINE)
    ring = np.array(((0.0, 0.0), (size, 0.0), (0.0, size)))
    hatch = Hatch((ring,), 3.0, 45.0, LINE)
    for marks in ((slope,), (hatch,), (slope, Text((size, 20.0), "far", 2.5, "left"))):
        cut = len(tiles(marks, 180.0, 260.0, 10.0))
        assert cut - 1 <= tile_count(marks, 180.0, 260.0, 10.0) <= cut


def test_a_footprint_is_counted_as_it_is_cut():
    joint = Joint(parse_tube("1500 x 5"), parse_tube("2000"), 60.0)
    marks = footprint_marks(joint.cope(720), 0.1, {0.0: "0"})
    cut = len(tiles(marks, 180.0, 260.0, 10.0))
    assert 20 < cut == tile_count(marks, 180.0, 260.0, 10.0)


def test_a_block_that_fits_a_page_is_cut_into_none():
    small, large = (Block("x", (box_path(0.0, 0.0, size, 100.0, LINE),)) for size in (100.0, 500.0))
    assert tiles_needed([small], "a4") == 0
    assert tiles_needed([small, large, large], "a4") == 2 * len(compose([large], "a4")) == 4
    assert tiles_needed([large], "roll") == 0


@pytest.fixture
def uncut(monkeypatch):
    """No page may be cut."""
    monkeypatch.setattr("coper.pages.cut.tiles", lambda *given: pytest.fail("cut"))


def test_a_block_that_nobody_would_glue_is_refused_with_its_pages(uncut):
    block = Block("map", (box_path(0.0, 0.0, 90_000.0, 60_000.0, LINE),))
    with pytest.raises(CoperError, match=r"map needs about \d{6} pages of a4; check") as caught:
        compose([block], "a4")
    assert caught.value.where == "paper"


def test_as_many_pages_as_are_allowed_are_made():
    side = 150.0 * MOST_TILES / 2  # both sides of a ladder
    marks = (box_path(0.0, 0.0, side, 10.0, LINE),)
    count = tile_count(marks, 180.0, 260.0, 10.0)
    assert count <= MOST_TILES
    assert len(compose([Block("x", marks, keep_upright=True)], "a4")) <= MOST_TILES


@pytest.mark.parametrize("words", [
    ("regrind", "2000 x 5", "plate 6", "--angle", "3", *GAPS),
    ("joint", "2000 x 5", "plate 6", "--angle", "30"),
    ("joint", "1000 x 5", "1000", "--angle", "90")])
def test_a_template_of_too_many_pages_is_refused_before_it_is_cut(words, uncut, tmp_path):
    status, out, err = run(*words, "--pdf", str(tmp_path / "x.pdf"))
    assert (status, out) == (2, "")
    assert "more than 60 pages of a4; check the angle" in err and err.count("\n") == 1
    assert not list(tmp_path.iterdir())


def test_a_packet_names_the_tube_whose_template_has_too_many_pages(uncut, tmp_path):
    file, folder = tmp_path / "job.toml", tmp_path / "out"
    file.write_text(PLATE.format(shop="", rise=3144))
    status, out, err = run("job", str(file), "--out", str(folder))
    assert (status, out) == (2, "")
    complaint = err.splitlines()[-1]
    assert f"{file}: tubes.pipe: the template needs about " in complaint
    assert 'more than 60 pages of a4; check its shape' in complaint
    assert 'set paper = "roll" under [shop]' in complaint
    assert not folder.exists()


def test_a_packet_on_a_roll_names_the_tube_that_no_roll_is_wide_enough_for(tmp_path):
    file, folder = tmp_path / "job.toml", tmp_path / "out"
    file.write_text(PLATE.format(shop='[shop]\npaper = "roll"', rise=60000))
    status, out, err = run("job", str(file), "--out", str(folder))
    assert (status, out) == (2, "")
    assert f"{file}: tubes.pipe: it needs a sheet of 6.3 by " in err
    assert not folder.exists()


def test_a_job_whose_packet_is_absurd_is_still_answered(tmp_path):
    file = tmp_path / "job.toml"
    file.write_text(PLATE.format(shop="", rise=3144))
    status, out, err = run("job", str(file))
    assert (status, err) == (0, "") and "pipe" in out
    assert len(parse_job(file.read_text()).tubes) == 2


def test_a_roll_longer_than_a_page_may_be_goes_on_on_the_next():
    blocks = [Block(f"b{n}", (box_path(0.0, 0.0, 300.0, 900.0, LINE),)) for n in range(12)]
    pages = compose(blocks, "roll")
    assert len(pages) == 3
    for page in pages:
        assert max(page.width, page.height) <= LONGEST_MM


@pytest.mark.parametrize("size", [(LONGEST_MM, 10.0), (10.0, LONGEST_MM)])
def test_no_roll_is_wider_or_longer_than_a_page_may_be(size):
    with pytest.raises(CoperError, match="a roll may be 5 m wide and long"):
        compose([Block("x", (box_path(0.0, 0.0, *size, LINE),))], "roll")
