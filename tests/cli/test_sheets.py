"""The written sheets, read back and measured."""

import re
from itertools import product

import numpy as np
import pypdfium2
import pytest

from coper import Joint, Round
from tests.cli.run import run
from tests.drawing.readback import pdf_dark, pdf_paths, pdf_size, pdf_texts, svg_paths, svg_size
from tests.pages.room import overlapping

JOINT = ("28.6 x 0.9", "38.1", "--angle", "62", "--offset", "3")
CASES = {
    "plain": JOINT,
    "small": ("10 x 1", "16", "--angle", "90"),
    "large": ("150 x 3", "168", "--angle", "70", "--offset", "5"),
    "shallow": ("28.6 x 0.9", "34.9", "--angle", "25"),
    "shallowest": ("150 x 3", "150", "--angle", "20"),
    "tapered": ("50 to 30 over 80 x 1.5", "60", "--angle", "62", "--offset", "3"),
    "slender": ("22.2 to 14 over 390 x 0.8", "40", "--angle", "100", "--turn", "20"),
    "oval": ("oval 30 by 17 x 0.9", "38.1", "--angle", "75", "--turn", "30"),
    "tapered oval": ("oval 30 by 17 to 14 over 380 x 0.8", "oval 50 by 34", "--angle", "100"),
    "box": ("box 40 by 20 corner 3 x 1.5", "plate 6", "--angle", "62"),
    "box main": ("28.6 x 0.9", "box 40 by 30 corner 4", "--angle", "62", "--offset", "8"),
    "cone main": ("28.6 x 0.9", "50 to 30 over 80", "--angle", "62", "--offset", "3"),
    "bent main": ("19 x 1.5", "25.4 bent to 120", "--angle", "80", "--main-turn", "15"),
    "overhanging": ("38.1 x 1.2", "25.4", "--angle", "62", "--offset", "7"),
}
MARGIN = 10.0


def written(tmp_path, *words):
    target = tmp_path / "sheet.pdf"
    status, _, err = run("joint", *words, "--pdf", str(target), "--force")
    assert (status, err) == (0, "")
    return target.read_bytes()


def pages(document):
    with pypdfium2.PdfDocument(document) as opened:
        return len(opened)


def length(points):
    return np.linalg.norm(np.diff(points, axis=0), axis=-1).sum()


def known_cut(paper=0.1):
    """The cut line from the formula of two cylinders, on paper of its thickness, from the toe."""
    angle, clock = np.radians(62), np.radians(np.linspace(180, 540, 20001))
    root = np.sqrt(19.05**2 - (3 + 14.3 * np.sin(clock)) ** 2)
    along = (root + 14.3 * np.cos(clock) * np.cos(angle)) / np.sin(angle)
    return np.stack(((clock - np.pi) * (14.3 + paper / 2), along), axis=-1)


def furthest(points, curve):
    """The largest distance from points to a dense curve, after both start at the same place."""
    moved = points - points[0] + curve[0]
    return max(np.linalg.norm(curve - at, axis=-1).min() for at in moved)


def test_the_pdfs_cut_line_is_true_to_0_02_mm(tmp_path):
    known = known_cut()
    lines = pdf_paths(written(tmp_path, *JOINT))
    nearest = min(lines, key=lambda line: abs(length(line) - length(known)))
    assert length(nearest) == pytest.approx(length(known), abs=0.02)
    assert furthest(nearest, known) < 0.02


def test_the_svgs_cut_line_is_true_to_0_02_mm(tmp_path):
    target = tmp_path / "sheet.svg"
    assert run("joint", *JOINT, "--svg", str(target))[0] == 0
    cut = svg_paths(target.read_text())["cut"]
    known = known_cut()
    assert length(cut) == pytest.approx(length(known), abs=0.02)
    assert furthest(cut, known) < 0.02
    assert svg_size(target.read_text()) == pytest.approx((210, 297))


def test_thicker_paper_makes_a_longer_template_by_pi_times_its_thickness(tmp_path):
    widths = []
    for thickness in ("0", "1"):
        target = tmp_path / f"{thickness}.svg"
        assert run("joint", *JOINT, "--paper-thickness", thickness, "--svg", str(target))[0] == 0
        cut = svg_paths(target.read_text())["cut"]
        widths.append(cut[-1, 0] - cut[0, 0])
    assert widths[1] - widths[0] == pytest.approx(np.pi, abs=1e-3)


@pytest.mark.parametrize("printer", ["100,100", "99.4,100.2", "101.5,98"])
def test_the_printer_correction_makes_bar_and_template_come_out_true(printer, tmp_path):
    across, along = map(float, printer.split(","))
    target = tmp_path / "sheet.svg"
    assert run("joint", *JOINT, "--printer", printer, "--svg", str(target))[0] == 0
    paths = svg_paths(target.read_text())
    for name, way in (("check-across", 0), ("check-along", 1)):
        bar = paths[name]
        asked = 100 * 100 / (across, along)[way]
        assert abs(bar[-1, way] - bar[0, way]) == pytest.approx(asked, abs=0.002)
    cut = paths["cut"]
    assert (cut[-1, 0] - cut[0, 0]) * across / 100 == pytest.approx(np.pi * 28.7, abs=0.002)


@pytest.mark.parametrize(("case", "paper"), [
    *((case, "a4") for case in CASES),
    *product(("large", "shallowest", "box main"), ("letter", "legal", "a3", "roll"))])
def test_nothing_leaves_the_printable_margin(case, paper, tmp_path):
    document = written(tmp_path, *CASES[case], "--paper", paper)
    for page in range(pages(document)):
        width, height = pdf_size(document, page)
        points = np.concatenate(pdf_paths(document, page))
        corners = [(box[:2], box[2:]) for _, box in pdf_texts(document, page)]
        every = np.concatenate((points, np.array(corners).reshape(-1, 2)))
        slack = 0.3  # half a line's width
        assert every.min() > MARGIN - slack
        assert every[:, 0].max() < width - MARGIN + slack
        assert every[:, 1].max() < height - MARGIN + slack


@pytest.mark.parametrize("paper", ["a4", "letter"])
@pytest.mark.parametrize("case", CASES)
def test_no_words_overlap_other_words(case, paper, monkeypatch, tmp_path):
    drawn = []
    monkeypatch.setattr("coper.drawing.svg.svg_files",
                        lambda path, pages: drawn.extend(pages) or [(path, b"")])
    assert run("joint", *CASES[case], "--paper", paper, "--svg", str(tmp_path / "x"))[0] == 0
    for page in drawn:
        assert not overlapping(page.marks)
    assert drawn


def test_a_large_template_is_tiled_and_its_tiles_hold_the_whole_cut_line(tmp_path):
    target = tmp_path / "sheet.svg"
    assert run("joint", *CASES["large"], "--svg", str(target))[0] == 0
    names = sorted(path.name for path in tmp_path.iterdir())
    assert names[:2] == ["sheet-B.svg", "sheet-C.svg"] and "sheet.svg" in names
    joint = Joint(Round(150, 3), Round(168), 70, 5)
    template = joint.cope().drawn_template()
    whole = length(np.stack((template.x, template.y), axis=-1))
    drawn = sum(length(points) for path in tmp_path.iterdir()
                for name, points in svg_paths(path.read_text()).items()
                if re.fullmatch(r"cut(-\d+)?", name))
    assert whole - 0.1 < drawn < whole + 60  # what neighbouring tiles share is there twice


def test_the_pdf_asks_viewers_for_no_scaling(tmp_path):
    assert b"/PrintScaling /None" in written(tmp_path, *JOINT)


def test_the_rendered_check_bar_measures_100_mm(tmp_path):
    dpi = 300.0
    document = written(tmp_path, *JOINT)
    bars = [line for line in pdf_paths(document) if len(line) == 2
            and abs(length(line) - 100) < 0.02 and abs(line[0, 1] - line[1, 1]) < 1e-6]
    (bar,) = bars
    dark = pdf_dark(document, 0, dpi)
    row = dark[round((297 - bar[0, 1]) / 25.4 * dpi)]
    start = int(np.argmax(row))
    run_on = int(np.argmin(row[start:]))
    assert run_on / dpi * 25.4 == pytest.approx(100, abs=0.2)


def test_the_sheet_says_what_it_is_in_words(tmp_path):
    said = " ".join(words for words, _ in pdf_texts(written(tmp_path, *JOINT)))
    for words in ("0 heel", "180 toe", "90 side", "waste", "tube's body", "glue at 180", "page A",
                  "THIS SIDE OUT", "main's axis", "Bevel of the wall", "Cautions",
                  "offset 3.00 mm"):
        assert words in said


def test_the_seam_is_where_it_was_asked_for(tmp_path):
    said = " ".join(w for w, _ in pdf_texts(written(tmp_path, *JOINT, "--seam", "90")))
    assert "glue at 90" in said


def test_two_runs_write_the_same_bytes(tmp_path):
    assert written(tmp_path, *JOINT) == written(tmp_path, *JOINT)
