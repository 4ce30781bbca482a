"""The text of a job file: from a plain file or a pipe, of a size and in a time."""

from __future__ import annotations

import os
import select
import stat
import time
from pathlib import Path
from typing import Final

from coper.errors import FileError

MOST_BYTES: Final = 1 << 20
"""1 MiB: a job of 1,000 tubes with a comment to each has a third of it."""

LONGEST_WAIT_S: Final = 30.0
"""For all of what comes through a pipe: who writes it by hand writes a file."""

_AT_ONCE: Final = 1 << 16
"""Bytes that a pipe holds (pipe(7))."""


BYTE_ORDER_MARK: Final = "\ufeff"
"""What some editors put before the first character of a text."""


def job_text(path: str | Path) -> str:
    """The text in the file at ``path``, with the byte order mark that it may begin with.

    Raises
    ------
    FileError
        Where there is none, or it is no plain file and no pipe, is too large, comes too slowly, or
        is not UTF-8.
    """
    if not str(path).strip():
        raise FileError("no file name", "give a job file, such as frame.toml")
    try:
        content = _content(Path(path))
    except FileNotFoundError:
        raise FileError("no such file", _near(Path(path))) from None
    except (OSError, ValueError) as error:
        if isinstance(error, FileError):
            raise
        reason = getattr(error, "strerror", None) or "no file name"
        raise FileError(reason.lower(), "give a job file that can be read") from None
    if len(content) > MOST_BYTES:
        raise FileError("larger than 1 MiB", "a job file may have 1 MiB (1,048,576 bytes); "
                        "take out what is no part of the job, or make two jobs of it")
    try:
        return content.decode("utf-8")
    except UnicodeDecodeError as error:
        raise FileError(f"byte {error.start} is not UTF-8", "save the file as UTF-8 text") from None


def _content(path: Path) -> bytes:
    """What the file holds, a byte more than the most at most."""
    kind = path.stat().st_mode
    if stat.S_ISDIR(kind):
        raise FileError("a folder", "give the job file in it")
    if stat.S_ISREG(kind):
        with path.open("rb") as file:
            return file.read(MOST_BYTES + 1)
    if stat.S_ISFIFO(kind):
        return _piped(path)
    raise FileError("neither a file nor a pipe", "give a job file, or pipe one in")


def _piped(path: Path) -> bytes:
    """What comes through a pipe: opened without waiting for who writes, and read as it comes."""
    pipe = os.open(path, os.O_RDONLY | os.O_NONBLOCK)
    try:
        waiting, content = select.poll(), bytearray()
        waiting.register(pipe, select.POLLIN)
        end = time.monotonic() + LONGEST_WAIT_S
        while len(content) <= MOST_BYTES:
            left = end - time.monotonic()
            if left <= 0 or not waiting.poll(left * 1000):
                raise FileError(f"a pipe that has not ended after {LONGEST_WAIT_S:g} s",
                                "write the job to a file, and give that")
            piece = os.read(pipe, _AT_ONCE)
            if not piece:
                break
            content += piece
        return bytes(content)
    finally:
        os.close(pipe)


def _near(path: Path) -> str:
    """The cure for a file that is not there: the file whose ending was left out, if that is."""
    whole = path.with_name(f"{path.name}.toml")
    if whole.is_file():
        return f"did you mean {whole}?"
    return "give a job file that is there; coper new FILE writes one"
