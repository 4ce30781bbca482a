"""The job file as it was: what undo and redo bring back."""

import sqlite3
from contextlib import closing

from coper.book.book import opened
from coper.book.form import FORM
from tests.book.books import ANSWER, readings


def texts(around):
    return tuple(one and one.text for one in (around.before, around.after))


def kept(book, *changes):
    for text in changes:
        book.keep_version(text)


def test_a_version_has_the_one_before_it_to_go_back_to_and_that_one_has_it_to_go_on_to(tmp_path):
    with opened(tmp_path / "a.book") as book:
        assert texts(book.around("a")) == (None, None)
        kept(book, "a", "b", "c")
        assert texts(book.around("c")) == ("b", None)
        book.go_to(book.around("c").before)
        assert texts(book.around("b")) == ("a", "c")
        book.go_to(book.around("b").before)
        assert texts(book.around("a")) == (None, "b")


def test_the_same_numbers_typed_again_and_again_are_undone_one_by_one(tmp_path):
    with opened(tmp_path / "a.book") as book:
        kept(book, "a", "b", "a", "b")
        seen, text = [], "b"
        while (before := book.around(text).before) is not None:
            book.go_to(before)
            text = before.text
            seen.append(text)
    assert seen == ["a", "b", "a"]


def test_a_change_after_an_undo_is_what_redo_leads_to_and_the_other_stays_in_the_book(tmp_path):
    with opened(tmp_path / "a.book") as book:
        kept(book, "a", "b")
        book.go_to(book.around("b").before)
        kept(book, "c")
        assert texts(book.around("c")) == ("a", None)
        book.go_to(book.around("c").before)
        assert texts(book.around("a")) == (None, "c")
        assert [one.text for one in book.versions()] == ["a", "b", "c"]


def test_a_file_that_something_else_changed_goes_back_to_what_the_book_last_had(tmp_path):
    with opened(tmp_path / "a.book") as book:
        kept(book, "a", "b")
        assert texts(book.around("edited")) == ("b", None)


def test_a_round_is_of_the_version_that_an_undo_brought_back(tmp_path):
    with opened(tmp_path / "a.book") as book:
        kept(book, "a", "b")
        book.go_to(book.around("b").before)
        assert book.keep_round(readings(1), ANSWER, "a").version == 1
        assert len(book.versions()) == 2


def test_a_book_of_the_first_form_is_brought_up_with_all_that_it_holds(tmp_path):
    path = tmp_path / "a.book"
    with opened(path) as book:
        kept(book, "a", "b")
        book.keep_round(readings(1), ANSWER, "b")
    with closing(sqlite3.connect(path, isolation_level=None)) as base:
        base.executescript("DROP TABLE current; ALTER TABLE version DROP COLUMN before; "
                           "PRAGMA user_version = 1;")
    with opened(path) as book:
        assert book.notes == () and len(book.rounds()) == 1
        assert texts(book.around("b")) == ("a", None)
    with closing(sqlite3.connect(path)) as base:
        assert base.execute("PRAGMA user_version").fetchone() == (FORM,)


def test_an_empty_book_of_the_first_form_is_brought_up(tmp_path):
    path = tmp_path / "a.book"
    with opened(path):
        pass
    with closing(sqlite3.connect(path, isolation_level=None)) as base:
        base.executescript("DROP TABLE current; ALTER TABLE version DROP COLUMN before; "
                           "PRAGMA user_version = 1;")
    with opened(path) as book:
        assert texts(book.around("a")) == (None, None)
