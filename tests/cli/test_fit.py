"""``coper fit`` as a person uses it."""

import json

import numpy as np
import pypdfium2
import pytest

from tests.cli.run import run
from tests.drawing.readback import pdf_size, pdf_texts, svg_paths, svg_size, svg_texts

JOINT = ("28.6 x 0.9", "36", "--angle", "90")


def printed(*words, status=0):
    found, out, err = run("fit", *words)
    assert (found, err) == (status, "")
    return out


def data(*words, status=0):
    return json.loads(printed(*words, "--json", status=status))


def test_json_has_every_name_of_the_contract():
    found = data(*JOINT, "--points", "48", "--limit", "0.5")
    gap = found["gap"]
    assert {"clock", "outside", "root", "largest", "largest_clock", "contact_clock", "slide",
            "limit", "ok"} <= set(gap)
    assert gap["clock"] == [k * 7.5 for k in range(48)]
    assert len(gap["outside"]) == len(gap["root"]) == 48
    assert gap["limit"] == 0.5 and gap["ok"] is True
    assert gap["largest"] == pytest.approx(0, abs=1e-9)
    assert found["units"] == {"length": "mm", "angle": "deg"}
    assert data(*JOINT)["gap"]["ok"] is None


def test_json_is_null_where_open():
    gap = data("38.1 x 1.2", "25.4", "--angle", "62", "--offset", "7")["gap"]
    assert None in gap["outside"] and None in gap["root"]
    assert gap["largest"] == pytest.approx(0, abs=1e-6)


def test_a_gap_above_the_limit_ends_with_1_and_says_by_how_much_and_what_to_do():
    out = printed(*JOINT, "--cut", "saw=38.1", "--limit", "0.3", status=1)
    assert "largest gap  0.37 mm (0.015 in) at clock 90 (side)" in out
    assert "TOO OPEN     0.07 mm above the limit: use another saw" in out
    assert "touches      clock 0 (main +)" in out
    assert "1.05 mm (3/64 in) further in than designed" in out
    assert data(*JOINT, "--cut", "saw=38.1", "--limit", "0.3", status=1)["gap"]["ok"] is False


def test_a_gap_below_the_limit_ends_with_0():
    out = printed(*JOINT, "--cut", "saw=1-1/2in", "--process", "fillet-braze")
    assert "GOOD" in out and "common practice, no source" in out


def test_published_limits_name_their_source():
    assert "AWS D1.1" in printed(*JOINT, "--process", "structural-fillet")
    assert "Machinery's Handbook" in printed(*JOINT, "--process", "silver-braze")
    assert data(*JOINT, "--process", "structural fillet")["gap"]["limit"] == 25.4 / 16
    assert data(*JOINT, "--process", "silver-braze")["gap"]["limit"] == 0.005 * 25.4


def test_the_table_has_sixteen_clocks():
    lines = printed(*JOINT, "--cut", "square").splitlines()
    start = next(k for k, line in enumerate(lines) if line.split()[:1] == ["clock"])
    rows = [line.split()[0] for line in lines[start + 1:start + 17]]
    assert [float(row) for row in rows] == [k * 22.5 for k in range(16)]


def test_mounting_errors_are_said_back_and_open_the_joint():
    out = printed(*JOINT, "--angle-error", "-1", "--clock-error", "2", "--offset-error", "0.5")
    assert "off by angle -1°, clock +2°, offset +0.50 mm" in out
    plate = ("30 x 1", "plate 6", "--angle", "90", "--angle-error", "2")
    assert data(*plate)["gap"]["largest"] == pytest.approx(30 * np.sin(np.radians(2)), abs=1e-9)


def test_a_cut_that_is_too_tight_stands_off_by_a_positive_slide():
    # Derived: cut by a saw of 35 at 90 the ears are deeper by R's less s's half chord.
    slide = data(*JOINT, "--cut", "saw=35")["gap"]["slide"]
    known = np.sqrt(18**2 - 14.3**2) - np.sqrt(17.5**2 - 14.3**2)
    assert slide == pytest.approx(known, abs=1e-9)
    assert slide > 0


BAD = [
    (("--cut", "saw=20"), "a saw of 20 mm leaves part of the tube uncut", "take one of 28.60 mm"),
    (("--cut", "saw="), "--cut", "28.6"),
    (("--angle-error", "200"), "angle error: as mounted, 290 degrees", "make the error smaller"),
    (("--offset-error", "-200"), "offset error: as mounted, the branch misses", "smaller"),
    (("--cut", "saw=0"), "--cut: 0 is not a size", "above 0"),
    (("--cut", "sqare"), "--cut", "did you mean square?"),
    (("--process", "tigg"), "--process", "did you mean tig?"),
    (("--process", "welding"), "--process", "known are"),
    (("--limit", "0"), "--limit", "above 0 and up to 25 mm"),
    (("--limit", "-0.3"), "--limit", "above 0 and up to 25 mm"),
    (("--limit", "300"), "--limit", "above 0 and up to 25 mm"),
    (("--limit", "0,3"), "--limit", "0.3"),
    (("--limit", "1", "--process", "tig"), "--limit", "one of the two"),
    (("--angle-error", "95"), "angle error: as mounted, 185", "smaller"),
    (("--angle-error", "one"), "--angle-error", "one"),
    (("--clock-error", "x"), "--clock-error", "x"),
    (("--offset-error", "50"), "offset", "misses the main by 17.70 mm"),
    (("--points", "2"), "points", "8 to 14400"),
    (("--limt", "2"), "--limt is not an option", "did you mean --limit?"),
]


@pytest.mark.parametrize(("words", "where", "cure"), BAD, ids=lambda value: str(value)[:60])
def test_bad_input_gets_one_line_that_names_the_fault_and_the_mend(words, where, cure, tmp_path):
    status, out, err = run("fit", *JOINT, *words, "--picture", str(tmp_path / "gap.svg"))
    assert (status, out) == (2, "")
    assert err.startswith("coper: ") and err.count("\n") == 1
    assert where in err and cure in err
    assert not list(tmp_path.iterdir())


def test_a_picture_of_another_format_is_refused(tmp_path):
    for name in ("gap.jpg", "gap"):
        status, _, err = run("fit", *JOINT, "--picture", str(tmp_path / name))
        assert status == 2 and ".svg, .pdf or .png" in err
    assert not list(tmp_path.iterdir())


PICTURED = (*JOINT, "--cut", "saw=38.1", "--limit", "0.3")


def test_the_picture_draws_the_gap_to_scale_with_its_limit(tmp_path):
    target = tmp_path / "gap.svg"
    assert "wrote" in printed(*PICTURED, "--picture", str(target), status=1)
    text = target.read_text()
    paths = svg_paths(text)
    frame, curve, limit = (np.asarray(paths[name]) for name in ("frame", "outside", "limit"))
    bottom, top = np.sort(np.unique(np.round(frame[:, 1], 3)))[[0, -1]]
    height, drawn = top - bottom, np.abs(curve[:, 1] - frame[0, 1])
    largest = data(*PICTURED, status=1)["gap"]["largest"]
    at_limit = abs(limit[0, 1] - frame[0, 1])
    assert drawn.max() / at_limit == pytest.approx(largest / 0.3, abs=2e-3)
    assert drawn.max() <= height
    width, tall = svg_size(text)
    for points in paths.values():
        assert (np.asarray(points) >= -1e-6).all()
        assert (np.asarray(points) <= np.array((width, tall)) + 1e-6).all()
    words = " ".join(word for word, _ in svg_texts(text))
    assert "TOO OPEN" in words and "0.37 mm (0.015 in) at clock 90 (side)" in words


def test_the_pdf_is_the_same_picture(tmp_path):
    svg, pdf = tmp_path / "gap.svg", tmp_path / "gap.pdf"
    for target in (svg, pdf):
        printed(*PICTURED, "--picture", str(target), status=1)
    assert pdf_size(pdf.read_bytes()) == pytest.approx(svg_size(svg.read_text()), abs=0.02)
    assert any("TOO OPEN" in words for words, _ in pdf_texts(pdf.read_bytes()))


def test_the_png_looks_like_the_pdf(tmp_path):
    from matplotlib.image import imread

    pdf, png = tmp_path / "gap.pdf", tmp_path / "gap.png"
    for target in (pdf, png):
        printed(*PICTURED, "--picture", str(target), status=1)
    picture = imread(png)
    with pypdfium2.PdfDocument(pdf.read_bytes()) as document:
        known = document[0].render(scale=150 / 72, grayscale=True).to_numpy().squeeze() / 255
    rows, columns = (min(a, b) for a, b in zip(picture.shape[:2], known.shape, strict=True))
    assert abs(picture.shape[0] - known.shape[0]) <= 2

    def coarse(grey):
        grey = grey[:rows // 8 * 8, :columns // 8 * 8]
        return grey.reshape(rows // 8, 8, columns // 8, 8).mean(axis=(1, 3))

    one, other = coarse(picture[..., :3].mean(axis=-1)), coarse(known)
    assert picture[..., 3].min() == 1  # on white, not on nothing
    assert (1 - one).sum() == pytest.approx((1 - other).sum(), rel=0.1)
    assert np.corrcoef(one.ravel(), other.ravel())[0, 1] > 0.9


def test_an_existing_picture_is_kept_unless_force_is_given(tmp_path):
    target = tmp_path / "gap.svg"
    target.write_text("mine")
    status, _, err = run("fit", *JOINT, "--picture", str(target))
    assert status == 2 and "--force" in err and target.read_text() == "mine"
    printed(*JOINT, "--picture", str(target), "--force")
    assert target.read_text() != "mine"


@pytest.mark.parametrize(("cut", "largest"), [("saw=1-3/4in@-2.14", 0.31), ("saw=1-3/4in", 2.55)])
def test_a_saw_moved_sideways_leaves_what_the_choice_of_saws_says(cut, largest):
    record = data("28.6 x 0.9", "oval 40 by 32", "--angle", "62", "--main-turn", "20",
                  "--cut", cut)
    assert record["gap"]["largest"] == pytest.approx(largest, abs=0.01)
