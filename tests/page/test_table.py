"""The station Table: the frame on the flat table, from above and by numbers."""

import re
from urllib.parse import unquote

import numpy as np
import pytest

from coper.job.read import parse_job
from coper.page.answers.table import changed, full_size, full_size_pdf, on_table
from coper.telling.records.layout import layout_record
from coper.verbs.layout import layout
from tests.page.jobs import DIPPER, SMALL
from tests.page.pages import OWN, beside, client, fields, go, part, wagtail
from tests.sheets.groups import group_strokes

TEXT = SMALL
TUBES = "/wagtail/tubes"


def record(text):
    return layout_record(layout(parse_job(text)).result)


def ends(page, name):
    """The lowest and the highest corner (2,) of a group in a picture, mm."""
    points = np.concatenate(group_strokes(page, name))
    return points.min(axis=0), points.max(axis=0)


def above(page):
    return next(one.picture for one in page.views if one.name == "above")


def edge(page):
    return next(one.picture for one in page.views if one.name == "edge")


def grids(page):
    return {block.items[0].head: block.items[0] for block in page.blocks if block.kind == "grid"}


def test_every_word_and_table_is_what_coper_layout_says():
    said = list(layout(parse_job(TEXT)).lines())
    page = on_table(TEXT, TUBES)
    assert [line for block in page.blocks for line in block.items] == said
    assert set(grids(page)) >= {"Points", "Tubes", "Diagonals", "Blocks for each height"}


@pytest.mark.parametrize("text", [TEXT, DIPPER], ids=["wagtail", "dipper"])
def test_the_origins_lines_run_from_the_left_end_and_up_from_the_front_edge(text):
    page, table = on_table(text, TUBES), record(text)["table"]
    scale = float(re.search(r"scale 1:(\d+)", above(page))[1])
    across, up = (line for line in group_strokes(above(page), "dim-table-origin")
                  if len(line) == 2)
    assert [np.ptp(across[:, 0]) * scale, np.ptp(up[:, 1]) * scale] == pytest.approx(
        table["origin"], abs=0.01)
    assert across[1] == pytest.approx(up[1], abs=1e-3), "both end at the origin"
    assert across[0, 0] < across[1, 0] and up[0, 1] < up[1, 1]


def test_of_a_bicycle_the_front_is_at_the_left_and_of_a_trailer_at_the_right():
    bicycle, trailer = (above(on_table(text, TUBES)) for text in (TEXT, DIPPER))
    assert ends(bicycle, "tube-head-tube")[1][0] < ends(bicycle, "tube-seat-tube")[0][0]
    assert ends(trailer, "tube-tail")[1][0] < ends(trailer, "tube-nose")[0][0]
    assert ends(trailer, "tube-rail-left")[0][1] > ends(trailer, "tube-rail-right")[1][1]


def test_the_plane_stands_over_the_table_by_its_height_and_the_frames_left_is_up():
    page, table = on_table(TEXT, TUBES), record(TEXT)["table"]
    low, high = ends(edge(page), "dim-table-plane")
    scale = float(re.search(r"scale 1:(\d+)", above(page))[1])
    level = next(line for line in group_strokes(edge(page), "dim-table-plane")
                 if np.ptp(line[:, 0]) > 50)
    left, right = (ends(edge(page), f"edge-chain-stay-{side}") for side in ("left", "right"))
    assert left[1][1] > level[0, 1] > right[0][1]
    assert high[1] - low[1] > table["plane"] / scale
    assert ends(edge(page), "edge-head-tube")[1][0] < left[0][0]


def test_a_tube_in_the_drawing_leads_to_the_tube_whatever_letters_its_name_has():
    assert 'href="/wagtail/tubes/chain-stay"' in above(on_table(TEXT, TUBES))
    odd = TEXT.replace("[tubes.head-tube]", '[tubes."a/b <i>?"]')
    links = re.findall(r'href="/wagtail/tubes/([^"]+)"', above(on_table(odd, TUBES)))
    assert "a/b <i>?" in map(unquote, links) and "<i>" not in above(on_table(odd, TUBES))


def test_what_the_file_has_no_number_of_is_said_as_it_was_found():
    page = on_table(TEXT, TUBES)
    assert page.fields["table-origin"].typed == "" and page.fields["table-origin"].said == (
        "900.00 mm (35-7/16 in) from the left end, 290.00 mm (11-13/32 in) from the front edge")
    assert page.fields["table-plane"].said == "76.20 mm (3 in)"
    assert on_table(DIPPER, TUBES).fields["table-plane"].said == "3/4 in"


def test_a_job_without_the_table_gets_it_and_every_other_line_stays():
    made = changed(TEXT, {"table-origin": "950, 300", "table-plane": "3-1/8in"})
    assert made.text == TEXT.replace(
        "[points]", '[table]\norigin = [950, 300]\nplane = "3-1/8in"\n\n[points]')
    assert record(made.text)["table"]["origin"] == [950, 300] and made.typed == {}


@pytest.mark.parametrize(("name", "typed", "words"), [
    ("table-origin", "10, 10", "put the origin"), ("table-origin", "900", "1 numbers"),
    ("table-origin", "a, b", "no number"), ("table-plane", "10", "no room for"),
    ("table-plane", "x", "no number"), ("shop-blocks", "3in, 0", "size"),
    ("table-lies", "upside down", "is not known"),
])
def test_where_a_frame_cannot_lie_the_file_stays_and_the_fault_is_beside_its_field(
        name, typed, words):
    made = changed(TEXT, {name: typed})
    page = on_table(made.text, TUBES, made)
    assert made.text == TEXT and page.fields[name].typed == typed and page.views
    assert words in " ".join(page.fields[name].wrong)


def test_commas_for_points_are_taken_where_semicolons_part_the_numbers():
    made = changed(TEXT, {"table-origin": "950,5; 300", "shop-blocks": "25,4; 1/2in"})
    assert "origin = [950.5, 300]" in made.text and 'blocks = [25.4, "1/2in"]' in made.text


def test_of_two_changes_the_one_that_can_be_is_written():
    made = changed(TEXT, {"table-origin": "10, 10", "table-plane": "80", "shop-blocks": "25, 10"})
    assert "plane = 80" in made.text and "blocks = [25, 10]" in made.text
    assert list(made.typed) == ["table-origin"]


def test_without_blocks_there_are_no_stacks_and_with_them_one_for_each_height():
    without = changed(TEXT, {"shop-blocks": ""}).text
    assert "Blocks for each height" not in grids(on_table(without, TUBES))
    few = on_table(changed(TEXT, {"shop-blocks": "10, 10"}).text, TUBES)
    assert any("TOO FEW" in row[2] for row in grids(few)["Blocks for each height"].rows)


def test_a_change_is_kept_and_undone_and_the_place_is_the_table_again(tmp_path):
    path = wagtail(tmp_path)
    path.write_text(TEXT)
    one = client(tmp_path, follow_redirects=False)
    form = fields(one.get("/wagtail/table"))
    answer = one.post("/wagtail/table", data={**form, "table-lies": "flat"}, headers=OWN)
    assert answer.status_code == 303 and 'lies = "flat"' in path.read_text()
    assert "lies flat" in part(one.get("/wagtail/table"), "words")
    assert go(one, "undo", here="table").headers["Location"] == "/wagtail/table"
    assert path.read_text() == TEXT


def test_a_broken_job_shows_its_faults_and_its_fields(tmp_path):
    path = wagtail(tmp_path)
    path.write_text(TEXT.replace('blocks = ["3in"', 'blocks = ["3inn"') + '[table]\nplane = "x"\n')
    page = client(tmp_path).get("/wagtail/table")
    assert "no number" in beside(page, "table-plane") and beside(page, "shop-blocks")
    assert 'id="above"' not in page.text


def test_a_name_with_markup_stays_text_in_the_tables(tmp_path):
    (tmp_path / "odd.toml").write_text(TEXT.replace("[tubes.head-tube]", '[tubes."<b>x"]'))
    text = client(tmp_path).get("/odd/table").text
    assert "<b>x" not in text and "&lt;b&gt;x" in text


def test_at_full_size_the_sheets_are_counted_first_and_the_pdf_is_that_of_the_command_line():
    found = full_size(TEXT, "roll")
    said = list(layout(parse_job(TEXT), full=True, paper="roll").lines())
    assert found.takes in said and found.takes.startswith("At full size") and not found.wrong
    assert full_size_pdf(TEXT, "roll").startswith(b"%PDF")
    assert full_size(TEXT, "foolscap").wrong and full_size("x", "").wrong
