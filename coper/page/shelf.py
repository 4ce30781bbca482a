"""The folder: its jobs and nothing else.

A job is found by being listed, never by a path that somebody sends: what is not in the list is not
there. Links are left out, for they may lead out of the folder.
"""

from __future__ import annotations

import os
import re
import stat
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from coper.errors import CoperError, FileError
from coper.job.source import job_text

ENDING: Final = ".toml"

SIGN: Final = re.compile(r"^[ \t]*\[?[ \t]*(tubes|bicycle)\b", re.MULTILINE)
"""What the text of a job has, broken or not, and other files of TOML have not."""

OURS: Final = (".", "-")
"""A name that begins with one of these is no job's: hidden files, and the page's own addresses."""

MOST_NAME: Final = 60
"""Letters of a new job's name."""


@dataclass(frozen=True, slots=True)
class Shelf:
    """A folder with jobs.

    Attributes
    ----------
    folder : Path
        With every link followed.
    only : Path or None
        The one job that is shown, where a file was asked for.
    """

    folder: Path
    only: Path | None = None

    def jobs(self) -> dict[str, Path]:
        """The file of each job by the job's name, which is the file's without its ending."""
        return {name: path for name, path in sorted(self._plain(), key=_by_name) if _is_job(path)}

    def path(self, name: str) -> Path:
        """The file of one job.

        Raises
        ------
        FileError
            Where the folder has no such job.
        """
        path = dict(self._plain()).get(name)
        if path is None or not _is_plain(path):
            raise FileError("there is no such job here", "choose one of the list")
        if SIGN.search(job_text(path)) is None:
            raise FileError("the file has no [tubes] and no [bicycle] now, so it is no job",
                            "bring them back in an editor")
        return path

    def free(self, name: str) -> Path:
        """The file of a new job, whose name nothing else in the folder has.

        Raises
        ------
        FileError
            Where something has it, or the page was started for one job.
        """
        if self.only is not None:
            raise FileError("this page was started for one job", "start coper page with its folder")
        path = self.folder / f"{file_stem(name)}{ENDING}"
        if os.path.lexists(path):
            raise FileError(f"{path.name} is there already", "call the new job something else")
        return path

    def _plain(self) -> list[tuple[str, Path]]:
        """Every file that may be a job: none through a link, none that waits to be read."""
        if self.only is not None:
            return [(self.only.stem, self.only)]
        try:
            return [(entry.name.removesuffix(ENDING), self.folder / entry.name)
                    for entry in os.scandir(self.folder)
                    if entry.name.endswith(ENDING) and _can_be_asked_for(entry.name)]
        except OSError as fault:
            raise FileError("the folder cannot be read", "see that it is still there",
                            str(self.folder)) from fault


def shelf_at(place: str) -> Shelf:
    """The folder at ``place``, or that of the one job file there.

    Raises
    ------
    FileError
        Where there is neither.
    """
    path = Path(place)
    try:
        real = path.resolve(strict=True)
    except (OSError, RuntimeError, ValueError):
        raise FileError("no such file or folder", "give a job file, or the folder of your jobs",
                        place or "''") from None
    if real.is_dir():
        return Shelf(real)
    if not real.is_file() or not _can_be_asked_for(real.name):
        raise FileError("neither a job file nor a folder", "give one of them", place)
    return Shelf(real.parent, real)


def file_stem(name: str) -> str:
    """What a job called ``name`` has as its file's name, without the ending."""
    stem = re.sub(r"[^\w-]+", "-", name.strip().lower()).strip("-_")[:MOST_NAME]
    return stem or "job"


def _can_be_asked_for(name: str) -> bool:
    """Whether a job's address can say the name of its file: it is on one line, and UTF-8."""
    return not name.startswith(OURS) and len(name.splitlines()) == 1 and not re.search(
        "[\ud800-\udfff]", name)


def _by_name(one: tuple[str, Path]) -> str:
    return one[0].casefold()


def _is_plain(path: Path) -> bool:
    """Whether it is a file, and no link to one."""
    try:
        return stat.S_ISREG(path.lstat().st_mode)
    except OSError:
        return False


def _is_job(path: Path) -> bool:
    try:
        return _is_plain(path) and SIGN.search(job_text(path)) is not None
    except CoperError:
        return False
