"""Where a shop book is, what is wrong with it, and how a damaged one is moved aside."""

from __future__ import annotations

import sqlite3
from contextlib import closing, suppress
from datetime import UTC, datetime
from itertools import count
from pathlib import Path
from typing import Final

from coper.book.form import APPLICATION, APPLICATION_AT, HEADER
from coper.errors import FileError

ENDING: Final = ".book"
BESIDE: Final = ("-wal", "-shm")
"""What SQLite has beside a database that is open, or was when its program was stopped."""


def book_path(job: str | Path) -> Path:
    """The book of the job file ``job``: beside the file itself, where that is a link."""
    return Path(job).resolve().with_suffix(ENDING)


def now() -> str:
    """The time, as the book writes it: ISO 8601 in UTC."""
    return datetime.now(UTC).isoformat(timespec="seconds")


def damage(path: Path) -> str:
    """What is wrong with the book at ``path``; empty where it is sound.

    Raises
    ------
    FileError
        Where it is a database of another program's, or cannot be looked at.
    """
    head = _head(path)
    if not head:
        return "it is empty"
    if len(head) < APPLICATION_AT + 4:
        return "it breaks off"
    if head.startswith(HEADER):
        _refuse_other(path, head)
    try:
        with closing(sqlite3.connect(path)) as database:
            found = database.execute("PRAGMA quick_check(1)").fetchone()[0]
            broken = database.execute("PRAGMA foreign_key_check").fetchone()
    except sqlite3.OperationalError as error:
        raise FileError(str(error), "make its folder one that can be written to, or end the other "
                        "program that has it open", str(path)) from error
    except sqlite3.DatabaseError as error:
        return str(error)
    if found != "ok":
        return str(found).splitlines()[-1]
    return "a reading is of no round" if broken else ""


def _head(path: Path) -> bytes:
    try:
        with path.open("rb") as file:
            return file.read(APPLICATION_AT + 4)
    except OSError as error:
        raise FileError((error.strerror or "no file").lower(),
                        "make it a file that can be read", str(path)) from error


def _refuse_other(path: Path, head: bytes) -> None:
    """Refuse a database that is not ours."""
    if int.from_bytes(head[APPLICATION_AT:APPLICATION_AT + 4]) != APPLICATION:
        raise FileError("another program's database has the name of the job's book",
                        "rename it, or the job file", str(path))


def move_aside(path: Path) -> Path:
    """Give a damaged book, and what is beside it, a name with the date; its new path.

    Raises
    ------
    FileError
        Where it cannot be renamed.
    """
    stamp = now().replace(":", "").removesuffix("+0000")
    aside = _free(path, f"{path.stem}-damaged-{stamp}")
    try:
        # What is beside it first: a fresh book must never find the pages of a damaged one.
        for ending in BESIDE:
            with suppress(FileNotFoundError):
                path.with_name(path.name + ending).replace(aside.with_name(aside.name + ending))
        path.replace(aside)
    except OSError as error:
        raise FileError(f"it is damaged, and cannot be renamed: {error.strerror}",
                        "move it away", str(path)) from error
    return aside


def _free(path: Path, stem: str) -> Path:
    """A path beside ``path`` that no file has."""
    names = (f"{stem}{'' if number == 1 else f'-{number}'}{ENDING}" for number in count(1))
    return next(one for one in map(path.with_name, names) if not one.exists())
