"""The packet of a job as a person gets it: read back, page by page."""

import json
import re

import numpy as np
import pypdfium2
import pytest

from coper import parse_job
from coper.cli.own_files import LEDGER
from coper.drawing.bounds import bounds
from coper.job.shaped import shape_job
from coper.pages.paper import page_letter
from coper.sheets.packet import packet_pages
from tests.cli.run import run
from tests.cli.test_job import DEMO
from tests.drawing.readback import pdf_paths, pdf_size, pdf_texts, svg_paths
from tests.pages.room import overlapping

RACK = """\
title = "Rack"
[tubes.rail]
shape = "19 x 1.5"
start = { at = [0, 0, 0] }
end = { at = [400, 0, 0] }
[tubes.leg]
shape = "16 x 1"
start = { at = [100, 0, 0], on = ["rail"] }
end = { at = [130, 40, -220] }
"""


PAGES = r"Pages? ([A-Z]+)(?: to [A-Z]+)?: "
"""How the job sheet names the pages of a sheet."""


def packet(folder, job, *words):
    """The packet's PDF and what was printed while it was made."""
    status, out, err = run("job", str(job), "--out", str(folder), *words)
    assert status == 0, err
    return (folder / f"{job.stem}.pdf").read_bytes(), out, err


@pytest.fixture(scope="module")
def demo(tmp_path_factory):
    folder = tmp_path_factory.mktemp("packet")
    document, out, err = packet(folder, DEMO)
    with pypdfium2.PdfDocument(document) as opened:
        count = len(opened)
    return folder, [pdf_texts(document, page) for page in range(count)], document, out, err


def rack(tmp_path, text=RACK):
    file = tmp_path / "rack.toml"
    file.write_text(text)
    return file


def said(page):
    return " ".join(words for words, _ in page)


def page_texts(document):
    with pypdfium2.PdfDocument(document) as opened:
        return [said(pdf_texts(document, page)) for page in range(len(opened))]


def test_the_pages_stand_in_the_order_of_work(demo):
    pages = [said(page) for page in demo[1]]
    firsts = [next(index for index, text in enumerate(pages) if words in text) for words in
              ("Built by", "Order of work", "Kerf", "front edge of the table",
               "Fit-up log: seat-tube", "Clearance of the rear tyre", "Tracking: from")]
    assert firsts == sorted(firsts)


def test_the_contents_name_the_page_that_each_part_begins_on(demo):
    pages = demo[1]
    contents = re.findall(
        rf"{PAGES}(.+?)(?= Pages? [A-Z]+(?: to|:) | What it measures| Cautions|$)", said(pages[0]))
    titles = {title.strip(): letter for letter, title in contents}
    assert {"Cut list", "On the table", "down-tube", "chain-stay left",
            "Clearance"} <= set(titles)
    for title, heading in (("Cut list", "Cut list"), ("down-tube", "down-tube"),
                           ("Clearance", "Clearance of the rear tyre")):
        page = next(page for page in pages if f"page {titles[title]} of " in said(page))
        assert heading in said(page)


def test_every_page_has_the_same_code_its_letter_and_a_line_on_the_first_page(demo):
    document, pages = demo[2], [said(page) for page in demo[1]]
    assert len({re.search(r"· code (\w{6}) ·", page)[1] for page in pages}) == 1
    with pypdfium2.PdfDocument(document) as opened:
        letters = [opened.get_page_label(index) for index in range(len(pages))]
        marks = [(mark.get_title(), mark.get_dest().get_index()) for mark in opened.get_toc()]
    listed = [letters.index(first) + step
              for first, last in re.findall(r"Pages? ([A-Z]+)(?: to ([A-Z]+))?: ", pages[0])
              for step in range(letters.index(last or first) - letters.index(first) + 1)]
    assert listed == list(range(len(pages)))
    for title, index in marks:
        assert re.search(rf"Pages? {letters[index]}(?: to [A-Z]+)?: {re.escape(title)}", pages[0])


def test_the_tracking_log_says_where_no_heat_may_go_and_that_the_air_moves(demo):
    last = said(demo[1][-1])
    assert "heat-treated or thin-walled" in last and "moving air, coatings stripped" in last


def test_no_tubes_name_makes_the_job_sheet_point_to_a_wrong_page(tmp_path):
    text = RACK.replace("tubes.leg", 'tubes."Clearance"') + """\
[tubes."Cut list"]
shape = "16 x 1"
start = { at = [200, 0, 0], on = ["rail"] }
end = { at = [230, -40, -240] }
[bicycle]
drop = 58
chain_stay = 419
rear_wheel = "40-507"
"""
    pages = page_texts(packet(tmp_path / "out", rack(tmp_path, text))[0])
    contents = re.findall(rf"{PAGES}(Cut list|Clearance)(?= Page| What)", pages[0])
    found = [(title, next(page for page in pages if f"page {letter} of " in page))
             for letter, title in contents]
    assert [title for title, _ in found] == ["Cut list", "Clearance", "Cut list", "Clearance"]
    for (_, page), words in zip(found, ("Kerf", "Fit-up log: Clearance, start",
                                        "Fit-up log: Cut list, start",
                                        "Clearance of the rear tyre"), strict=True):
        assert words in page


def test_a_tubes_template_card_and_log_stand_together_before_the_next_tubes(demo):
    pages = [said(page) for page in demo[1]]
    tubes = ("seat-tube", "down-tube", "top-tube", "chain-stay left", "chain-stay right")
    letters = {title: letter for letter, title in re.findall(
        rf"{PAGES}(\S+(?: left| right)?)", pages[0])}
    begun = [next(index for index, text in enumerate(pages) if f"page {letters[tube]} of " in text)
             for tube in tubes]
    for tube, first, after in zip(tubes, begun, begun[1:], strict=False):
        found = [index for index, text in enumerate(pages)
                 if f"Fit-up log: {tube}, start" in text or f"{tube} start on" in text]
        assert len(found) >= 1 and first <= min(found) and max(found) < after


def test_every_shaped_end_has_a_template_a_card_a_log_and_a_picture(demo):
    pages = " ".join(said(page) for page in demo[1])
    shaped = [(tube, end) for tube, ends in (
        ("seat-tube", ("start",)), ("down-tube", ("start", "end")), ("top-tube", ("start", "end")),
        ("chain-stay left", ("start",)), ("seat-stay right", ("start",)),
        ("stay-bridge", ("start", "end")), ("rack-rail", ("start", "end"))) for end in ends]
    for tube, end in shaped:
        assert f"{tube}, {end}, on" in pages  # the picture's caption, perhaps broken after it
        assert f"Fit-up log: {tube}, {end}" in pages
        assert len(re.findall(rf"(?<!log: ){tube}, {end}(?!, on)", pages)) >= 1


def laid_out(text):
    return packet_pages(shape_job(parse_job(text)), lambda step: None)


def test_no_words_stand_on_others_and_none_leave_the_page(demo):
    for number, page in enumerate(demo[1]):
        width, height = pdf_size(demo[2], number)
        for _, (left, bottom, right, top) in page:
            assert left > 0 and bottom > 0 and right < width and top < height
    for page in laid_out(DEMO.read_text()):
        assert not overlapping(page.marks), page.letter


def test_every_page_has_both_check_bars(demo):
    for number in range(len(demo[1])):
        lengths = [(np.ptp(line[:, 0]), np.ptp(line[:, 1])) for line in pdf_paths(demo[2], number)]
        for bar in ((100, 0), (0, 100)):
            assert any(np.allclose(one, bar, atol=0.02) for one in lengths), number


def test_each_page_is_there_as_svg_too(demo):
    folder, pages, *_ = demo
    files = sorted(path.name for path in folder.iterdir() if path.suffix == ".svg")
    assert len(files) == len(pages)
    assert "wagtail.svg" in files and "wagtail-B.svg" in files
    first = svg_paths((folder / "wagtail.svg").read_text())
    assert np.ptp(first["check-across"][:, 0]) == pytest.approx(100, abs=0.02)


def test_its_steps_are_shown_while_it_works_and_what_was_written_after(demo):
    folder, pages, _, out, err = demo
    for step in ("cut list …", "layout …", "down-tube (2 of 9) …", f"{len(pages)} pages …"):
        assert step in err
    assert f"wrote {folder / 'wagtail.pdf'}, and each of its {len(pages)} pages as SVG" in out


def test_a_packet_is_the_same_bytes_each_time_and_a_second_run_needs_no_force(tmp_path):
    job = rack(tmp_path)
    first, *_ = packet(tmp_path / "out", job)
    again, *_ = packet(tmp_path / "out", job)
    assert first == again


def test_a_smaller_job_leaves_no_page_of_the_larger_one(tmp_path):
    folder, job = tmp_path / "out", rack(tmp_path)
    packet(folder, job)
    before = {path.name for path in folder.iterdir()}
    job.write_text(RACK.replace(', on = ["rail"]', ""))
    packet(folder, job)
    after = {path.name for path in folder.iterdir()}
    assert after < before and {LEDGER, "rack.pdf", "rack.svg"} <= after


def test_a_page_that_a_person_wrote_on_stops_the_run_and_is_kept(tmp_path):
    folder, job = tmp_path / "out", rack(tmp_path)
    packet(folder, job)
    (folder / "rack.svg").write_text("mine")
    status, out, err = run("job", str(job), "--out", str(folder))
    assert (status, out) == (2, "")
    line = err.splitlines()[-1]
    assert line.startswith("coper: ") and "rack.svg" in line and "changed since" in line
    assert (folder / "rack.svg").read_text() == "mine"
    packet(folder, job, "--force")
    assert (folder / "rack.svg").read_text() != "mine"


def test_json_stays_alone_on_standard_output_when_a_packet_is_written(tmp_path):
    status, out, _ = run("job", str(rack(tmp_path)), "--out", str(tmp_path / "out"), "--json")
    assert status == 0 and json.loads(out)["title"] == "Rack"
    assert (tmp_path / "out" / "rack.pdf").exists()


def test_a_rack_has_no_page_of_wheels_or_tracking_and_none_is_missed(tmp_path):
    pages = " ".join(page_texts(packet(tmp_path / "out", rack(tmp_path))[0]))
    for words in ("Clearance", "Is it straight", "No page", "What it measures"):
        assert words not in pages
    for words in ("Cut list", "Fit-up log: leg, start", "Order of work", "Vent closed tubes"):
        assert words in pages


def test_a_part_that_lacks_a_number_says_so_on_the_job_sheet(tmp_path):
    text = RACK + "[drive]\nring = 44\nsprocket = 18\n"
    pages = page_texts(packet(tmp_path / "out", rack(tmp_path, text))[0])
    assert "No page: Clearance: " in pages[0]
    assert "chain_stay" in pages[0]


@pytest.mark.parametrize("paper", ["letter", "a3", "legal", "roll"])
def test_a_packet_fits_every_paper(paper):
    pages = laid_out(RACK + f'[shop]\npaper = "{paper}"\n')
    for page in pages:
        box = bounds(page.marks)
        assert box.left >= 0 and box.bottom >= 0
        assert box.right <= page.width and box.top <= page.height
        assert not overlapping(page.marks), page.letter


def test_a_job_with_nothing_to_shape_still_has_a_sheet_and_a_cut_list(tmp_path):
    text = RACK.replace(', on = ["rail"]', "")
    pages = page_texts(packet(tmp_path / "out", rack(tmp_path, text))[0])
    assert "Rack" in pages[0] and any("Cut list" in page for page in pages)


def test_a_folder_that_cannot_be_made_gets_one_line(tmp_path):
    (tmp_path / "out").write_text("a file")
    status, out, err = run("job", str(rack(tmp_path)), "--out", str(tmp_path / "out"))
    assert (status, out) == (2, "")
    assert "not a folder" in err.splitlines()[-1]


def test_force_takes_the_last_pages_of_a_longer_run_away_and_no_others(tmp_path):
    folder, job = tmp_path / "out", rack(tmp_path)
    packet(folder, job)
    count = len(page_texts((folder / "rack.pdf").read_bytes()))
    last, longer, mine = (folder / f"rack-{letter}.svg"
                          for letter in ("B", page_letter(count), page_letter(count + 1)))
    letter = page_letter(count)
    longer.write_text(last.read_text().replace("page B of", f"page {letter} of"))
    mine.write_text("mine")
    packet(folder, job)
    assert longer.exists()
    packet(folder, job, "--force")
    assert not longer.exists() and mine.read_text() == "mine"
