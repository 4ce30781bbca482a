"""What coper notes in a folder for its next run: read as a stranger's, for anybody can write it."""

from __future__ import annotations

import json
import os
import stat
from collections.abc import Sequence
from pathlib import Path
from typing import Final, NamedTuple

_MOST_BYTES: Final = 1 << 24
"""16 MiB: a packet of 100,000 pages has as much."""

SUM_LENGTH: Final = 64
"""Of a SHA-256 in hexadecimal digits."""


class Step(NamedTuple):
    """One file of a swap.

    Attributes
    ----------
    name : str
        The file's name in its folder.
    checksum : str or None
        Of the new content; ``None`` for a file that is taken away.
    replaces : bool
        Whether something of that name is there before.
    """

    name: str
    checksum: str | None
    replaces: bool


def write_journal(steps: Sequence[Step]) -> bytes:
    """The journal of a swap."""
    return json.dumps(steps).encode()


def read_journal(path: Path) -> list[Step]:
    """The steps of a journal; none where there is no journal, or it is none of coper's."""
    match read_note(path):
        case list(rows) if all(map(_is_step, rows)):
            return [Step(*row) for row in rows]
    return []


def _is_step(row: object) -> bool:
    match row:
        case [str(name), str() | None as known, bool(replaces)]:
            return is_plain(name) and (replaces if known is None else len(known) == SUM_LENGTH)
    return False


def read_note(path: Path) -> object:
    """What the JSON in a plain file says; ``None`` where it says nothing."""
    try:
        status = path.lstat()
    except FileNotFoundError:
        return None
    if not stat.S_ISREG(status.st_mode) or status.st_size > _MOST_BYTES:
        return None
    try:
        note: object = json.loads(path.read_bytes())
    except (ValueError, RecursionError):
        return None
    return note


def is_plain(name: str) -> bool:
    """Whether a file in the folder itself can have this name."""
    try:
        os.fsencode(name)
    except UnicodeError:
        return False
    return "\0" not in name and name not in ("", "..") and Path(name).name == name
