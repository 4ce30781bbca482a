"""A book that cannot be used stops no work: each page is there, and says what is wrong."""

import os
import re
import sqlite3

import pytest

from coper.page.answers.stations import KEYS
from tests.page.pages import OWN, client
from tests.page.places import PAIR

CARD = "/job/bench/branch/centre/start"
LOOKED_AT = (*(f"/job/{key}" for key in KEYS), CARD, "/job/check/made", "/job/tubes/branch")


@pytest.fixture
def one(tmp_path):
    """Whoever has ticked a step."""
    (tmp_path / "job.toml").write_text(PAIR)
    found = client(tmp_path)
    assert tick(found, "cut").status_code == 200
    return found


def tick(one, step):
    return one.post(CARD, data={"as_of": one.get("/job/as-of").text, "step": step, "done": "yes"},
                    headers=OWN)


def said(answer):
    return " ".join(re.findall(r'(?s)<p class="notice">(.*?)</p>', answer.text))


def emptied(book):
    book.write_bytes(b"")


def with_other_pages(book):
    size = book.stat().st_size
    with book.open("r+b") as file:
        file.seek(4096)
        file.write(b"\x93" * (size - 4096))


@pytest.mark.parametrize("harm", [emptied, with_other_pages])
def test_a_book_that_is_damaged_while_the_page_runs_is_moved_aside_by_looking(tmp_path, one, harm):
    harm(tmp_path / "job.book")
    answers = [one.get(place) for place in LOOKED_AT]
    assert [answer.status_code for answer in answers] == [200] * len(LOOKED_AT)
    assert "job.book was damaged" in " ".join(map(said, answers))
    assert len(list(tmp_path.glob("job-damaged-*.book"))) == 1
    assert tick(one, "fitted").status_code == 200 and "✓ fitted" in one.get(CARD).text


def piped(book):
    book.unlink()
    os.mkfifo(book)


def led_out(book):
    other = book.parent / "other"
    other.mkdir()
    book.rename(other / "x")
    book.symlink_to(other / "x")


def of_a_later_form(book):
    with sqlite3.connect(book) as base:
        base.execute("PRAGMA user_version = 99")
    base.close()


@pytest.mark.parametrize(("harm", "words"), [
    (piped, "no plain file"), (led_out, "is a link"), (of_a_later_form, "a later coper")])
def test_a_book_that_cannot_be_used_is_left_as_it_is_and_the_job_works_on(
        tmp_path, one, harm, words):
    book = tmp_path / "job.book"
    harm(book)
    before = book.read_bytes() if book.is_file() else b""
    assert {one.get(place).status_code for place in LOOKED_AT} == {200}
    for place in (CARD, "/job/bench", "/job/check/made"):
        assert words in said(one.get(place)), place
    answer = tick(one, "fitted")
    assert answer.status_code == 507 and "Not kept" in said(answer) and words in said(answer)
    answer = one.post("/job/title", headers=OWN, data={
        "as_of": one.get("/job/as-of").text, "title": "Other"})
    assert answer.status_code == 200 and "cannot be undone" in said(answer)
    assert 'title = "Other"' in (tmp_path / "job.toml").read_text()
    assert (book.read_bytes() if book.is_file() else b"") == before
