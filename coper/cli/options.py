"""Options read one way for every verb: each fault names its option."""

from __future__ import annotations

from argparse import Namespace
from collections.abc import Callable
from pathlib import Path
from typing import Final, TypeVar

from coper.errors import CoperError, FileError, WordsError, nearest_known
from coper.units import parse_length, shown

Parsed = TypeVar("Parsed")

FALLS_SHORT: Final = 1
"""Exit status of a verb that did its work, where a check that it was asked to make falls short."""


def read(where: str, text: str, parse: Callable[[str], Parsed]) -> Parsed:
    """``parse(text)``, its faults told to be at the option ``where``."""
    try:
        return parse(text)
    except CoperError as error:
        raise error.at(where) from error


def needed(where: str, text: str | None, example: str) -> str:
    """``text``, refused where it was not given."""
    if text is None:
        raise WordsError("missing", f"add it, such as {where} {example}", where)
    return text


def read_size(text: str) -> float:
    """A length above 0, mm."""
    size = parse_length(text)
    if size <= 0:
        raise WordsError(f"{shown(text)} is no size", "give a length above 0")
    return size


def read_whole(text: str) -> int:
    """A whole number."""
    try:
        return int(text)
    except ValueError:
        raise WordsError(f"{text!r} is no whole number", "write one such as 720") from None


def read_choice(choices: tuple[str, ...]) -> Callable[[str], str]:
    """A reader of one of ``choices``, in any case."""

    def parse(text: str) -> str:
        word = text.strip().lower()
        if word in choices:
            return word
        raise WordsError(f"{text!r} is not known", nearest_known(word, choices))

    return parse


def read_printer(text: str) -> tuple[float, float]:
    """``ACROSS,ALONG``: what the two printed 100 mm bars measured, mm."""
    parts = text.split(",")
    if len(parts) != 2:
        raise WordsError(f"{text!r} is no pair",
                         "write what the bars across and along measured, such as 99.4,100.2")
    across, along = (parse_length(part) for part in parts)
    return across, along


def read_folder(text: str) -> Path:
    """The path of a folder to fill, refused before the work where nothing could be written there.

    Raises
    ------
    CoperError
        A file has its name, or it is not there and its own folder is not either.
    """
    folder = read_file(text, "out")
    try:
        if folder.is_dir():
            return folder
        if folder.exists():
            raise FileError("this is a file, not a folder", "name another", text)
        if not folder.parent.is_dir():
            raise FileError(f"there is no folder {str(folder.parent)!r} to make it in",
                            "make that first, or name another", text)
    except OSError as fault:  # a name that is too long, a ring of links
        raise FileError("no folder can have this name", "choose another name",
                        shown(text)) from fault
    return folder


def read_file(text: str, example: str = "cope.pdf") -> Path:
    """The path of a file to write, or of a folder as ``example``."""
    if not text.strip():
        raise WordsError("no name", f"give one, such as {example}")
    return Path(text)


def read_output(arguments: Namespace, name: str) -> Path | None:
    """The file that the option ``--name`` asks for; ``None`` where it was not given."""
    text = getattr(arguments, name)
    return None if text is None else read(f"--{name}", text, read_file)
