"""The one entry of the command line."""

from __future__ import annotations

import gc
import os
import sys
from collections.abc import Sequence
from typing import NoReturn, TextIO

from coper.cli.finish import finish
from coper.cli.parser import read_arguments
from coper.cli.progress import Progress
from coper.errors import CoperError

DONE, UNUSABLE, FAULT, INTERRUPTED = 0, 2, 3, 130
"""Exit statuses: done, input that cannot be used, a fault of coper's own, stopped at the keyboard.

1 is a verb's own: the work was done, but a check that was asked for fails.
"""


COLLECTED_AT = 100_000
"""So many new objects make Python look for garbage, instead of 700: a command makes little, and
looking for it all through the imports would cost a twentieth of its time."""


def main(argv: Sequence[str], out: TextIO, err: TextIO) -> int:
    """Run one command; returns the exit status and never raises for bad input."""
    try:
        arguments = read_arguments(argv)
        if arguments is None:
            return DONE
        arguments.progress = Progress(err)
        return finish(arguments.ask(arguments), arguments, out)
    except CoperError as error:
        err.writelines(f"coper: {line}\n" for line in str(error).splitlines())
        return UNUSABLE
    except BrokenPipeError:
        raise
    except Exception as error:
        if os.environ.get("COPER_TRACEBACK"):
            raise
        err.write(f"coper: a fault in coper itself ({type(error).__name__}: {error}); "
                  "set COPER_TRACEBACK=1 to see where, and report it\n")
        return FAULT


def run() -> NoReturn:
    """The console command.

    Leaves at once when all is written and flushed: taking a hundred modules apart one by one
    would cost a tenth of the command's time.
    """
    gc.set_threshold(COLLECTED_AT)
    try:
        status = main(sys.argv[1:], sys.stdout, sys.stderr)
        sys.stdout.flush()
        sys.stderr.flush()
    except BrokenPipeError:  # the reader, such as a pager, has seen enough
        status = DONE
    except KeyboardInterrupt:
        status = INTERRUPTED
    os._exit(status)
