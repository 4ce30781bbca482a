"""The address that a page is served at: a port that is free, and who can reach it."""

from __future__ import annotations

import errno
import os
import socket
import sys
import webbrowser
from contextlib import closing
from typing import Final

from coper.errors import CoperError, FileError

PORT: Final = 8731
"""The first port that is tried where none is asked for: no service is registered there."""

TRIED: Final = 20
"""Ports that are tried one after the other."""

HERE: Final = "127.0.0.1"
EVERYWHERE: Final = "0.0.0.0"

OUTSIDE: Final = ("192.0.2.1", 9)
"""An address for documentation (RFC 5737) that nothing is ever sent to."""

WAITING: Final = 64
"""Connections that may wait to be taken."""


def bound(port: int | None, lan: bool) -> tuple[socket.socket, int]:
    """A socket that listens, and its port: the one asked for, or the next that is free.

    Raises
    ------
    CoperError
        Where none of them is free, or the system gives this user none.
    """
    first = port or PORT
    tried = range(first, min(first + TRIED, 65536))
    for one in tried:
        # Named TCP, or asyncio lets each answer wait 40 ms for the browser to own to the last one.
        listening = socket.socket(socket.AF_INET, socket.SOCK_STREAM, socket.IPPROTO_TCP)
        if sys.platform != "win32":  # there it would let two programs have one port
            listening.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            listening.bind((EVERYWHERE if lan else HERE, one))
            listening.listen(WAITING)
        except OSError as fault:
            listening.close()
            if fault.errno != errno.EADDRINUSE:
                raise CoperError(f"port {one} cannot be had ({(fault.strerror or '').lower()})",
                                 "give one above 1023", "--port") from fault
        else:
            return listening, one
    raise CoperError(f"no port from {tried[0]} to {tried[-1]} is free",
                     "give another with --port N", "--port")


def network_host() -> str:
    """This computer's address in its network.

    Raises
    ------
    FileError
        Where it is in none.
    """
    try:
        with closing(socket.socket(socket.AF_INET, socket.SOCK_DGRAM)) as asking:
            asking.connect(OUTSIDE)  # of a datagram: it only chooses the way, and sends nothing
            host: str = asking.getsockname()[0]
    except OSError as fault:
        raise FileError("this computer is in no network", "connect it, or leave --lan out",
                        "--lan") from fault
    return host


def has_display() -> bool:
    """Whether a browser with windows can be opened here."""
    if sys.platform in ("win32", "darwin"):
        return True
    return bool(os.environ.get("DISPLAY") or os.environ.get("WAYLAND_DISPLAY"))


def show(address: str) -> None:
    """Open the browser; one that cannot be opened is no fault, for the address is printed."""
    try:
        webbrowser.open(address)
    except webbrowser.Error:
        return
