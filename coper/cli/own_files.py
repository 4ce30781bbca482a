"""A folder that coper fills again and again: it replaces what it wrote, and nothing else.

A small file in the folder, the ledger, keeps a checksum of every file that coper wrote there. A
file that still has its checksum is coper's own; one that was changed since, or that was never
coper's, belongs to the person.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterator, Mapping
from contextlib import suppress
from pathlib import Path

from coper.cli.files import make_folder, write_whole
from coper.errors import FileError

LEDGER = ".coper-files.json"

Sums = dict[str, str]
"""Checksums by file name."""


def write_own(
    folder: Path, stem: str, files: Mapping[str, bytes], force: bool
) -> tuple[Path, ...]:
    """Write the files of one packet into ``folder``, made if it is not there.

    What an earlier run wrote under the same stem, and this one does not write again, is taken
    away, unless somebody has changed it since.

    Parameters
    ----------
    folder
        Where they go.
    stem
        What the packet is called: several may share a folder.
    files
        The bytes of each file by its name.
    force
        Whether files that are not coper's own may be replaced.

    Returns
    -------
    tuple of Path
        What was written.

    Raises
    ------
    FileError
        A file of that name is there and not as coper wrote it, or nothing can be written.
    """
    make_folder(folder)
    ledger = _read_ledger(folder)
    if not force:
        for name in files:
            _refuse_foreign(folder / name, name, stem, ledger)
    before = ledger.get(stem, {})
    kept = {other: sums for other, sums in ledger.items() if other != stem}
    kept[stem] = {name: _checksum(content) for name, content in files.items()}
    written = {folder / name: content for name, content in files.items()}
    write_whole({**written, folder / LEDGER: _ledger_bytes(kept)}, force=True)
    for path in _left_over(folder, before, files):
        with suppress(OSError):
            path.unlink()
    return tuple(written)


def _refuse_foreign(path: Path, name: str, stem: str, ledger: Mapping[str, Sums]) -> None:
    if not path.is_file():
        return
    known = ledger.get(stem, {}).get(name)
    if known is None:
        owner = next((other for other, sums in ledger.items() if name in sums), None)
        raise FileError("the file exists already, and coper did not write it" if owner is None
                        else f"the file belongs to the packet of {owner}",
                        "move it, choose another folder, or add --force", str(path))
    if _checksum(path.read_bytes()) != known:
        raise FileError("the file was changed since coper wrote it",
                        "move it to keep the changes, or add --force", str(path))


def _left_over(folder: Path, before: Sums, files: Mapping[str, bytes]) -> Iterator[Path]:
    """Files of the last run that are not written again and were not changed."""
    for name, known in before.items():
        path = folder / name
        if name not in files and path.is_file() and _checksum(path.read_bytes()) == known:
            yield path


def _read_ledger(folder: Path) -> dict[str, Sums]:
    """The ledger, empty where there is none that can be read: then nothing is coper's own."""
    try:
        ledger = json.loads((folder / LEDGER).read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return {}
    if not isinstance(ledger, dict):
        return {}
    return {
        stem: {name: known for name, known in sums.items()
               if isinstance(known, str) and Path(name).name == name}
        for stem, sums in ledger.items() if isinstance(sums, dict)
    }


def _ledger_bytes(ledger: Mapping[str, Sums]) -> bytes:
    return (json.dumps(ledger, indent=1, sort_keys=True) + "\n").encode()


def _checksum(content: bytes) -> str:
    return hashlib.sha256(content).hexdigest()
