"""How every verb ends: its files written, then one JSON object or lines for the reader."""

from __future__ import annotations

from argparse import Namespace
from collections.abc import Callable, Iterable, Mapping
from pathlib import Path
from typing import Any, TextIO


def write_files(arguments: Namespace, files: Mapping[Path, bytes]) -> tuple[Path, ...]:
    """Write what was asked for, all or nothing; the paths that were written."""
    if files:
        from coper.cli.files import write_whole

        write_whole(files, arguments.force)
    return tuple(files)


def tell(
    arguments: Namespace, out: TextIO, record: Callable[[], dict[str, Any]],
    lines: Callable[[], Iterable[str]],
) -> None:
    """One JSON object and nothing else where ``--json`` asks for it, else the lines."""
    if arguments.json:
        import json

        json.dump(record(), out, allow_nan=False)
        out.write("\n")
    else:
        out.writelines(f"{line}\n" for line in lines())
