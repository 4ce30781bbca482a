"""Files, written whole or not at all."""

from __future__ import annotations

import os
from collections.abc import Mapping
from contextlib import suppress
from pathlib import Path

from coper.errors import FileError


def write_whole(files: Mapping[Path, bytes], force: bool) -> None:
    """Write all files, or none of them.

    Everything is first written beside its place under another name, and takes its name only when
    all of it stands. Where that fails, what was there before is there again.

    Parameters
    ----------
    files
        The bytes of each file.
    force
        Whether files that exist may be replaced.

    Raises
    ------
    FileError
        A file exists, has no folder, is no plain file, is twice in the list, or cannot be
        written.
    """
    places = {path: _place(path) for path in files}
    _refuse_twins(places)
    for path in files:
        _check(path, force)
    drafts = {
        path: place.with_name(f".coper-{os.getpid()}-{index}.part")
        for index, (path, place) in enumerate(places.items())
    }
    try:
        for path, content in files.items():
            _draft(path, drafts[path], content)
        _take_names(places, drafts)
    finally:
        for draft in drafts.values():
            with suppress(OSError):
                draft.unlink(missing_ok=True)


def make_folder(folder: Path) -> None:
    """Make ``folder`` unless it is there; its own folder must be.

    Raises
    ------
    FileError
        A file has its name, or it cannot be made.
    """
    try:
        folder.mkdir(exist_ok=True)
    except FileExistsError as fault:
        raise FileError("this is a file, not a folder", "name another", str(folder)) from fault
    except (OSError, ValueError) as fault:
        raise FileError("this folder cannot be made", "make it, or name another",
                        str(folder)) from fault


def _place(path: Path) -> Path:
    """Where a file really is, links followed."""
    try:
        place = path.resolve()
        place.exists()  # a name that is too long only shows here
    except (OSError, RuntimeError, ValueError) as fault:  # a ring of links, a NUL in the name
        raise FileError("no file can have this name", "choose another name", str(path)) from fault
    return place


def _refuse_twins(places: Mapping[Path, Path]) -> None:
    """Refuse two outputs with one name, however it is written."""
    seen: dict[Path, Path] = {}
    for path, place in places.items():
        if place in seen:
            raise FileError(
                f"two outputs have this name, the other one as {str(seen[place])!r}",
                "give each a name of its own", str(path),
            )
        seen[place] = path


def _check(path: Path, force: bool) -> None:
    """Refuse a name that cannot be written to, before anything is written."""
    where = str(path)
    folder = path.parent
    if not folder.is_dir():
        raise FileError(f"there is no folder {str(folder)!r}", "make it, or name another", where)
    if path.is_dir():
        raise FileError("this is a folder", "name a file in it", where)
    if path.exists():
        if not force:
            raise FileError(
                "the file exists already", "choose another name, or add --force", where
            )
        if not path.is_file():
            raise FileError("this is not a plain file", "choose another name", where)
    if not os.access(folder, os.W_OK):
        raise FileError(f"the folder {str(folder)!r} cannot be written to", "choose another", where)


def _draft(path: Path, draft: Path, content: bytes) -> None:
    """Write a file's bytes under its draft name."""
    try:
        draft.write_bytes(content)
    except OSError as fault:
        raise _unwritable(path, fault) from fault


def _take_names(places: Mapping[Path, Path], drafts: Mapping[Path, Path]) -> None:
    """Give all drafts their names; where one fails, put back what was there before."""
    before: dict[Path, bytes | None] = {}
    for path, place in places.items():
        try:
            before[place] = place.read_bytes() if place.exists() else None
            drafts[path].replace(place)
        except OSError as fault:
            _put_back(before)
            raise _unwritable(path, fault) from fault


def _put_back(before: Mapping[Path, bytes | None]) -> None:
    """Put back what every place held, as far as that goes."""
    for place, content in before.items():
        with suppress(OSError):
            if content is None:
                place.unlink(missing_ok=True)
            elif place.read_bytes() != content:
                place.write_bytes(content)


def _unwritable(path: Path, fault: OSError) -> FileError:
    """What the operating system said, as one line."""
    reason = fault.strerror or type(fault).__name__
    return FileError(
        f"the file cannot be written ({reason.lower()})",
        "choose another name or folder, or make room", str(path),
    )
