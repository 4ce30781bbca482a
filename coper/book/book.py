"""A shop book, open: what it holds, and how more is kept in it.

What a method that keeps something returns from is on the disk: SQLite has a write-ahead log with
``synchronous`` FULL, and each entry is one transaction.
"""

from __future__ import annotations

import json
import os
import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final, cast

from coper.book.entries import (
    Around,
    EndName,
    MadePart,
    Reading,
    Readings,
    Round,
    Tick,
    Version,
)
from coper.book.form import APPLICATION, FORM, STEPS_UP, TABLES
from coper.book.place import damage, move_aside, now
from coper.errors import FileError
from coper.frame.tube import Side, Which

WAIT_S: Final = 10.0
"""How long another command that writes into the book is waited for."""


@dataclass(frozen=True, slots=True, eq=False)
class Book:
    """An open book.

    Attributes
    ----------
    path : Path
    notes : tuple of str
        What happened to an earlier one, each a sentence.
    """

    path: Path
    notes: tuple[str, ...]
    _base: sqlite3.Connection

    def rounds(self, end: EndName | None = None) -> tuple[Round, ...]:
        """The rounds of an end, or of all, the oldest first."""
        found: list[Round] = []
        counts: dict[EndName, int] = {}
        for row in self._base.execute("SELECT * FROM round ORDER BY id"):
            name = _end_name(row)
            counts[name] = counts.get(name, 0) + 1
            if end in (None, name):
                found.append(self._round(row, name, counts[name]))
        return tuple(found)

    def _round(self, row: sqlite3.Row, name: EndName, number: int) -> Round:
        gaps = tuple(Reading(one["clock"], one["gap"]) for one in self._base.execute(
            "SELECT clock, gap FROM reading WHERE round = ? ORDER BY place", (row["id"],)))
        readings = Readings(name, gaps, row["typed"], row["cut"], row["gap_limit"])
        return Round(number, row["at"], readings, json.loads(row["answer"]), row["version"])

    def keep_round(self, readings: Readings, answer: dict[str, Any], text: str) -> Round:
        """The round, kept with the job file's ``text``; the last one where it is given again."""
        with self._writing():
            version = self._version(text)
            before = self.rounds(readings.end)
            if before and before[-1].readings.same(readings) and before[-1].version == version:
                return before[-1]
            kept = Round(len(before) + 1, now(), readings, answer, version)
            number = self._base.execute(
                "INSERT INTO round (at, tube, side, end, typed, cut, gap_limit, answer, version) "
                "VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)",
                (kept.at, *_key(readings.end), readings.typed, readings.cut, readings.limit,
                 json.dumps(answer, allow_nan=False), version)).lastrowid
            self._base.executemany(
                "INSERT INTO reading VALUES (?, ?, ?, ?)",
                [(number, place, one.clock, one.gap) for place, one in enumerate(readings.gaps)])
        return kept

    def ticks(self) -> tuple[Tick, ...]:
        """The steps that are done, the oldest first."""
        return tuple(Tick(_end_name(row), row["step"], row["at"])
                     for row in self._base.execute("SELECT * FROM tick ORDER BY at, rowid"))

    def tick(self, end: EndName, step: str, text: str, done: bool = True) -> None:
        """Tick a step of an end, or take the tick away."""
        with self._writing():
            self._version(text)
            if done:
                self._base.execute("INSERT OR IGNORE INTO tick VALUES (?, ?, ?, ?, ?)",
                                   (*_key(end), step, now()))
            else:
                self._base.execute("DELETE FROM tick WHERE tube = ? AND side = ? AND end = ? "
                                   "AND step = ?", (*_key(end), step))

    def made(self) -> tuple[MadePart, ...]:
        """What finished parts measured, the last of each: an earlier one was measured again."""
        rows = self._base.execute("SELECT * FROM made WHERE id IN (SELECT max(id) FROM made "
                                  "GROUP BY tube, side, what) ORDER BY id")
        return tuple(MadePart(row["tube"], _side(row), row["what"], row["value"], row["typed"],
                              row["at"]) for row in rows)

    def keep_made(self, parts: tuple[MadePart, ...], text: str) -> None:
        """Keep what one part measured."""
        with self._writing():
            self._version(text)
            self._base.executemany(
                "INSERT INTO made (at, tube, side, what, value, typed) VALUES (?, ?, ?, ?, ?, ?)",
                [(now(), one.tube, one.side, one.what, one.value, one.typed) for one in parts])

    def versions(self) -> tuple[Version, ...]:
        """The job file as it was, the oldest first."""
        return tuple(map(_one_version, self._base.execute("SELECT * FROM version ORDER BY id")))

    def keep_version(self, text: str) -> None:
        """Keep the job file as it is now."""
        with self._writing():
            self._version(text)

    def around(self, text: str) -> Around:
        """What undo and redo bring back, where the job file is ``text`` now."""
        current = self._current()
        if current is None or current["text"] != text:  # changed since by something else
            return Around(_one_version(current) if current else None, None)
        before, after = (self._base.execute(f"SELECT * FROM version WHERE {which} "
                                            "ORDER BY id DESC LIMIT 1", (number,)).fetchone()
                         for which, number in (("id = ?", current["before"]),
                                               ("before = ?", current["id"])))
        return Around(*(_one_version(row) if row else None for row in (before, after)))

    def go_to(self, version: Version) -> None:
        """The job file is an earlier version again: what is kept next comes after that."""
        with self._writing():
            self._make_current(version.number)

    def _current(self) -> sqlite3.Row | None:
        row: sqlite3.Row | None = self._base.execute(
            "SELECT version.* FROM version JOIN current ON id = version").fetchone()
        return row

    def _make_current(self, number: int) -> None:
        self._base.execute("INSERT OR REPLACE INTO current VALUES (1, ?)", (number,))

    def _version(self, text: str) -> int:
        """The number of the job file's text: the current one's where nothing has changed."""
        current = self._current()
        if current is not None and current["text"] == text:
            return int(current["id"])
        number = self._base.execute("INSERT INTO version (at, text, before) VALUES (?, ?, ?)",
                                    (now(), text, current and current["id"])).lastrowid
        assert number is not None
        self._make_current(number)
        return number

    @contextmanager
    def _writing(self) -> Iterator[None]:
        """One transaction: all of it is kept, or none; two commands write one after the other."""
        try:
            self._base.execute("BEGIN IMMEDIATE")
            try:
                yield
                self._base.execute("COMMIT")
            except BaseException:
                if self._base.in_transaction:
                    self._base.execute("ROLLBACK")
                raise
        except sqlite3.Error as error:
            raise _unusable(self.path, error) from error


@contextmanager
def opened(path: Path, sound: bool = False) -> Iterator[Book]:
    """The book at ``path``, begun where there is none; a damaged one is moved aside first.

    Whether it is damaged is looked for all through it, which takes as long as it is large;
    ``sound`` is whether this program has done so before.

    Raises
    ------
    FileError
        Where it cannot be opened, is another program's, or was written by a later coper.
    """
    if path.is_symlink():  # it may lead to another job's, or out of the folder that is shown
        raise FileError("the job's book is a link", "put the book itself in its place", str(path))
    if path.exists() and not path.is_file():
        raise FileError("the job's book is no plain file", "give it another name", str(path))
    notes = _mended(path) if not sound and path.exists() else ()
    try:
        if not path.exists():
            _begin(path)
        base = sqlite3.connect(path, timeout=WAIT_S, isolation_level=None)
    except (sqlite3.Error, OSError) as error:
        raise _unusable(path, error) from error
    try:
        _ready(base, path)
        yield Book(path, notes, base)
    except sqlite3.Error as error:  # what was sound may be damaged since
        raise _unusable(path, error) from error
    finally:
        base.close()


def _mended(path: Path) -> tuple[str, ...]:
    """What was wrong with the book there, which then has another name."""
    which = path.stat().st_ino
    fault = damage(path)
    if not fault or path.stat().st_ino != which:  # another command was faster to move it aside
        return ()
    aside = move_aside(path)
    return (f"{path.name} was damaged ({fault}): it is now {aside.name}, and a new book is begun",)


def _begin(path: Path) -> None:
    """Begin a book under another name, and give it its own when it is whole.

    So a book that is there is whole or damaged, never half begun, and of two commands that begin
    one at once the second finds that of the first.
    """
    draft = path.with_name(f".{path.name}-{os.getpid()}")
    try:
        with closing(sqlite3.connect(draft)) as base:
            base.executescript(f"BEGIN; {TABLES} PRAGMA application_id = {APPLICATION}; "
                               f"PRAGMA user_version = {FORM}; COMMIT; PRAGMA journal_mode = WAL;")
        try:
            path.hardlink_to(draft)
        except FileExistsError:
            pass
        except OSError:  # a file system that names no file twice
            draft.rename(path)
    finally:
        draft.unlink(missing_ok=True)


def _ready(base: sqlite3.Connection, path: Path) -> None:
    """Set how the book is written, and see that it is of a form that is known."""
    base.row_factory = sqlite3.Row
    base.execute("PRAGMA synchronous = FULL")
    base.execute("PRAGMA foreign_keys = ON")
    form = _form(base)
    if form > FORM:
        raise FileError("a later coper wrote this book", "use that one, or move the book away",
                        str(path))
    if form < min(STEPS_UP):
        raise FileError("it is no book any more", "ask again: it is looked through then", str(path))
    if form < FORM:
        _bring_up(base)


def _form(base: sqlite3.Connection) -> int:
    return int(base.execute("PRAGMA user_version").fetchone()[0])


def _bring_up(base: sqlite3.Connection) -> None:
    """Make the book one of this form, all or nothing, whoever else does so at the same time."""
    base.execute("BEGIN IMMEDIATE")
    try:
        for form in range(_form(base), FORM):
            for step in STEPS_UP[form].split(";"):
                base.execute(step)
        base.execute(f"PRAGMA user_version = {FORM}")
        base.execute("COMMIT")
    except BaseException:
        base.execute("ROLLBACK")
        raise


def _one_version(row: sqlite3.Row) -> Version:
    return Version(row["id"], row["at"], row["text"])


def _unusable(path: Path, error: sqlite3.Error | OSError) -> FileError:
    return FileError(f"the book cannot be written ({error})", "make its folder one that can be "
                     "written to, with room, or end the other command that has it", str(path))


def _key(end: EndName) -> tuple[str, str, str]:
    return end.tube, end.side, end.end


def _end_name(row: sqlite3.Row) -> EndName:
    return EndName(row["tube"], _side(row), cast(Which, row["end"]))


def _side(row: sqlite3.Row) -> Side:
    return cast(Side, row["side"])
