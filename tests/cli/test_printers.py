"""A printer that is off is corrected by every verb that prints, on all of its pages."""

import numpy as np
import pypdfium2
import pytest

from coper import parse_job
from coper.cli.parser import VERBS, make_parser
from coper.job.papers import TRUE_PRINTER
from coper.job.shaped import shape_job
from coper.pages.compose import compose
from coper.pages.paper import page_letter
from coper.sheets import packet as packet_module
from coper.sheets.contents import with_contents
from coper.sheets.packet import packet_pages
from tests.cli.run import run
from tests.cli.test_job import DEMO
from tests.cli.test_packet import RACK, page_texts, rack
from tests.drawing.readback import pdf_paths
from tests.pages.room import overlapping

BARS = (99.0, 101.0)
HOOP = """\
[tubes.hoop]
shape = "20 x 1.5"
start = { at = [0, 300, 0] }
corners = [[0, 300, 400], [0, -300, 400]]
bend = 100
end = { at = [0, -300, 0] }
"""
PRINTING = {
    "joint": ("joint", "28.6 x 0.9", "38.1", "--angle", "62"),
    "joint of a job": ("joint", str(DEMO), "top-tube", "start"),
    "saw": ("saw", "28.6 x 0.9", "38.1", "--angle", "90"),
    "saw of a job": ("saw", str(DEMO), "top-tube", "start"),
    "regrind": ("regrind", "28.6 x 0.9", "36", "--angle", "90", "--gaps", "0=0.3,90=0,180=0.6"),
    "layout": ("layout", str(DEMO)),
    "tracking": ("tracking", str(DEMO), "--head-diameter", "36"),
    "bends": ("bends", "hoop.toml"),
}


def bars(document):
    """The lengths of the two check bars on every page, across and along, mm."""
    with pypdfium2.PdfDocument(document) as opened:
        count = len(opened)
    for page in range(count):
        sizes = [np.ptp(line, axis=0) for line in pdf_paths(document, page) if len(line) == 2]
        across = [x for x, y in sizes if y < 1e-3 and 98 < x < 102]
        along = [y for x, y in sizes if x < 1e-3 and 98 < y < 102]
        yield across, along


def corrected(document):
    return all(any(abs(length * bar / 100 - 100) < 0.02 for length in lengths)
               for page in bars(document) for lengths, bar in zip(page, BARS, strict=True))


@pytest.mark.parametrize("words", PRINTING.values(), ids=PRINTING)
def test_every_verb_that_prints_corrects_all_its_pages(words, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    (tmp_path / "hoop.toml").write_text(HOOP)
    status, _, err = run(*words, "--pdf", "x.pdf", "--printer", "99,101")
    assert status == 0, err
    assert corrected((tmp_path / "x.pdf").read_bytes())


def test_every_verb_that_writes_pages_has_the_option():
    verbs = next(action for action in make_parser()._actions if action.dest == "verb").choices
    for name in VERBS:
        options = {option for action in verbs[name]._actions for option in action.option_strings}
        if options & {"--pdf", "--out"}:
            assert "--printer" in options, name


def test_a_shops_printer_corrects_all_pages_of_a_packet_and_an_option_goes_before_it(tmp_path):
    job = rack(tmp_path, RACK + "[shop]\nprinter = [99, 101]\n")
    assert run("job", str(job), "--out", str(tmp_path / "a"))[0] == 0
    assert corrected((tmp_path / "a" / "rack.pdf").read_bytes())
    assert run("job", str(job), "--out", str(tmp_path / "b"), "--printer", "100,100")[0] == 0
    for page in bars((tmp_path / "b" / "rack.pdf").read_bytes()):
        assert all(any(abs(length - 100) < 0.02 for length in lengths) for lengths in page)


def test_a_shops_printer_is_in_mm_whatever_the_unit_of_the_job():
    text = 'units = "in"\n[shop]\nprinter = [99.4, "100.2mm"]\n[tubes.a]\nshape = "1 x 0.05"\n' \
        "start = { at = [0, 0, 0] }\nend = { at = [9, 0, 0] }\n"
    assert parse_job(text).shop.printer == (99.4, 100.2)


@pytest.mark.parametrize(("printer", "words"), [
    ("[80, 100]", "cannot have measured 80 mm across"), ("[100]", "does not have two numbers"),
    ('"99"', "is not a list"), ("[99, true]", "is not a number"), ("99", "is not a list")])
def test_a_shops_printer_that_cannot_be_gets_one_line(printer, words, tmp_path):
    job = rack(tmp_path, RACK + f"[shop]\nprinter = {printer}\n")
    status, out, err = run("job", str(job), "--out", str(tmp_path / "out"))
    assert (status, out) == (2, "") and words in err and "shop.printer" in err


def test_the_job_sheet_says_what_to_type_where_a_bar_is_off_and_has_the_boxes(tmp_path):
    assert run("job", str(rack(tmp_path)), "--out", str(tmp_path / "out"))[0] == 0
    pages = page_texts((tmp_path / "out" / "rack.pdf").read_bytes())
    page = next(said for said in pages if "What the bars measure" in said)
    assert "type coper job rack.toml --out FOLDER with --printer" in page and "99.4,100.2" in page
    svg = "".join(file.read_text() for file in (tmp_path / "out").glob("rack*.svg"))
    assert 'id="measured-across"' in svg and 'id="measured-along"' in svg


@pytest.mark.parametrize("words", ["joint", "regrind"])
def test_a_strips_own_sheet_has_the_boxes_and_the_cure(words, tmp_path):
    target = tmp_path / "x.svg"
    assert run(*PRINTING[words], "--svg", str(target))[0] == 0
    text = "".join(file.read_text() for file in tmp_path.glob("x*.svg"))
    assert 'id="measured-along"' in text and "--printer" in text


def packet_of(text):
    return packet_pages(shape_job(parse_job(text)), lambda step: None)


def first_page(text):
    page = next(iter(packet_of(text)))
    return " ".join(mark.words for mark in _texts(page.marks))


def _texts(marks):
    for mark in marks:
        yield from _texts(mark.marks) if hasattr(mark, "marks") else (
            (mark,) if hasattr(mark, "words") else ())


@pytest.mark.parametrize("printer", [(98, 100), (99, 101), (101, 99)])
def test_a_printer_that_is_a_little_off_takes_no_more_pages(printer):
    text = RACK + f"[shop]\nprinter = [{printer[0]}, {printer[1]}]\n"
    assert len(packet_of(text)) == len(packet_of(RACK))


@pytest.mark.parametrize("count", [3, 60, 110, 150])
def test_the_list_of_many_sheets_stands_on_the_first_page_and_on_no_other_words(count):
    blocks = list(packet_of(RACK).sections[0].blocks({}))
    blocks = [block for block in blocks if block.name != "job-sheet contents"]
    lines = [f"Pages {page_letter(n)} to {page_letter(n + 1)}: peg-{n}" for n in range(count)]
    first, *_ = compose(with_contents(blocks, lines, "a4", TRUE_PRINTER), "a4")
    assert [mark.words for mark in _texts(first.marks) if ": peg-" in mark.words] == lines
    assert not overlapping(first.marks)


def test_a_list_that_no_page_holds_goes_on_on_the_next():
    blocks = [block for block in packet_of(RACK).sections[0].blocks({})
              if block.name != "job-sheet contents"]
    lines = [f"Page {page_letter(n)}: peg-{n}" for n in range(400)]
    pages = compose(with_contents(blocks, lines, "a4", TRUE_PRINTER), "a4")
    said = [mark.words for page in pages for mark in _texts(page.marks) if ": peg-" in mark.words]
    assert said == lines


def test_a_sheet_that_cannot_be_drawn_is_said_on_the_first_page_with_why(monkeypatch):
    from coper.errors import CoperError

    def refused(*given):
        raise CoperError("a blank is endless", "shorten it", "rail")

    monkeypatch.setattr(packet_module, "cut_list_blocks", refused)
    assert "No page: Cut list: rail: a blank is endless; shorten it" in first_page(RACK)


@pytest.mark.parametrize(("title", "drawn"), [
    ("Łódź, велосипед", "Łódź, велосипед"), ("自転車 3", "□□□ 3"), ("Bike 😀", "Bike □")])
def test_a_title_in_any_letters_stops_no_packet_after_the_work_is_done(title, drawn, tmp_path):
    job = rack(tmp_path, RACK.replace("Rack", title))
    status, _, err = run("job", str(job), "--out", str(tmp_path / "out"))
    assert status == 0, err
    pages = page_texts((tmp_path / "out" / "rack.pdf").read_bytes())
    assert all(drawn in page for page in pages)
    assert ("lettering lacks" in pages[0]) == ("□" in drawn)
    assert title in (tmp_path / "out" / "rack.svg").read_text()
