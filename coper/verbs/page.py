"""``coper page``: the shop page: jobs in a browser, without a command line.

It serves the jobs of a folder, or one job, to the browser of this computer, opens that, and goes
on until it is stopped with Ctrl-C. The job file stays the one truth: a number that is changed on
the page is written into it with every comment left as it was, and a file that an editor changed
meanwhile is never written over. Undo and redo are kept in the shop book beside the job file.

Nobody else can come in: it answers this computer alone, under the address that it prints, and
takes no change from another site. --lan lets a phone in the same network come in as well, for the
bench: it prints a code to scan, whose address holds a key that is good until the page ends. In a
network without a password everybody on it can read along.

It needs libraries that coper is not installed with unless asked: pip install 'coper[page]'.
"""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from collections.abc import Iterator
from importlib import import_module
from typing import TYPE_CHECKING, Any, Protocol, cast

from coper.errors import CoperError, WordsError
from coper.telling.lines import Caution, Line
from coper.telling.records.head import json_head
from coper.verbs.answer import Answer
from coper.verbs.options import add_json, whole

if TYPE_CHECKING:
    from collections.abc import Callable

HELP = "Show the jobs of a folder in a browser, and work on them there."
EXAMPLES = """\
examples:
  coper page
  coper page demo/wagtail.toml
  coper page demo --port 9000 --no-browser
  coper page demo --lan
"""

SERVER = "coper.page.serve"
"""The server, by its name: the page asks the verbs, so that its room is imported by none of them
and is opened here, when a person wants it."""

LIBRARIES = ("starlette", "uvicorn", "jinja2", "markupsafe", "segno")
"""What the extra ``page`` installs."""

PORTS = (1, 65535)


class Served(Protocol):
    """A page that is served.

    Attributes
    ----------
    address : str
        With the key, where it needs one.
    notes : tuple of str
        What came otherwise than it was asked for.
    code : tuple of str
        The address as a code to scan, line by line; none where only this computer can come in.
    """

    address: str
    notes: tuple[str, ...]
    code: tuple[str, ...]

    def stay(self) -> None:
        """Answer until it is stopped."""


def add_options(parser: ArgumentParser) -> None:
    """The options of the verb."""
    add = parser.add_argument
    add("place", metavar="FILE|FOLDER", nargs="?", default=".",
        help="a job file, or the folder of your jobs (the one that you are in)")
    add("--port", metavar="N", type=_port,
        help="the port of its address (8731; where that is in use, the next free one)")
    add("--no-browser", action="store_true", help="only print the address")
    add("--lan", action="store_true",
        help="let other devices of the network in, with a key")
    add_json(parser)


def _port(text: str) -> int:
    found, (low, high) = whole(text), PORTS
    if not low <= found <= high:
        raise WordsError(f"{found} is not a port", f"give a number from {low} to {high}")
    return found


def ask(arguments: Namespace) -> Answer[Served]:
    """The answer to what the options ask."""
    return page(arguments.place, arguments.port, not arguments.no_browser, arguments.lan)


def page(
    place: str = ".", port: int | None = None, browser: bool = True, lan: bool = False
) -> Answer[Served]:
    """The page of a folder or a job, which answers once its own answer's ``stay`` is called.

    Parameters
    ----------
    place
        The job file or the folder.
    port
        Of its address; where it is in use, the next free one.
    browser
        Whether it is opened in this computer's browser.
    lan
        Whether other devices of the network may come in, with a key.

    Raises
    ------
    CoperError
        Where the place is neither, no port is free, or its libraries are not installed.
    """
    served = _opened()(place, port, browser, lan)

    def record() -> dict[str, Any]:
        return {**json_head(), "address": served.address, "notes": list(served.notes)}

    def lines() -> Iterator[Line]:
        yield f"the shop page is at {served.address}"
        yield from map(Caution, served.notes)
        yield from served.code
        yield "stop it with Ctrl-C"

    return Answer("the shop page", served, record, lines, stay=served.stay)


def _opened() -> Callable[[str, int | None, bool, bool], Served]:
    """What opens a page.

    Raises
    ------
    CoperError
        Where a library of it is not installed.
    """
    try:
        return cast("Callable[[str, int | None, bool, bool], Served]",
                    import_module(SERVER).opened)
    except ModuleNotFoundError as error:
        if error.name is None or error.name.split(".")[0] not in LIBRARIES:
            raise
        raise CoperError(f"the page needs a library that is not installed ({error.name})",
                         "install it with: pip install 'coper[page]'") from error
