"""A job file as the page changes it: whole or not at all, and never over another's change."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from typing import Final

from coper.book.book import Book, opened
from coper.book.entries import STEPS, Around, EndName, MadePart, Round, Tick, Version
from coper.book.place import book_path
from coper.cli.files import write_whole
from coper.errors import FileError, check_choice
from coper.job.source import job_text

STAMP_LETTERS: Final = 24
"""96 bits of a checksum: no two texts of a job have the same."""


class OvertakenError(FileError):
    """The file is not what the page was drawn from."""


@dataclass(frozen=True, slots=True)
class Bench:
    """What the book has: rounds and ticks, the oldest first; what there is to say of it."""

    rounds: tuple[Round, ...] = ()
    ticks: tuple[Tick, ...] = ()
    made: tuple[MadePart, ...] = ()
    notes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class JobFile:
    """The file of one job.

    Attributes
    ----------
    path : Path
    sound : set of Path
        Books that were looked through since the page was started: each is once.
    """

    path: Path
    sound: set[Path] = field(default_factory=set, compare=False)

    def text(self) -> str:
        """All of it, as it is now."""
        return job_text(self.path)

    def write(self, old: str, new: str) -> tuple[str, ...]:
        """Make ``new`` of ``old``; what there is to say of the book.

        The book has the old text before it is written over, so that undo brings back what an
        editor wrote as well. A book that cannot be written stops no change.

        Raises
        ------
        OvertakenError
            Where the file is not ``old`` any more.
        FileError
            Where it cannot be written; it is then as it was.
        """
        try:
            with self._book() as book:
                book.keep_version(old)
                self._swap(old, new)
                book.keep_version(new)
                return book.notes
        except OvertakenError:
            raise
        except FileError as error:
            if error.where != str(book_path(self.path)):
                raise
            if self.text() != new:
                self._swap(old, new)
            return (f"kept, but it cannot be undone: {error}",)

    def around(self, text: str) -> tuple[Around, tuple[str, ...]]:
        """What undo and redo bring back, and what there is to say of the book.

        Nothing where there is no book yet.
        """
        path = book_path(self.path)
        if not path.exists():
            return Around(None, None), ()
        try:
            with self._book() as book:
                return book.around(text), book.notes
        except FileError:  # said when something is to be kept
            return Around(None, None), ()

    def bench(self, end: EndName | None = None) -> Bench:
        """What the book has of an end, or of all; nothing where there is no book yet."""
        return self._read(lambda book: Bench(book.rounds(end), book.ticks(), notes=book.notes))

    def made(self) -> Bench:
        """What the book has of finished parts; nothing where there is no book yet."""
        return self._read(lambda book: Bench(made=book.made(), notes=book.notes))

    def _read(self, read: Callable[[Book], Bench]) -> Bench:
        """What the book has; where it cannot be read, why.

        One that fails is looked through when it is opened again, and moved aside where it is
        damaged.
        """
        if not book_path(self.path).exists():
            return Bench()
        try:
            with self._book() as book:
                return read(book)
        except FileError:
            pass
        try:
            with self._book() as book:
                return read(book)
        except FileError as error:
            return Bench(notes=(f"The book cannot be read: {error}",))

    def tick(self, end: EndName, step: str, done: bool, text: str) -> None:
        """Tick a step of an end in the book, or take the tick away.

        Raises
        ------
        CoperError
            Where there is no such step, or the book cannot be written.
        """
        check_choice(step, STEPS, "step")
        with self._book() as book:
            book.tick(end, step, text, done)

    def undo(self, text: str) -> tuple[str, ...]:
        """The version before ``text`` again, as :meth:`write`."""
        with self._book() as book:
            book.keep_version(text)
            return self._go(book, text, book.around(text).before)

    def redo(self, text: str) -> tuple[str, ...]:
        """The version after ``text`` again, which an undo left."""
        with self._book() as book:
            return self._go(book, text, book.around(text).after)

    @contextmanager
    def _book(self) -> Iterator[Book]:
        """The job's book; where it fails it is looked through again the next time."""
        path = book_path(self.path)
        try:
            with opened(path, path in self.sound) as book:
                self.sound.add(path)
                yield book
        except FileError as error:
            if error.where == str(path):
                self.sound.discard(path)
            raise

    def _go(self, book: Book, text: str, version: Version | None) -> tuple[str, ...]:
        if version is None:
            raise FileError("there is nothing to go back or on to", "change something first")
        self._swap(text, version.text)
        book.go_to(version)
        return book.notes

    def _swap(self, old: str, new: str) -> None:
        """Write the file, having looked at it once more when all is ready."""

        def files() -> Iterator[tuple[Path, bytes]]:
            self._check(old)
            yield self.path, new.encode()
            self._check(old)  # the new text is on the disk, and only takes its name from here on

        write_whole(files(), force=True)

    def _check(self, old: str) -> None:
        if self.text() != old:
            raise OvertakenError(
                "another program changed the file meanwhile",
                "nothing was written over; look at the page as it is now, and change it again")


def stamp(text: str) -> str:
    """What a page says of the text that it was drawn from."""
    return hashlib.sha256(text.encode()).hexdigest()[:STAMP_LETTERS]
