"""The shop book: what is kept in it comes back, and a damaged one is moved aside."""

import sqlite3
from contextlib import closing

import pytest
from hypothesis import given, strategies

from coper.book.book import opened
from coper.book.entries import EndName, MadePart, Reading, Readings
from coper.book.form import FORM
from coper.book.place import book_path
from coper.errors import FileError
from tests.book.books import ANSWER, STAY, readings
from tests.profiles import examples

RIGHT = EndName("chain-stay", "right", "start")
FAR = EndName("chain-stay", "left", "end")


@pytest.fixture
def path(tmp_path):
    return tmp_path / "frame.book"


def filled(path):
    with opened(path) as book:
        for number in range(3):
            book.keep_round(readings(number), ANSWER, "title = 1")
        book.tick(STAY, "cut", "title = 1")
        book.keep_made((MadePart("stay", "left", "length", 393.8, "393.8"),), "title = 2")
    return path


numbers = strategies.floats(0, 25)


@given(strategies.lists(strategies.builds(Reading, strategies.floats(0, 359.9), numbers),
                        min_size=1), strategies.text(max_size=30), strategies.none() | numbers)
@examples(25)
def test_a_round_comes_back_as_it_was_kept(tmp_path_factory, gaps, typed, limit):
    given_readings = Readings(STAY, tuple(gaps), typed.encode(errors="ignore").decode(), "saw=38mm",
                              limit)
    path = tmp_path_factory.mktemp("book") / "frame.book"
    with opened(path) as book:
        kept = book.keep_round(given_readings, ANSWER, "title = 1")
    with opened(path) as book:
        assert book.rounds(STAY) == (kept,)
        assert kept.readings == given_readings and kept.answer == ANSWER


def test_rounds_are_numbered_an_end_and_left_is_not_right(path):
    with opened(path) as book:
        for end in (STAY, RIGHT, STAY, FAR):
            book.keep_round(readings(len(book.rounds()), end), ANSWER, "")
        assert [(one.readings.end, one.number) for one in book.rounds()] == [
            (STAY, 1), (RIGHT, 1), (STAY, 2), (FAR, 1)]
        assert [one.number for one in book.rounds(RIGHT)] == [1]


def test_the_same_readings_given_again_are_the_same_round_until_the_job_or_the_cut_is_another(path):
    with opened(path) as book:
        one = book.keep_round(readings(1), ANSWER, "title = 1")
        assert book.keep_round(readings(1), ANSWER, "title = 1") == one
        assert book.keep_round(readings(1), ANSWER, "title = 2").number == 2
        assert book.keep_round(readings(2), ANSWER, "title = 2").number == 3
        assert book.keep_round(readings(1), ANSWER, "title = 2").number == 4


def test_a_version_of_the_job_is_kept_once_until_it_changes_and_comes_back_letter_for_letter(path):
    texts = ["a = 1\r\n# Ł\n", "a = 2", "a = 1\r\n# Ł\n"]
    with opened(path) as book:
        for text in texts:
            for step in ("cut", "fitted"):
                book.tick(STAY, step, text)
        assert [one.text for one in book.versions()] == texts


def test_a_step_is_ticked_once_and_the_tick_can_be_taken_away(path):
    with opened(path) as book:
        for _ in range(2):
            book.tick(STAY, "cut", "")
        book.tick(RIGHT, "cut", "")
        book.tick(RIGHT, "cut", "", done=False)
        assert [(one.end, one.step) for one in book.ticks()] == [(STAY, "cut")]


def test_a_part_that_is_measured_again_counts_as_it_was_measured_last(path):
    with opened(path) as book:
        for length in (393.8, 394.2):
            book.keep_made((MadePart("stay", "left", "length", length, str(length)),
                            MadePart("stay", "right", "length", 400.0, "400")), "")
        assert {(one.side, one.value) for one in book.made()} == {("left", 394.2), ("right", 400.0)}


DAMAGES = {
    "its first bytes are gone": lambda old: bytes(100) + old[100:],
    "half of it is gone": lambda old: old[:len(old) // 2],
    "nothing is left": lambda old: b"",
    "only its first bytes are left": lambda old: old[:16],
    "its pages are overwritten": lambda old: old[:4096] + b"\xa5" * (len(old) - 4096),
    "it is another file": lambda old: b"a letter to a friend\n" * 40,
}


@pytest.mark.parametrize("damage", DAMAGES)
def test_a_damaged_book_is_moved_aside_whole_and_a_new_one_is_begun(path, damage):
    content = DAMAGES[damage](filled(path).read_bytes())
    path.write_bytes(content)
    with opened(path) as book:
        assert book.rounds() == () and len(book.notes) == 1
        note = book.notes[0]
        assert note.startswith("frame.book was damaged (") and "-damaged-20" in note
        assert book.keep_round(readings(9), ANSWER, "").number == 1
    aside = [one for one in path.parent.iterdir() if "-damaged-" in one.name]
    assert [one.read_bytes() for one in aside] == [content] and aside[0].name in note
    with opened(path) as book:
        assert book.notes == () and len(book.rounds()) == 1


def test_a_book_damaged_twice_in_one_second_leaves_both_aside(path):
    for letter in (b"a", b"b"):
        path.write_bytes(letter * 5000)
        with opened(path):
            pass
    aside = sorted(one.read_bytes()[:1] for one in path.parent.glob("*-damaged-*"))
    assert aside == [b"a", b"b"]


def test_another_programs_database_and_a_later_book_are_left_alone(path):
    with closing(sqlite3.connect(path)) as base:
        base.execute("PRAGMA application_id = 77")
        base.execute("CREATE TABLE t (a)")
    before = path.read_bytes()
    with pytest.raises(FileError, match="another program's database"), opened(path):
        pass
    assert path.read_bytes() == before
    path.unlink()
    with closing(sqlite3.connect(filled(path))) as base:
        base.execute(f"PRAGMA user_version = {FORM + 1}")
    with pytest.raises(FileError, match="a later coper wrote this book"), opened(path):
        pass


@pytest.mark.parametrize("there", [False, True])
def test_a_book_that_is_a_link_is_refused_and_nothing_is_written_there(path, there):
    if there:
        filled(path.with_name("elsewhere.book"))
    before = [one.read_bytes() for one in path.parent.iterdir()]
    path.symlink_to("elsewhere.book")
    with pytest.raises(FileError, match="the job's book is a link"), opened(path):
        pass
    path.unlink()
    assert [one.read_bytes() for one in path.parent.iterdir()] == before


def test_a_job_that_is_a_link_has_the_book_of_the_file_itself(tmp_path):
    (tmp_path / "shop").mkdir()
    (tmp_path / "shop" / "frame.v2.toml").write_text("")
    link = tmp_path / "today.toml"
    link.symlink_to(tmp_path / "shop" / "frame.v2.toml")
    assert book_path(link) == (tmp_path / "shop" / "frame.v2.book").resolve()


def test_the_disk_is_waited_for_before_anything_is_said_to_be_kept(path):
    with opened(path) as book:
        ask = book._base.execute
        assert ask("PRAGMA journal_mode").fetchone()[0] == "wal"
        assert ask("PRAGMA synchronous").fetchone()[0] == 2, "FULL (sqlite.org/pragma.html)"
        assert ask("PRAGMA foreign_keys").fetchone()[0] == 1
