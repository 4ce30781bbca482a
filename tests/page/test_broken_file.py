"""A file that is broken, gone or cannot be written: said in a sentence, and nothing is lost."""

import resource
import shutil
from contextlib import contextmanager

import pytest

from coper.job.read import parse_job
from coper.page.answers.stations import KEYS
from tests.page.pages import OWN, client
from tests.page.places import GETS, PAIR, POSTS, filled
from tests.page.reading import Reading

BROKEN = {
    "no TOML": (PAIR.replace("shape = ", "shape = = ", 1), "line 11"),
    "a shape that is none": (PAIR.replace("28.6x1", "28.6xx1"), "28.6xx1: unknown word"),
    "a tube that is not there": (PAIR.replace('["main"]', '["man"]'), "did you mean main?")}


@pytest.fixture
def path(tmp_path):
    found = tmp_path / "shop" / "job.toml"
    found.parent.mkdir()
    found.write_text(PAIR)
    return found


@pytest.fixture
def one(path):
    return client(path.parent)


def words(answer):
    return " ".join(" ".join(Reading(answer.text).words).split())


def titled(one, title):
    """Another title, as the page's form sends it."""
    return one.post("/job/title", headers=OWN, data={
        "as_of": one.get("/job/as-of").text, "was.title": "A pair", "title": title})


@pytest.mark.parametrize("fault", BROKEN)
def test_every_station_says_what_an_editor_broke_and_comes_back(path, one, fault):
    text, said = BROKEN[fault]
    path.write_text(text)
    for key in KEYS:
        page = one.get(f"/job/{key}")
        assert page.status_code == 200 and said in words(page), key
        assert 'id="as-of"' in page.text, "so that it is shown anew once it is mended"
    for address in GETS:
        assert one.get(filled(address)).status_code in (200, 404, 422), address
    path.write_text(PAIR)
    for key in KEYS:
        page = one.get(f"/job/{key}")
        assert page.status_code == 200 and said not in words(page), key


@pytest.mark.parametrize("fault", BROKEN)
def test_nothing_is_written_into_a_file_that_an_editor_broke_but_what_mends_it(path, one, fault):
    text, _ = BROKEN[fault]
    path.write_text(text)
    for address in POSTS:
        answer = one.post(filled(address), headers=OWN, data={
            "as_of": one.get("/job/as-of").text, "here": "tubes", "title": "x", "name": "x",
            "step": "cut", "done": "yes"})
        assert answer.status_code in (200, 404, 409, 422), (address, words(answer))
        if path.read_text() != text:
            parse_job(path.read_text())
            path.write_text(text)


def gone(path):
    path.unlink()


def renamed(path):
    path.rename(path.with_name("other.toml"))


def without_folder(path):
    shutil.rmtree(path.parent)


@pytest.mark.parametrize("take", [gone, renamed, without_folder])
def test_a_file_that_is_taken_away_is_said_to_be_and_no_change_brings_it_back(path, one, take):
    as_of = one.get("/job/as-of").text
    take(path)
    for address in GETS:
        assert one.get(filled(address)).status_code == 404, address
    for address in POSTS:
        answer = one.post(filled(address), headers=OWN, data={
            "as_of": as_of, "title": "x", "here": "tubes"})
        assert answer.status_code == 404 and ";" in words(answer), address
    assert not path.exists() and not path.with_suffix(".book").exists()
    assert one.get("/").status_code in (200, 404)


@contextmanager
def files_of_at_most(count):
    """No file grows beyond so many bytes, as on a disk that is full."""
    soft, hard = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (count, hard))
    try:
        yield
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, (soft, hard))


@pytest.mark.parametrize("room", [0, 100, len(PAIR) - 1])
def test_a_disk_that_is_full_leaves_the_file_whole_and_what_was_typed_in_its_field(
        path, one, room):
    before = one.get("/job/title")
    with files_of_at_most(room):
        page = titled(one, "A longer title of it")
    assert before.status_code == 200 and page.status_code == 507
    assert "Not kept: " in words(page) and 'value="A longer title of it"' in page.text
    assert [found.name for found in path.parent.iterdir() if found.suffix == ".toml"] == [path.name]
    assert path.read_text() == PAIR and not list(path.parent.glob(".coper-*"))
    assert titled(one, "Another").status_code == 200 and 'title = "Another"' in path.read_text()
