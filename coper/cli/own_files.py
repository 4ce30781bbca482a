"""A folder that coper fills again and again: it replaces what it wrote, and nothing else.

A small file in the folder, the ledger, keeps a checksum of every file that coper wrote there, and
which job it was. A file that still has its checksum is coper's own; one that was changed since,
or that was never coper's, belongs to the person. So does a link.
"""

from __future__ import annotations

import hashlib
import json
import os
import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import asdict, dataclass, field
from pathlib import Path

from coper.cli.files import check_file, make_folder
from coper.cli.journal import is_plain, read_note
from coper.cli.swap import checksum, swapping, worded
from coper.errors import FileError

LEDGER = ".coper-files.json"


@dataclass(frozen=True, slots=True)
class Packet:
    """What the ledger knows of one packet: its job file, and checksums by file name."""

    job: str = ""
    files: dict[str, str] = field(default_factory=dict)


def write_own(
    folder: Path, job: Path, files: Iterable[tuple[str, bytes]], force: bool,
    stale: Iterable[Path] = (),
) -> tuple[Path, ...]:
    """Write the files of one packet into ``folder``, made if it is not there.

    What an earlier run wrote for a job of the same name, and this one does not write again, is
    taken away, unless somebody has changed it since.

    Parameters
    ----------
    folder
        Where they go.
    job
        The job file; its stem is what the packet is called: several may share a folder.
    files
        Each file's name with its bytes, written as it comes.
    force
        Whether files that are not coper's own may be replaced.
    stale
        Files in the folder that go as well, asked for once the others are drafted.

    Returns
    -------
    tuple of Path
        What was written.

    Raises
    ------
    FileError
        A file of that name is there and not as coper wrote it, another job of that name has its
        packet there, or nothing can be written.
    """
    make_folder(folder)
    stem = job.stem
    with worded(job):
        source = _source(job, folder)
    with swapping(folder) as swap:
        with worded(folder / LEDGER):
            ledger = _read_ledger(folder)
        before = ledger.get(stem, Packet())
        if not force:
            _refuse_other_job(folder, stem, source, before.job)
        sums: dict[str, str] = {}
        for name, content in files:
            path = folder / name
            with worded(path):
                if not force:
                    _refuse_foreign(path, stem, ledger)
                check_file(path, force=True)
                swap.draft(name, content)
            sums[name] = hashlib.sha256(content).hexdigest()
        with worded(folder):
            for name in {*_left_over(folder, stem, before), *(path.name for path in stale)}:
                if name not in sums:
                    swap.drop(name)
            swap.draft(LEDGER, _ledger_bytes({**ledger, stem: Packet(source, sums)}))
        swap.take()
        swap.settle()
    return tuple(folder / name for name in sums)


def _source(job: Path, folder: Path) -> str:
    """The job file as seen from the folder, so that both may be moved together."""
    file = job.resolve() if job.is_file() else job.absolute()  # a pipe has a new name each time
    try:
        return os.path.relpath(file, folder.resolve())
    except ValueError:  # on another drive
        return str(file)


def _refuse_other_job(folder: Path, stem: str, source: str, before: str) -> None:
    """Refuse to replace the packet of another job that still is there."""
    if before not in ("", source) and (folder / before).exists():
        raise FileError(f"the packet of {stem} in it is of another job file, {before}",
                        "choose another folder, or add --force", str(folder))


def _refuse_foreign(path: Path, stem: str, ledger: Mapping[str, Packet]) -> None:
    now = checksum(path)
    if now is None or path.is_dir():
        return
    known = ledger.get(stem, Packet()).files.get(path.name)
    if known is None:
        owner = next((other for other, packet in ledger.items() if path.name in packet.files), None)
        raise FileError("the file exists already, and coper did not write it" if owner is None
                        else f"the file belongs to the packet of {owner}",
                        "move it, choose another folder, or add --force", str(path))
    if now != known:
        raise FileError("the file was changed since coper wrote it",
                        "move it to keep the changes, or add --force", str(path))


def _left_over(folder: Path, stem: str, before: Packet) -> Iterator[str]:
    """Pages of the last run that nobody has changed."""
    page = re.compile(rf"{re.escape(stem)}(-[A-Z]+)?\.(svg|pdf)")
    for name, known in before.files.items():
        if page.fullmatch(name) and checksum(folder / name) == known:
            yield name


def _read_ledger(folder: Path) -> dict[str, Packet]:
    """The ledger, empty where there is none that can be read: then nothing is coper's own."""
    match read_note(folder / LEDGER):
        case dict(packets):
            return {stem: _packet(job, files) for stem, packet in packets.items()
                    if isinstance(packet, dict)
                    for job, files in [(packet.get("job"), packet.get("files"))]
                    if isinstance(job, str) and isinstance(files, dict)}
    return {}


def _packet(job: str, files: Mapping[str, object]) -> Packet:
    """A packet as the ledger has it, names that are no file of the folder left out."""
    return Packet(job, {name: known for name, known in files.items()
                        if isinstance(known, str) and is_plain(name)})


def _ledger_bytes(ledger: Mapping[str, Packet]) -> bytes:
    packets = {stem: asdict(packet) for stem, packet in ledger.items()}
    return (json.dumps(packets, indent=1, sort_keys=True) + "\n").encode()
