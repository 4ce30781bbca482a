"""The shop book of a job, as verbs read it and keep something in it.

A book that cannot be opened or written stops no answer: it is said that nothing was kept, and why.
"""

from __future__ import annotations

from argparse import ArgumentParser
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, TypeVar

from coper.errors import FileError
from coper.telling.lines import Caution
from coper.verbs.answer import Kept

if TYPE_CHECKING:
    from coper.book.book import Book  # loads the database

Found = TypeVar("Found")


def add_no_book(parser: ArgumentParser) -> None:
    """The wish that nothing is kept."""
    parser.add_argument("--no-book", action="store_true",
                        help="keep nothing in the shop book beside the job file")


def keep_in(file: str, keep: Callable[[Book, str], Kept]) -> Kept:
    """What ``keep`` says once it has kept something in the book of the job ``file``.

    It is given the book, and the book's path as the person would type it.
    """
    from coper.book.book import opened
    from coper.book.place import book_path

    path = book_path(file)
    typed = str(typed_book(file))
    try:
        if not Path(file).is_file():
            raise FileError("the job is no file of its own", "write it to one", file)
        with opened(path) as book:
            kept = keep(book, typed)
            notes = book.notes
    except FileError as error:
        return Kept((Caution(f"not kept: {error}"),),
                    {"file": typed, "kept": False, "notes": [str(error)]})
    return Kept((*map(Caution, notes), *kept.lines),
                {"file": typed, "kept": True, "notes": list(notes), **kept.record})


def typed_book(file: str) -> Path:
    """The book of the job ``file`` as whoever typed that would type it."""
    from coper.book.place import book_path

    path = book_path(file)
    beside = Path(file).with_name(path.name)
    return beside if beside.parent.resolve() == path.parent else path
