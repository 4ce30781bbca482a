"""The station Print: paper, printer, and the packet that the command line makes."""

import pypdfium2
import pytest

from coper.job.read import read_job
from coper.page.answers.printing import sheets
from tests.cli.run import run
from tests.page.pages import OWN, TWO_TUBES, client, fields, part, two_tubes, wagtail


@pytest.fixture
def path(tmp_path):
    return two_tubes(tmp_path)


@pytest.fixture
def one(path):
    return client(path.parent)


def set_up(one, **typed):
    own = {f"shop-{key}": value for key, value in typed.items()}
    return one.post("/two/print", data={**fields(one.get("/two/print")), **own}, headers=OWN)


def test_the_packet_is_the_one_of_the_command_line_byte_for_byte(path, one, monkeypatch):
    monkeypatch.chdir(path.parent)
    assert run("job", "two.toml", "--out", "out")[0] == 0
    answer = one.get("/two/print/packet.pdf")
    assert answer.headers["Content-Type"] == "application/pdf"
    assert "two.pdf" in answer.headers["Content-Disposition"]
    assert answer.content == (path.parent / "out" / "two.pdf").read_bytes()


def test_ticked_sheets_alone_are_the_same_pages_of_the_packet(path, one):
    listed = [words for sheet in sheets(TWO_TUBES, "two.toml") for words in sheet.words]
    assert "FOR SCISSORS" in " ".join(listed) and "Job sheet" in listed[0]
    whole, some = (pypdfium2.PdfDocument(one.get(f"/two/print/packet.pdf{which}").content)
                   for which in ("", "?sheet=0"))
    assert 0 < len(some) < len(whole)
    for index in range(len(some)):
        assert (some[index].get_textpage().get_text_bounded()
                == whole[index].get_textpage().get_text_bounded())


@pytest.mark.parametrize("which", ["?sheet=x", "?sheet=-1", "?sheet=99999999", "?sheet=77",
                                   "?sheet=%D9%A3"])
def test_a_sheet_that_the_packet_has_not_is_refused(one, which):
    assert one.get(f"/two/print/packet.pdf{which}").status_code == 404


def test_what_the_bars_measured_is_asked_once_and_kept_in_the_file(path, one):
    page = set_up(one, printer="99.4, 100.2")
    assert page.status_code == 200 and fields(page)["shop-printer"] == "99.4, 100.2"
    assert read_job(path).shop.printer == (99.4, 100.2)
    assert 'paper = "a4"     # of the office\'s printer\n' in path.read_text()
    assert set_up(one, printer="").status_code == 200
    assert read_job(path).shop.printer == (100, 100)


def test_another_paper_is_kept_in_the_file_and_printed_on(path, one):
    assert set_up(one, paper="letter").status_code == 200
    assert read_job(path).shop.paper == "letter"
    pdf = pypdfium2.PdfDocument(one.get("/two/print/packet.pdf?sheet=0").content)
    assert pdf[0].get_size() == pytest.approx((612, 792), abs=0.1)


@pytest.mark.parametrize(("typed", "words"), [
    ({"printer": "99.4"}, "two numbers"), ({"printer": "50, 100"}, "cannot have measured 50 mm"),
    ({"printer": "a, b"}, "no number"), ({"paper": "a9"}, "'a9' is not known")])
def test_a_printer_or_paper_that_is_none_stays_in_its_field_with_the_fault(
        path, one, typed, words):
    page = set_up(one, **typed)
    key, value = next(iter(typed.items()))
    assert page.status_code == 422 and words in part(page, f"said-shop-{key}")
    assert key == "paper" or fields(page)[f"shop-{key}"] == value
    assert path.read_text() == TWO_TUBES


def test_a_job_whose_tube_cannot_be_made_has_no_packet_and_says_why(path, one):
    path.write_text(TWO_TUBES.replace("[0, 0, 150]", "[300, 0, 150]"))
    answer = one.get("/two/print/packet.pdf")
    assert answer.status_code == 422 and "arm: the two ends" in answer.text


def test_the_file_name_of_a_packet_holds_no_header_of_somebodys(tmp_path):
    wagtail(tmp_path, 'a"\u00fc; x')
    (tmp_path / 'a"\u00fc; x.toml').write_text(TWO_TUBES)
    answer = client(tmp_path).get('/a"\u00fc; x/print/packet.pdf?sheet=0')
    assert answer.headers["Content-Disposition"].isascii()
    assert '"' not in answer.headers["Content-Disposition"]
