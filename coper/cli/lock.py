"""One run at a time writes into a folder."""

from __future__ import annotations

import os
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import Final

from coper.errors import FileError

WAIT_S: Final = 60.0
"""So long a run waits for another one that writes into the same folder."""

_LOOK_S: Final = 0.05
"""Between two looks whether the other run is done."""


@contextmanager
def locked(folder: Path) -> Iterator[None]:
    """Hold a folder alone; the system gives it free when the process ends, however it ends.

    Raises
    ------
    FileError
        Another run holds it for longer than ``WAIT_S``.
    """
    if sys.platform == "win32":  # it has no such lock
        yield
        return
    descriptor = os.open(folder, os.O_RDONLY)
    try:
        _wait(descriptor, folder)
        yield
    finally:
        with suppress(OSError):  # it was only read
            os.close(descriptor)


def _wait(descriptor: int, folder: Path) -> None:
    """Lock what is open, once nobody else does."""
    import fcntl

    end = time.monotonic() + WAIT_S
    while True:
        try:
            fcntl.flock(descriptor, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            if time.monotonic() >= end:
                raise FileError("another run of coper writes into this folder",
                                "wait for it, then ask again", str(folder)) from None
            time.sleep(_LOOK_S)
        except OSError:  # a file system without locks
            return
        else:
            return
