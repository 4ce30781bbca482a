"""Files of one folder that are swapped for new ones, all or none, whenever it is stopped.

Everything is first written into a hidden room in the folder, beside a second name of every file
that it replaces, and made durable together with a journal. Then each draft takes its name. What
was there before is given up only when the journal is gone: who finds a journal, this run after a
fault or the next one after a kill or a power cut, undoes what it lists.
"""

from __future__ import annotations

import errno
import hashlib
import os
import re
import secrets
import shutil
import stat
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager, suppress
from dataclasses import dataclass, field
from pathlib import Path
from typing import Final

from coper.cli.journal import Step, read_journal, write_journal
from coper.cli.lock import locked
from coper.errors import FileError

_ROOM: Final = re.compile(r"\.coper-[0-9a-f]{32}")
_OURS: Final = re.compile(r"\d+\.(new|old)|journal(\.new)?")
"""What a room holds: drafts, what they replace, and the journal."""
_JOURNAL: Final = "journal"

_NAMES_LINKS: Final = os.link in os.supports_follow_symlinks
"""Whether this system can name a link itself twice, and not only what it leads to (os.link)."""

_NO_SECOND_NAME: Final = frozenset((
    errno.EPERM, errno.EACCES, errno.ENOTSUP, errno.EOPNOTSUPP, errno.ENOSYS, errno.EMLINK,
    errno.EXDEV))
"""How a file system says that it gives a file no second name, or this one no more of them: the
sticks and shares that a shop carries its packets on have none (link(2), Linux and BSD)."""


@dataclass(frozen=True, slots=True)
class Swap:
    """The files of a folder that are to be swapped, in their order."""

    folder: Path
    room: Path
    steps: list[Step] = field(default_factory=list)

    def draft(self, name: str, content: bytes) -> None:
        """Write the new content of a file; it keeps the mode of the one that it replaces."""
        draft = self.room / f"{len(self.steps)}.new"
        before = _status(self.folder / name)
        write_new(draft, content)
        if before is not None and stat.S_ISREG(before.st_mode):
            draft.chmod(stat.S_IMODE(before.st_mode))
        self._add(Step(name, hashlib.sha256(content).hexdigest(), before is not None))

    def drop(self, name: str) -> None:
        """Take a file away with the swap."""
        self._add(Step(name, None, True))

    def _add(self, step: Step) -> None:
        if step.replaces:
            _keep(self.folder / step.name, self.room / f"{len(self.steps)}.old")
        self.steps.append(step)

    def take(self) -> None:
        """Give every draft its name."""
        draft = self.room / f"{_JOURNAL}.new"
        with worded(self.folder):
            write_new(draft, write_journal(self.steps))
            draft.replace(self.room / _JOURNAL)
        _make_durable(self.room)
        _make_durable(self.folder)
        for number, step in enumerate(self.steps):
            place = self.folder / step.name
            with worded(place):
                if step.checksum is None:
                    place.unlink()
                else:
                    (self.room / f"{number}.new").replace(place)

    def settle(self) -> None:
        """Give up what was there before: from here on the new files stay."""
        with worded(self.folder):
            _settle(self.folder, self.room)


@contextmanager
def swapping(folder: Path) -> Iterator[Swap]:
    """A swap in ``folder``, where nobody else of coper writes meanwhile.

    What an earlier run left there when it was stopped is undone first; so is this swap, unless it
    is settled.

    Raises
    ------
    FileError
        The folder cannot be written to, or another run writes into it for too long.
    """
    with ExitStack() as stack:
        with worded(folder):
            stack.enter_context(locked(folder))
            for left in _rooms(folder):
                _clear(folder, left)
            room = folder / f".coper-{secrets.token_hex(16)}"
            room.mkdir(0o700)
        try:
            yield Swap(folder, room)
        finally:
            with suppress(OSError):  # the fault that led here counts; the next run tries again
                _clear(folder, room)


@contextmanager
def worded(path: Path) -> Iterator[None]:
    """Reword what the operating system says of a file as one line.

    Raises
    ------
    FileError
        Whatever fails.
    """
    try:
        yield
    except OSError as fault:
        reason = fault.strerror or type(fault).__name__
        raise FileError(f"the file cannot be written ({reason.lower()})",
                        "choose another name or folder, or make room", str(path)) from fault


def checksum(path: Path) -> str | None:
    """The checksum of a plain file; ``None`` where nothing is, and none at all of other things."""
    status = _status(path)
    if status is None:
        return None
    if not stat.S_ISREG(status.st_mode):
        return ""
    with path.open("rb") as file:
        return hashlib.file_digest(file, "sha256").hexdigest()


def write_new(path: Path, content: bytes) -> None:
    """Write a file that is not there yet, and make it durable."""
    descriptor = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0),
                         0o666)
    try:
        rest = memoryview(content)
        while rest:
            rest = rest[os.write(descriptor, rest):]
        os.fsync(descriptor)
    finally:
        os.close(descriptor)


def _status(path: Path) -> os.stat_result | None:
    """What stands at a path, links not followed."""
    try:
        return path.lstat()
    except FileNotFoundError:
        return None


def _keep(place: Path, spare: Path) -> None:
    """A second name of what stands at a place, or a copy where there can be no such."""
    if not _NAMES_LINKS:
        _copy(place, spare)
        return
    try:
        os.link(place, spare, follow_symlinks=False)
    except OSError as fault:
        if fault.errno not in _NO_SECOND_NAME:
            raise
        _copy(place, spare)


def _copy(place: Path, spare: Path) -> None:
    """A copy of a file, made durable, or of a link."""
    shutil.copy2(place, spare, follow_symlinks=False)
    if not spare.is_symlink():
        with spare.open("rb+") as file:
            os.fsync(file)


def _make_durable(folder: Path) -> None:
    """Have the names in a folder outlast a power cut, where the system lets it be asked for."""
    with suppress(OSError):
        descriptor = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(descriptor)
        finally:
            os.close(descriptor)


def _settle(folder: Path, room: Path) -> None:
    """Take the journal away once all that it led to is durable."""
    _make_durable(folder)
    (room / _JOURNAL).unlink()
    _make_durable(room)


def _rooms(folder: Path) -> list[Path]:
    """What stopped runs left: folders with such a name, of this person or the folder's own."""
    owner = folder.stat().st_uid
    found = [path for path in folder.iterdir() if _ROOM.fullmatch(path.name)]
    kinds = [(path, path.lstat()) for path in found]
    return [path for path, kind in kinds
            if stat.S_ISDIR(kind.st_mode) and (kind.st_uid == owner or kind.st_uid == os.geteuid())]


def _clear(folder: Path, room: Path) -> None:
    """Undo a swap that was not settled, and sweep its room."""
    steps = read_journal(room / _JOURNAL)
    if steps:
        for number, step in enumerate(steps):
            _undo(step, folder / step.name, room / f"{number}.old")
        _settle(folder, room)
    with suppress(OSError):  # what cannot be swept, or is not coper's, harms nobody
        for path in list(room.iterdir()):
            if _OURS.fullmatch(path.name):
                path.unlink()
        room.rmdir()


def _undo(step: Step, place: Path, spare: Path) -> None:
    """Put back what a step replaced; a file that somebody has changed since stays."""
    if checksum(place) != step.checksum:  # not come to yet, put back already, or a person's
        return
    if not step.replaces:
        place.unlink()
    elif (kept := _status(spare)) is not None and not stat.S_ISDIR(kept.st_mode):
        spare.replace(place)
