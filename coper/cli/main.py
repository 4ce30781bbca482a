"""The one entry of the command line."""

from __future__ import annotations

import os
import sys
from collections.abc import Sequence
from typing import TextIO

from coper.cli.parser import make_parser, read_arguments
from coper.errors import CoperError

DONE, SHORT, UNUSABLE, FAULT = 0, 1, 2, 3
"""Exit statuses: done, a check falls short, input that cannot be used, a fault of coper's own."""


def main(argv: Sequence[str], out: TextIO, err: TextIO) -> int:
    """Run one command; returns the exit status and never raises for bad input."""
    try:
        arguments = read_arguments(make_parser(), argv, out)
        return DONE if arguments is None else int(arguments.run(arguments, out))
    except CoperError as error:
        err.write(f"coper: {error}\n")
        return UNUSABLE
    except BrokenPipeError:
        raise
    except Exception as error:
        if os.environ.get("COPER_TRACEBACK"):
            raise
        err.write(f"coper: a fault of its own ({type(error).__name__}: {error}); "
                  "set COPER_TRACEBACK=1 to see where, and report it\n")
        return FAULT


def run() -> None:
    """The console command."""
    try:
        status = main(sys.argv[1:], sys.stdout, sys.stderr)
        sys.stdout.flush()
    except BrokenPipeError:  # the reader, such as a pager, has seen enough
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        status = DONE
    except KeyboardInterrupt:
        status = 130
    sys.exit(status)
