"""Running the command as a person does, inside the test's own process."""

import io

from coper.cli.main import main


def run(*words):
    """The exit status, what was printed, and what was complained about."""
    out, err = io.StringIO(), io.StringIO()
    status = main(words, out, err)
    return status, out.getvalue(), err.getvalue()
