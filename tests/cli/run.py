"""Running the command as a person does, inside the test's own process."""

import io

from coper.cli.main import main


def run(*words):
    """The exit status, what was printed, and what was complained about."""
    out, err = io.StringIO(), io.StringIO()
    status = main(words, out, err)
    return status, out.getvalue(), err.getvalue()


def replaced(words):
    """The words; of an option that stands twice only the last one, for coper refuses two."""
    stale = [n for n, word in enumerate(words) if word.startswith("--") and word in words[n + 1:]]
    return tuple(word for n, word in enumerate(words) if n not in stale and n - 1 not in stale)
