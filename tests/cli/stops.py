"""Stopping a writer at any one of the calls that it makes to the operating system."""

import fcntl
import os
from contextlib import contextmanager, suppress

CALLS = ("open", "write", "fsync", "close", "mkdir", "rmdir", "unlink", "link", "rename", "replace",
         "chmod", "stat", "lstat", "listdir", "scandir")
"""Functions of ``os`` that coper and pathlib write, move and look with."""


@contextmanager
def stopped(moment, stop, after=False):
    """Call ``stop`` at the call of that number, before or ``after`` it is done; the calls so far.

    Parameters
    ----------
    moment
        Counted from 0; ``None`` to count only.
    """
    seen, real = [], {name: getattr(os, name) for name in CALLS}
    lock = fcntl.flock

    def counted(name, call):
        def made(*given, **named):
            seen.append(name)
            if len(seen) - 1 != moment:
                return call(*given, **named)
            if after or name == "close":  # else this process would keep the lock
                with suppress(OSError):
                    done = call(*given, **named)
                    if name == "scandir":  # nobody will have it
                        done.close()
            return stop()
        return made

    try:
        for name, call in real.items():
            setattr(os, name, counted(name, call))
        fcntl.flock = counted("flock", lock)
        yield seen
    finally:
        fcntl.flock = lock
        for name, call in real.items():
            setattr(os, name, call)


def forked(work):
    """Do ``work`` in a process of its own, that shares nothing with this one but the files."""
    child = os.fork()
    if child == 0:
        try:
            work()
        finally:
            os._exit(0)
    return os.waitpid(child, 0)[1]
