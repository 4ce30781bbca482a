"""Files, written whole or not at all."""

from __future__ import annotations

import os
from collections.abc import Iterable, Mapping
from contextlib import ExitStack
from pathlib import Path

from coper.cli.swap import Swap, swapping, worded
from coper.errors import FileError


def write_whole(
    files: Iterable[tuple[Path, bytes]], force: bool, stale: Iterable[Path] = ()
) -> tuple[Path, ...]:
    """Write all files, or none of them, whenever it is stopped; links are followed.

    Each file is written to its draft as it comes, so that no two need be there at once. All of one
    folder then take their names together; where that is stopped, the next run there undoes it.

    Parameters
    ----------
    files
        Each file with its bytes.
    force
        Whether files that exist may be replaced.
    stale
        Files beside those that go with the swap, asked for once the others are drafted.

    Returns
    -------
    tuple of Path
        What was written.

    Raises
    ------
    FileError
        A file exists, has no folder, is no plain file, is twice in the list, or cannot be
        written; or another run writes into its folder for too long.
    """
    places: dict[Path, Path] = {}
    swaps: dict[Path, Swap] = {}
    with ExitStack() as stack:
        for path, content in files:
            place = _place(path)
            _refuse_twin(path, place, places)
            _check_folder(path)
            if place.parent not in swaps:
                swaps[place.parent] = stack.enter_context(swapping(place.parent))
            check_file(path, force)
            with worded(path):
                swaps[place.parent].draft(place.name, content)
            places[place] = path
        for path in stale:
            place = path.parent.resolve() / path.name
            if place not in places and place.parent in swaps:
                with worded(path):
                    swaps[place.parent].drop(path.name)
        for swap in swaps.values():
            swap.take()
        for swap in swaps.values():
            swap.settle()
    return tuple(places.values())


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


def check_file(path: Path, force: bool) -> None:
    """Refuse a name that cannot be written to."""
    where = str(path)
    if path.is_dir():
        raise FileError("this is a folder", "name a file in it", where)
    if os.path.lexists(path):
        if not force:
            raise FileError(
                "the file exists already", "choose another name, or add --force", where
            )
        if path.exists() and not path.is_file():
            raise FileError("this is not a plain file", "choose another name", where)


def _place(path: Path) -> Path:
    """Where a file really is, links followed."""
    try:
        path.stat()
    except (FileNotFoundError, NotADirectoryError) as fault:
        if path.is_symlink():
            raise FileError("this is a link to a file that is not there",
                            "take it away, or choose another name", str(path)) from fault
    except (OSError, ValueError) as fault:  # a ring of links, too long, a NUL in the name
        raise FileError("no file can have this name", "choose another name", str(path)) from fault
    return path.resolve()


def _refuse_twin(path: Path, place: Path, places: Mapping[Path, Path]) -> None:
    """Refuse two outputs with one name, however it is written."""
    if place in places:
        raise FileError(
            f"two outputs have the same name, the other one as {str(places[place])!r}",
            "give each a name of its own", str(path),
        )


def _check_folder(path: Path) -> None:
    """Refuse a folder that takes no files."""
    folder, where = path.parent, str(path)
    if not folder.is_dir():
        raise FileError(f"there is no folder {str(folder)!r}", "make it, or name another", where)
    if not os.access(folder, os.W_OK):
        raise FileError(f"the folder {str(folder)!r} cannot be written to", "choose another", where)
