"""The packet of a job as a person gets it: read back, page by page."""

import json
import re

import numpy as np
import pypdfium2
import pytest

from coper import make_pieces, parse_job
from coper.cli.own_files import LEDGER
from coper.drawing.bounds import bounds
from coper.frame.main_landings import find_landings
from coper.job.read import read_job
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


def test_strips_cards_and_logs_have_the_number_of_the_cut_list(demo):
    shaped = shape_job(read_job(str(DEMO)))
    scissors, kept = (" ".join(text for text in map(said, demo[1]) if ("scissors ·" in text) is cut)
                      for cut in (True, False))
    for piece in shaped.pieces:
        number = shaped.cut_list.numbers[piece.label]
        coped = sum(end.cope is not None for end in piece.ends)
        strips = len(re.findall(rf"\bblank {number}\b|\b{number}: {piece.tube.name}", scissors))
        assert strips >= coped or (coped == 2 and strips), piece.label  # a short one has one strip
        assert len(re.findall(rf"\bblank {number}: ", kept)) == 2 * coped  # a card and a log


def listed(pages):
    """The contents: of every part its first page, its last one, and its title."""
    begun = r"Pages? ([A-Z]+)(?: to ([A-Z]+))?(?:, FOR SCISSORS)?: "
    after = r"(?= Pages? [A-Z]+(?: to [A-Z]+)?(?:, FOR SCISSORS)?: | What it measures|$)"
    found = re.findall(f"{begun}(.+?){after}", said(pages[0]) + " " + said(pages[1]))
    return [(first, last or first, title.strip()) for first, last, title in found]


def test_the_contents_name_the_page_that_each_part_begins_on(demo):
    pages = demo[1]
    titles = {title: first for first, _, title in listed(pages)}
    assert titles["Job sheet"] == "A"
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
    known = [(letters.index(first), letters.index(last), title)
             for first, last, title in listed([demo[1][0], []])]
    assert {page for first, last, _ in known for page in range(first, last + 1)} == set(
        range(len(pages)))
    assert sorted((title.lower(), first) for first, _, title in known) == sorted(
        (title.lower(), index) for title, index in marks)


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
    contents = re.findall(r"Pages? ([A-Z])(?: to ([A-Z]))?: (Cut list|Clearance)(?= Page| What)",
                          pages[0])
    found = [(title, " ".join(pages[ord(first) - 65:ord(last or first) - 64]))
             for first, last, title in contents]
    assert [title for title, _ in found] == ["Cut list", "Clearance", "Cut list", "Clearance"]
    for (_, page), words in zip(found, ("Kerf", "Fit-up log: Clearance, start",
                                        "Fit-up log: Cut list, start",
                                        "Clearance of the rear tyre"), strict=True):
        assert words in page


def number_of(letter):
    """A page's number, from 0, by its letter."""
    return next(index for index in range(700) if page_letter(index) == letter)


def test_a_tubes_notes_cards_and_logs_are_on_the_pages_that_the_contents_name(demo):
    pages = [said(page) for page in demo[1]]
    span = {title: (number_of(first), number_of(last)) for first, last, title in listed(demo[1])}
    for tube, ends in (("seat-tube", ("start",)), ("down-tube", ("start", "end")),
                       ("top-tube", ("start", "end")), ("chain-stay left", ("start",)),
                       ("chain-stay right", ("start",))):
        first, last = span[tube]
        found = [index for index, text in enumerate(pages) for end in ends
                 if f"Fit-up log: {tube}, {end}" in text]
        assert len(found) == len(ends) and first <= min(found) and max(found) <= last
        assert last - first <= 5  # cards and logs are high: they fill the pages that they fit


KEPT = ("Fit-up log", "Limit for", "Blank ", "Clock 0:", "Cautions", "What lands on", "Kerf",
        "Diagonals", "angle from square", "from the start mm")
"""Words of notes, cards, logs, tables and lists."""

CUT_OUT = ("main + \u2192", "THIS SIDE OUT")
"""Words of strips and footprints."""


def test_sheets_to_cut_up_hold_nothing_that_is_kept_and_no_other_page_is_cut(demo):
    pages = [said(page) for page in demo[1]]
    scissors = [index for index, text in enumerate(pages) if text.startswith("For scissors")
                or "For scissors · " in text]
    assert len(scissors) == 4 and scissors == list(range(scissors[0], scissors[-1] + 1))
    for index, text in enumerate(pages):
        if index in scissors:
            assert not [words for words in KEPT if words in text], text
        else:
            assert not [words for words in CUT_OUT if words in text], text
    cut_up = " ".join(pages[index] for index in scissors)
    assert all(words in cut_up for words in CUT_OUT)
    known, = (one for one in listed(demo[1]) if one[2] == "templates and footprints")
    assert [number_of(letter) for letter in known[:2]] == [scissors[0], scissors[-1]]
    first = said(demo[1][0])
    assert f"Pages {known[0]} to {known[1]}, FOR SCISSORS: templates and footprints" in first


def test_the_notes_of_a_tube_say_on_which_pages_its_templates_are(demo):
    pages = [said(page) for page in demo[1]]
    for tube in ("seat-tube", "down-tube", "stay-bridge"):
        notes = next(text for text in pages if f"{tube} To cut out: page" in text)
        first, last = re.search(rf"{tube} To cut out: pages? ([A-Z]+)(?: to ([A-Z]+))?\.",
                                notes).groups()
        where = " ".join(pages[number_of(first):number_of(last or first) + 1])
        assert f"{tube} start on" in where or f"{tube} whole" in where
        elsewhere = pages[:number_of(first)] + pages[number_of(last or first) + 1:]
        assert not any(f"{tube} start on" in text and "For scissors" in text for text in elsewhere)


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


def test_every_landing_is_on_its_mains_page_of_marks_and_its_footprint_says_the_same(demo):
    pages = [said(page) for page in demo[1]]
    pieces = make_pieces(read_job(str(DEMO)))
    mains = {(piece.tube.name, piece.tube.side): piece for piece in pieces}
    count = 0
    for named, landings in find_landings(pieces).items():
        label = mains[named].label
        page = next(text for text in pages if f"Marks on {label} Unrolled" in text)
        for number, one in enumerate(landings, 1):
            count += 1
            row = re.search(
                rf" {number} {one.words} (-?[\d.]+) \S+ (-?[\d.]+) ([\d.]+) ([\d.]+) ([\d.]+) "
                rf"(start|end|square) ([A-Z]+) ", page.partition(f"What lands on {label} ")[2])
            numbers = [float(value) for value in row.groups()[:5]]
            assert numbers == pytest.approx(
                [one.at, one.to_end, one.clock, *one.reach], abs=0.051), one.words
            assert row[6] == (one.heel or "square")
            footprint = pages[number_of(row[7])]
            assert "For scissors" in footprint
            words = footprint.partition(f"{one.words} on {label} ")[2]
            assert f"clock {row[3]} of {label}" in words
            across = re.match(r"Line across: (-?[\d.]+) mm|Its edge lies from ([\d.]+) mm", words)
            said_at = across[1] or across[2]
            assert float(said_at) == pytest.approx(
                one.at if across[1] else one.reach[0], abs=0.0051)
    assert count == 14
