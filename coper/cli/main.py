"""The one entry of the command line."""

from __future__ import annotations

import gc
import os
import sys
from collections.abc import Sequence
from typing import NoReturn, TextIO

from coper.cli.console import Console
from coper.cli.finish import FALLS_SHORT, finish
from coper.cli.parser import asked_unit, read_arguments
from coper.cli.progress import Progress
from coper.errors import CoperError, bounded
from coper.units import lengths_in

DONE, UNUSABLE, FAULT, INTERRUPTED = 0, 2, 3, 130
"""Exit statuses: done, input that cannot be used, a fault of coper's own, stopped at the keyboard.

1 is a verb's own: the work was done, but a check that was asked for fails.
"""

MOST_LINES = 100
"""More complaints than this are counted, not printed: nobody reads them before mending some."""

COLLECTED_AT = 100_000
"""So many new objects make Python look for garbage, instead of 700: a command makes little, and
looking for it all through the imports would cost a twentieth of its time."""


def main(argv: Sequence[str], out: TextIO | None, err: TextIO | None) -> int:
    """Run one command; returns the exit status and never raises for bad input.

    ``None`` stands for a stream that is shut.
    """
    answers, complaints = Console(out), Console(err)
    with lengths_in(asked_unit(argv)):
        status = _status(argv, answers, complaints)
    answers.flush()
    if answers.lost and status in (DONE, FALLS_SHORT):
        complaints.line(f"coper: standard output: the answer cannot be written ({answers.lost}); "
                        "make room, or send it elsewhere; files that were asked for are written")
        status = UNUSABLE
    complaints.flush()
    return status


def _status(argv: Sequence[str], out: Console, err: Console) -> int:
    """Do what the words ask, and complain of what cannot be used; the exit status."""
    try:
        arguments = read_arguments(argv)
        if isinstance(arguments, str):
            for line in arguments.splitlines():
                out.line(line)
            return DONE
        arguments.progress = Progress(err)
        try:
            answer = arguments.ask(arguments)
        finally:
            arguments.progress.done()
        status = finish(answer, arguments, out)
        out.flush()
        answer.stay()
        return status
    except CoperError as error:
        faults = str(error).splitlines()
        for fault in faults[:MOST_LINES]:
            err.line(f"coper: {fault}")
        if len(faults) > MOST_LINES:
            err.line(f"coper: {len(faults) - MOST_LINES} more faults; mend these first")
        return UNUSABLE
    except Exception as error:
        if os.environ.get("COPER_TRACEBACK"):
            raise
        err.line(f"coper: a fault in coper itself ({type(error).__name__}: {bounded(str(error))}); "
                 "set COPER_TRACEBACK=1 to see where, and report it")
        return FAULT


def run() -> NoReturn:
    """The console command.

    Leaves at once when all is written and flushed: taking a hundred modules apart one by one
    would cost a tenth of the command's time.
    """
    gc.set_threshold(COLLECTED_AT)
    try:
        status = main(sys.argv[1:], sys.stdout, sys.stderr)
    except KeyboardInterrupt:
        status = INTERRUPTED
    os._exit(status)
