"""The PDF, read back and measured."""

import os
import re
import subprocess
import sys

import numpy as np
import pypdfium2
import pypdfium2.raw as pdfium
import pytest

from coper.drawing.bounds import leaves
from coper.drawing.content import Lettering, page_content
from coper.drawing.hatch import hatch_strokes
from coper.drawing.letters import MARK, text_width
from coper.drawing.marks import CENTRE, CUT, THIN, Hatch, Path, Text
from coper.drawing.page import Page
from coper.drawing.pdf import pdf_bytes
from coper.pages.compose import Block, compose
from coper.pages.paper import PAPERS, page_letter
from tests.drawing.readback import (
    MM_PER_POINT,
    pdf_dark,
    pdf_paths,
    pdf_size,
    pdf_starts,
    pdf_texts,
)
from tests.pages.specimens import circle, length, rectangle, strip

TRUE_MM = 0.02  # what paper promises
READ_MM = 1e-4  # the reader keeps single precision


def page_of(*marks):
    return Page("A", 210.0, 297.0, marks)


def written(*marks):
    return pdf_bytes((page_of(*marks),), "title")


@pytest.fixture(scope="module")
def pages():
    blocks = [Block("strip", strip(140.0, 90.0)), Block("large", strip(300.0, 400.0))]
    return compose(blocks, "a4", title="title")


@pytest.fixture(scope="module")
def document(pages):
    return pdf_bytes(pages, "seat stay, left")


@pytest.mark.parametrize("paper", PAPERS)
def test_a_page_has_the_size_of_its_paper(paper):
    document = pdf_bytes(compose([], paper, title="title"), "title")
    assert pdf_size(document) == pytest.approx(PAPERS[paper], abs=READ_MM)


def test_every_line_of_every_page_has_its_points_to_0_02_mm(pages, document):
    for index, page in enumerate(pages):
        marks = [mark for mark in leaves(page.marks) if isinstance(mark, Path)]
        found = iter(pdf_paths(document, index))
        for mark in leaves(page.marks):
            if isinstance(mark, Path):
                points = np.concatenate((mark.points, mark.points[: mark.closed]))
                np.testing.assert_allclose(next(found), points, atol=TRUE_MM / 10)
            elif isinstance(mark, Hatch):
                for stroke in hatch_strokes(mark):
                    np.testing.assert_allclose(next(found), stroke, atol=TRUE_MM / 10)
        assert marks
        assert next(found, None) is None


def test_a_long_line_keeps_all_its_points():
    wave = circle(100.0, 150.0, 60.0, 5000)
    (found,) = pdf_paths(written(Path(wave, THIN)))
    assert len(found) == 5000


@pytest.mark.parametrize("bars", [(100.0, 100.0), (99.4, 100.2), (92.0, 108.0)])
def test_the_check_bars_are_100_mm_once_the_printer_has_stretched_them(bars):
    document = pdf_bytes(compose([], "a4", bars, title="title"), "title")
    lines = [line for line in pdf_paths(document) if length(line) > 50.0]
    across, along = lines
    assert across[0, 1] == pytest.approx(across[1, 1])
    assert along[0, 0] == pytest.approx(along[1, 0])
    assert length(across) * bars[0] / 100 == pytest.approx(100.0, abs=TRUE_MM)
    assert length(along) * bars[1] / 100 == pytest.approx(100.0, abs=TRUE_MM)


def test_the_bar_on_a_drawn_page_measures_100_mm_to_a_pixel():
    (page,) = compose([], "a4", title="title")
    dpi = 300.0
    dark = pdf_dark(pdf_bytes((page,), "title"), dpi=dpi)
    bars = {mark.name: mark for mark in leaves(page.marks) if mark.name.startswith("check-")}
    across, along = bars["check-across"].points, bars["check-along"].points
    pixel = 25.4 / dpi
    row = round((page.height - across[0, 1]) / pixel)
    column = round(along[0, 0] / pixel)
    columns = np.flatnonzero(dark[row - 1 : row + 1].any(axis=0))
    rows = np.flatnonzero(dark[:-round(across[0, 1] / pixel) - 30, column - 1 : column + 1]
                          .any(axis=1))
    inside = columns[(columns * pixel > 9.0) & (columns * pixel < 111.0)]
    below = rows[rows * pixel > page.height - along[1, 1] - 1.0]
    for pixels in (inside, below):
        # the end ticks stand half a line's width out on both sides
        assert np.ptp(pixels) * pixel + pixel == pytest.approx(100.0 + THIN.width, abs=2 * pixel)


def test_words_are_in_the_file_as_they_were_written(pages, document):
    for index, page in enumerate(pages):
        drawn = "".join(m.words for m in leaves(page.marks) if isinstance(m, Text))
        read = "".join(words for words, _ in pdf_texts(document, index))
        assert sorted(read.replace(" ", "")) == sorted(drawn.replace(" ", ""))


@pytest.mark.parametrize("anchor", ["left", "middle", "right"])
@pytest.mark.parametrize("turn", [0.0, 37.0, 90.0, 180.0])
def test_words_start_where_their_anchor_puts_them(anchor, turn):
    mark = Text((100.0, 150.0), "AVATAR fi office", 3.5, anchor, turn)
    ((words, start),) = pdf_starts(written(mark))
    width = text_width(mark.words, mark.height)
    back = {"left": 0.0, "middle": 0.5, "right": 1.0}[anchor] * width
    way = np.array((np.cos(np.radians(turn)), np.sin(np.radians(turn))))
    assert words == mark.words
    np.testing.assert_allclose(start, (100.0, 150.0) - back * way, atol=READ_MM)


@pytest.mark.parametrize("bold", [False, True])
def test_words_are_as_wide_and_as_high_as_they_were_measured(bold):
    words, dpi = "HAVATARH", 600.0  # letters that would be kerned, between two upright ones
    several, one = (
        np.nonzero(pdf_dark(written(Text((50, 50), drawn, 7.0, bold=bold)), dpi=dpi))
        for drawn in (words, "H")
    )
    pixel = 25.4 / dpi
    width = (np.ptp(several[1]) - np.ptp(one[1])) * pixel
    assert width == pytest.approx(text_width(words[:-1], 7.0, bold), abs=2 * pixel)
    assert (np.ptp(one[0]) + 1) * pixel == pytest.approx(7.0, abs=2 * pixel)


def test_a_dollar_sign_is_a_dollar_sign():
    assert [words for words, _ in pdf_texts(written(Text((50, 50), "$a^2$ 5 $", 3.5)))] == [
        "$a^2$ 5 $"
    ]


def test_the_faces_are_truetype_and_in_the_file(document):
    assert b"/FontFile2" in document
    assert b"/Type3" not in document
    assert set(re.findall(rb"/BaseFont /[A-Z]{6}\+([\w-]+)", document)) == {
        b"DejaVuSans", b"DejaVuSans-Bold"
    }


def test_pens_give_width_and_dashes_in_mm():
    line = np.array(((10.0, 10.0), (90.0, 10.0)))
    document = written(Path(line, CENTRE))
    with pypdfium2.PdfDocument(document) as opened:
        page = opened[0]
        (thing,) = (item.raw for item in page.get_objects())
        width, dash = pdfium.c_float(), (pdfium.c_float * 4)()
        pdfium.FPDFPageObj_GetStrokeWidth(thing, width)
        assert pdfium.FPDFPageObj_GetDashCount(thing) == 4
        pdfium.FPDFPageObj_GetDashArray(thing, dash, 4)
        assert pdfium.FPDFPageObj_GetLineCap(thing) == pdfium.FPDF_LINECAP_BUTT
        assert pdfium.FPDFPageObj_GetLineJoin(thing) == pdfium.FPDF_LINEJOIN_ROUND
    assert width.value * MM_PER_POINT == pytest.approx(CENTRE.width, abs=READ_MM)
    assert np.array(dash) * MM_PER_POINT == pytest.approx(CENTRE.dash, abs=READ_MM)


def test_only_what_is_filled_is_black_inside():
    empty = rectangle(50.0, 50.0, 20.0, 20.0)
    for fill in (False, True):
        dark = pdf_dark(written(Path(empty, CUT, closed=True, fill=fill)), dpi=72.0)
        assert dark[round((297.0 - 60.0) / MM_PER_POINT), round(60.0 / MM_PER_POINT)] == fill


def test_viewers_are_asked_for_no_scaling_and_for_one_side(document):
    with pypdfium2.PdfDocument(document) as opened:
        assert not pdfium.FPDF_VIEWERREF_GetPrintScaling(opened)
        assert pdfium.FPDF_VIEWERREF_GetDuplex(opened) == pdfium.Simplex
        assert opened.get_version() >= 14
    catalogue = document[document.rindex(b"/Type /Catalog"):]
    assert b"/PrintScaling /None" in catalogue
    assert b"/Version /1.7" in catalogue


def test_the_table_of_objects_leads_to_the_last_catalogue(document):
    table = int(re.search(rb"startxref\s+(\d+)", document)[1])
    root = int(re.search(rb"/Root (\d+) 0 R", document)[1])
    offset = int(re.findall(rb"(\d{10}) \d{5} [nf] \n", document[table:])[root])
    assert document[offset:].startswith(b"%d 0 obj\n<< /Type /Catalog /Version" % root)
    assert document.endswith(b"%%EOF\n")


def test_a_page_is_cropped_to_its_paper_and_no_less(pages, document):
    with pypdfium2.PdfDocument(document) as opened:
        for page, sheet in zip(pages, opened, strict=True):
            box = sheet.get_cropbox(fallback_ok=False)
            assert np.array(box) * MM_PER_POINT == pytest.approx(
                (0, 0, page.width, page.height), abs=READ_MM)


def test_the_document_opens_with_all_its_pages_and_its_title(pages, document):
    with pypdfium2.PdfDocument(document) as opened:
        assert len(opened) == len(pages)
        assert opened.get_metadata_value("Title") == "seat stay, left"
        assert opened.get_metadata_value("CreationDate") == ""


def test_a_title_may_have_any_letters():
    with pypdfium2.PdfDocument(pdf_bytes((page_of(),), "Größe (62°) \\ 管")) as opened:
        assert opened.get_metadata_value("Title") == "Größe (62°) \\ 管"


def test_pages_have_their_letters_as_labels_past_z_too():
    many = [Page(page_letter(index), 50.0, 50.0, ()) for index in range(29)]
    with pypdfium2.PdfDocument(pdf_bytes(many, "title")) as opened:
        labels = [opened.get_page_label(index) for index in range(29)]
    assert labels == [page.letter for page in many] and labels[26:] == ["AA", "AB", "AC"]


def test_each_sheet_is_a_bookmark_of_the_page_that_it_begins_on():
    opens = [("Job sheet",), (), ("Größe (62°) 管", "b"), ()]
    sheets = [Page(letter, 50.0, 50.0, (), title) for letter, title in
              zip("ABCD", opens, strict=True)]
    with pypdfium2.PdfDocument(pdf_bytes(sheets, "title")) as opened:
        found = [(mark.get_title(), mark.get_dest().get_index()) for mark in opened.get_toc()]
    assert found == [("Job sheet", 0), ("Größe (62°) 管", 2), ("b", 2)]


@pytest.mark.parametrize("bold", [False, True])
@pytest.mark.parametrize("words", ["Łódź", "велосипед", "ποδήλατο", "Ďábel ½ ø → “a”"])
def test_the_letters_of_europe_are_in_the_file_as_they_were_written(words, bold):
    ((read, _),) = pdf_texts(written(Text((50, 50), words, 3.5, bold=bold)))
    assert read == words


def test_a_letter_that_the_face_lacks_is_drawn_as_a_mark_and_stops_nothing():
    ((read, (left, _, right, _)),) = pdf_texts(written(Text((50, 50), "A管😀\n B", 7.0)))
    assert read == f"A{MARK}{MARK}{MARK} B"
    assert right - left == pytest.approx(text_width("A管😀\n B", 7.0), abs=1.5)


def test_words_are_laid_out_once_and_by_no_other_hand(monkeypatch):
    def refused(*given, **named):
        raise AssertionError("words were measured again")

    monkeypatch.setattr("matplotlib.backends.backend_pdf.RendererPdf.draw_text", refused)
    lettering = Lettering()
    marks = tuple(Text((50.0, 5.0 * row), "gap 0.30 mm", 2.5) for row in range(40))
    assert page_content(marks, lettering).count(b"Tj") == 40
    assert list(lettering.lines) == [("gap 0.30 mm", False)]
    assert len(pdf_texts(pdf_bytes((page_of(*marks),), "title"))) == 40


def test_a_page_of_lettering_is_small():
    marks = tuple(Text((15.0, 5.0 * row), f"tube {row}: 31.8 x 0.9, blank 431.26 mm", 2.5)
                  for row in range(50))
    assert len(written(*marks)) < 6000  # 9,800 with hints and a second copy of the face


_SCRIPT = """
import hashlib
from coper.pages.compose import Block, compose
from coper.drawing.pdf import pdf_bytes
from tests.pages.specimens import strip
pages = compose([Block("strip", strip(300.0, 400.0))], "a4", title="title")
print(hashlib.sha256(pdf_bytes(pages, "title")).hexdigest())
"""


def test_two_runs_give_the_same_bytes():
    runs = {
        subprocess.run(
            [sys.executable, "-c", _SCRIPT],
            env={**os.environ, "PYTHONHASHSEED": seed, "PYTHONPATH": os.pathsep.join(sys.path)},
            capture_output=True, text=True, check=True,
        ).stdout
        for seed in ("1", "2")
    }
    assert len(runs) == 1
    assert len(runs.pop().strip()) == 64


def test_no_pages_make_no_document():
    with pytest.raises(ValueError, match="no pages"):
        pdf_bytes((), "title")
