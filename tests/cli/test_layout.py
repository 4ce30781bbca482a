"""``coper layout`` as a person runs it."""

import json
from pathlib import Path

import pytest

from tests.cli.run import run
from tests.drawing.readback import pdf_size, pdf_texts, svg_paths
from tests.pages.room import overlapping

DEMO = Path(__file__).parents[2] / "demo" / "wagtail.toml"
SMALL = """
title = "Small"
[shop]
blocks = ["2in"]
[points]
axle = [-400, 0, 79.375]
[tubes.stay]
shape = "20 x 1"
start = { at = [0, 0, 0] }
end = { at = "axle" }
"""


@pytest.fixture(scope="module")
def printed():
    status, out, err = run("layout", str(DEMO))
    assert (status, err) == (0, "")
    return out


@pytest.fixture
def small(tmp_path):
    file = tmp_path / "small.toml"
    file.write_text(SMALL)
    return str(file)


def test_the_demo_tells_every_table(printed):
    for head in ("Points", "Tubes", "Under the tubes", "Axes", "Diagonals",
                 "Blocks for each height"):
        assert f"\n{head}\n" in printed
    assert "chain-stay left, chain-stay right" in printed
    assert "nan" not in printed


def test_the_json_holds_the_same(printed):
    status, out, err = run("layout", str(DEMO), "--json")
    assert (status, err) == (0, "")
    record = json.loads(out, parse_constant=lambda word: pytest.fail(f"{word} in the JSON"))
    assert record["units"] == {"length": "mm", "angle": "deg"}
    assert set(record) >= {"table", "points", "tubes", "axes", "diagonals", "wheels", "drops"}
    for point in record["points"]:
        assert f"{point['from_left']:.2f}" in printed and f"{point['from_edge']:.2f}" in printed


def test_the_drop_is_set_by_one_block_and_a_shim_of_an_inch_and_an_eighth(small):
    # Common practice, no source: one block plus a shim of an inch and an eighth.
    status, out, _ = run("layout", small)
    assert status == 0 and "79.38  3-1/8  2 in + shim 28.58 mm (1-1/8 in)" in out


def test_origin_and_plane_are_taken_in_inches_too(small):
    out = run("layout", small, "--origin", "6in,4in", "--plane", "2in", "--json")[1]
    table = json.loads(out)["table"]
    assert table["origin"] == pytest.approx([152.4, 101.6])
    assert table["plane"] == pytest.approx(50.8)


def test_an_inch_jobs_origin_stands_at_half_inches(tmp_path):
    file = tmp_path / "inch.toml"
    file.write_text('units = "in"\n[tubes.a]\nshape = "1"\nstart = { at = [0, 0, 0] }\n'
                    'end = { at = [-12, 0, 3] }\n')
    table = json.loads(run("layout", str(file), "--json")[1])["table"]
    for value in (*table["origin"], table["plane"], table["width"], table["depth"]):
        assert value / 12.7 == pytest.approx(round(value / 12.7))


@pytest.mark.parametrize("paper", ["a4", "letter", "roll"])
def test_no_words_overlap_other_words(paper, monkeypatch, tmp_path):
    drawn = []
    monkeypatch.setattr("coper.drawing.svg.svg_files",
                        lambda path, pages: drawn.extend(pages) or [(path, b"")])
    assert run("layout", str(DEMO), "--paper", paper, "--svg", str(tmp_path / "x"))[0] == 0
    for page in drawn:
        assert not overlapping(page.marks)
    assert drawn


def test_the_pdf_says_the_scale_and_every_mark(tmp_path):
    target = tmp_path / "layout.pdf"
    assert run("layout", str(DEMO), "--pdf", str(target))[0] == 0
    document = target.read_bytes()
    said = " ".join(words for words, _ in pdf_texts(document))
    assert "scale 1:" in said and "front edge of the table" in said
    assert pdf_size(document) == pytest.approx((210, 297), abs=0.01)


def test_full_size_on_tiles_joins_to_the_whole_front_edge(small, tmp_path):
    target = tmp_path / "tile.svg"
    status, out, err = run("layout", small, "--full-size", "--svg", str(target))
    assert (status, err) == (0, "")
    width = json.loads(run("layout", small, "--json")[1])["table"]["width"]
    parts = [points for file in sorted(tmp_path.glob("tile*.svg"))
             for name, points in svg_paths(file.read_text()).items()
             if name.startswith("front-edge")]
    drawn = sum(abs(points[1, 0] - points[0, 0]) + abs(points[1, 1] - points[0, 1])
                for points in parts)
    assert len(parts) > 1
    assert drawn == pytest.approx(width + 10 * (len(parts) - 1), abs=0.05)  # tiles share 10 mm
    assert out.count("wrote ") == len(list(tmp_path.glob("tile*.svg")))


@pytest.mark.parametrize(("words", "said"), [
    (("--plane", "9"), "--plane: 9 mm above the table, the frame's middle plane leaves no room"),
    (("--plane", "high"), "--plane: high: no number in this length"),
    (("--origin", "5,5"), "--origin: with the frame's origin 5 mm from the front edge"),
    (("--origin", "5"), "--origin: '5' is not a place"),
    (("--paper", "a5"), "--paper: 'a5' is not known"),
    (("--full-size", "--origin", "9m,9m", "--pdf", "x.pdf"), "--full-size: at full size"),
    (("--full-size", "--paper", "roll", "--origin", "9m,9m", "--pdf", "x.pdf"), "draw it to scale"),
    (("--printer", "80,100", "--pdf", "x.pdf"), "--printer: a check bar"),
    (("--pdf", "no/x.pdf"), "no/x.pdf: there is no folder")])
def test_what_cannot_be_used_gets_one_line(words, said, small, monkeypatch, tmp_path):
    monkeypatch.chdir(tmp_path)
    status, out, err = run("layout", small, *words)
    assert (status, out) == (2, "")
    assert said in err and err.count("\n") == 1


def test_a_fault_of_the_file_is_named_at_the_file(tmp_path):
    file = tmp_path / "job.toml"
    file.write_text(SMALL.replace('blocks = ["2in"]', 'blocks = [' + '"1in",' * 25 + ']'))
    status, _, err = run("layout", str(file))
    assert status == 2 and err.startswith(f"coper: {file}: shop.blocks: 25 blocks")
    file.write_text(SMALL.replace('blocks', 'paper = "a5"\nblocks'))
    status, _, err = run("layout", str(file), "--pdf", str(tmp_path / "x.pdf"))
    assert status == 2 and "shop.paper: " in err and err.count("\n") == 1


def test_a_file_that_exists_is_kept_unless_forced(small, tmp_path):
    target = tmp_path / "x.pdf"
    target.write_text("mine")
    assert run("layout", small, "--pdf", str(target))[0] == 2
    assert target.read_text() == "mine"
    assert run("layout", small, "--pdf", str(target), "--force")[0] == 0
