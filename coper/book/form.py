"""The form of a shop book: an SQLite database, and how it is told from any other."""

from __future__ import annotations

from typing import Final

APPLICATION: Final = 0x636F7072
"""``copr`` in ASCII: an SQLite file says by its ``application_id`` whose it is."""

FORM: Final = 1
"""The ``user_version`` of this form: a book of a later one is left alone."""

HEADER: Final = b"SQLite format 3\0"
"""What every SQLite database begins with (sqlite.org/fileformat2.html, section 1.3)."""

APPLICATION_AT: Final = 68
"""The byte where the ``application_id`` stands in it (the same)."""

TABLES: Final = """
CREATE TABLE version (
    id INTEGER PRIMARY KEY,
    at TEXT NOT NULL,
    text TEXT NOT NULL
);
CREATE TABLE round (
    id INTEGER PRIMARY KEY,
    at TEXT NOT NULL,
    tube TEXT NOT NULL,
    side TEXT NOT NULL,
    end TEXT NOT NULL,
    typed TEXT NOT NULL,
    cut TEXT NOT NULL,
    gap_limit REAL,
    answer TEXT NOT NULL,
    version INTEGER NOT NULL REFERENCES version (id)
);
CREATE TABLE reading (
    round INTEGER NOT NULL REFERENCES round (id) ON DELETE CASCADE,
    place INTEGER NOT NULL,
    clock REAL NOT NULL,
    gap REAL NOT NULL,
    PRIMARY KEY (round, place)
);
CREATE TABLE tick (
    tube TEXT NOT NULL,
    side TEXT NOT NULL,
    end TEXT NOT NULL,
    step TEXT NOT NULL,
    at TEXT NOT NULL,
    PRIMARY KEY (tube, side, end, step)
);
CREATE TABLE made (
    id INTEGER PRIMARY KEY,
    at TEXT NOT NULL,
    tube TEXT NOT NULL,
    side TEXT NOT NULL,
    what TEXT NOT NULL,
    value REAL NOT NULL,
    typed TEXT NOT NULL
);
"""
