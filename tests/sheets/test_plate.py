"""A plate's sheets: where each tube lands on it, seen from the side of its face."""

import re

import numpy as np
import pytest

from coper import make_pieces, parse_job
from coper.drawing.bounds import bounds, leaves
from coper.drawing.marks import Group, Path, Text
from coper.frame.plate import plate_landings
from coper.sheets.plate import plate_blocks, plate_outline
from coper.verbs.job import job
from tests.cli.run import run
from tests.drawing.readback import svg_paths, svg_texts

FOOT = """\
title = "Foot"
[tubes.base]
shape = "plate 6 by 80"
start = { at = [10, 0, 0] }
end = { at = [210, 0, 0] }
[tubes.post]
shape = "28 x 1.5"
start = { at = [60, 12, 0], on = ["base"] }
end = { at = [60, 12, 300] }
[tubes.brace]
shape = "20 x 1.5"
start = { at = [150, -20, 0], on = ["base"] }
end = { at = [190, -20, 80] }
"""


def landings(text=FOOT):
    pieces = make_pieces(parse_job(text))
    return plate_landings(pieces[0], pieces)


def test_a_foot_is_so_far_from_the_start_and_to_the_left_as_the_tube_stands():
    post, brace = landings()
    assert [(one.piece.label, one.which) for one in (post, brace)] == [
        ("post", "start"), ("brace", "start")]
    assert post.foot.tolist() == pytest.approx([50, 12])
    assert brace.foot.tolist() == pytest.approx([140, -20])


def test_an_edge_is_the_section_of_the_tube_with_the_face():
    post, brace = landings()
    assert np.hypot(*(post.edge - post.foot).T) == pytest.approx(14, abs=1e-6)
    # An ellipse: the diameter across, and along it over the sine of the angle.
    assert np.ptp(brace.edge, axis=0) == pytest.approx(
        [20 / np.sin(np.arctan2(80, 40)), 20], abs=1e-3)


def test_turned_over_the_plate_is_seen_from_its_other_side():
    turned = FOOT.replace("[210, 0, 0] }", "[210, 0, 0] }\nturn = 180").replace(
        "300]", "-300]").replace("80]", "-80]")
    post, brace = landings(turned)
    assert post.foot.tolist() == pytest.approx([50, -12])
    assert brace.foot.tolist() == pytest.approx([140, 20])


def test_the_outline_is_as_long_and_wide_as_the_plate_and_a_plate_without_a_width_has_none():
    pieces = make_pieces(parse_job(FOOT))
    drawing, (table,) = plate_outline(pieces[0], pieces), plate_blocks(pieces[0], pieces, "page K")
    edge = next(mark for mark in drawing.marks if isinstance(mark, Group) and mark.name == "edge")
    (outline,) = edge.marks
    assert isinstance(outline, Path)
    assert np.ptp(outline.points, axis=0) == pytest.approx([200, 80])
    assert table.name == "base landings"
    bare = job(parse_job(FOOT.replace(" by 80", ""))).svg()
    assert not any("plate" in svg_paths(page) for page in bare)


def test_the_packet_has_the_outline_at_true_scale_and_its_numbers_on_another_page_that_is_kept():
    pages = job(parse_job(FOOT)).svg()
    sheet, = (page for page in pages if "base: plate 6 by 80" in page)
    drawn, = (page for page in pages if "plate" in svg_paths(page))
    assert sorted(np.ptp(svg_paths(drawn)["plate"], axis=0)) == pytest.approx([80, 200], abs=0.01)
    assert np.ptp(svg_paths(drawn)["footprint"], axis=0).min() > 19
    letter = re.search(r"page (\w+) of", drawn)[1]
    words = [text for text, _ in svg_texts(sheet)]
    assert f"The outline, page {letter}, is true to size" in " ".join(words)
    assert "footprint" not in svg_paths(sheet)
    assert "base" in [text for text, _ in svg_texts(drawn)]  # cut out, it still says what it is
    for row in (("1 post, start", "50.00", "12.00", "left"),
                ("2 brace, start", "140.00", "20.00", "right")):
        assert set(row) <= set(words)


def test_the_cut_list_gives_the_plates_sizes(tmp_path):
    file = tmp_path / "foot.toml"
    file.write_text(FOOT)
    status, out, _ = run("job", str(file))
    assert status == 0 and "base 6 by 80, 200.00 mm" in out
    blank, = job(parse_job(FOOT)).record()["cut_list"]["plate_blanks"]
    assert blank == {"name": "base", "thickness": 6, "width": 80, "length": 200}


def test_a_plate_that_nothing_seats_on_is_drawn_too():
    pieces = make_pieces(parse_job(FOOT.split("[tubes.post]", maxsplit=1)[0]))
    notes, = plate_blocks(pieces[0], pieces, "page K")
    words = [mark.words for mark in leaves(notes.marks) if isinstance(mark, Text)]
    assert "Nothing seats on it." in words and "Its outline: page K." in words
    assert bounds(plate_outline(pieces[0], pieces).marks).width >= 200
