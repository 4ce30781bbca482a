"""Every address of the page, filled in: a new one is found here by itself."""

from urllib.parse import quote

from coper.page.site import ADDRESSES
from tests.profiles import times

PAIR = """\
title = "A pair"

[shop]
saws = ["1in"]

[points]
foot = [0, 0, 0]
head = { from = "foot", by = [0, 0, 400] }

[tubes.main]
shape = "28.6x1"
start = { at = "foot" }
end = { at = "head" }

[tubes.branch]
shape = "25.4x1"
start = { at = [0, 0, 200], on = ["main"] }
end = { at = [300, 0, 260] }
"""
"""The smallest job with an end that is shaped."""

REAL = {"tube": "branch", "side": "centre", "end": "start", "point": "head", "what": "made"}
"""What the open parts of an address may be in it."""

POSTS = [*(one.path for one in ADDRESSES if one.post is not None), "undo", "redo"]


def _gets():
    """Addresses that show something; one that takes seconds only in a search."""
    paths = [one.path for one in ADDRESSES if one.get is not None]
    return [*(path for path in paths if times() > 1 or not path.endswith("/care")), "as-of"]


GETS = _gets()


def filled(path, name="job", **parts):
    """An address of a job with its open parts filled in."""
    given = {**REAL, **parts}
    own = [given[one.strip("{}")] if one.startswith("{") else one for one in path.split("/")]
    return "/".join(("", quote(name, safe=""), *(quote(one, safe="") for one in own)))


def is_open(path):
    """Whether an address has parts that anybody fills in."""
    return "{" in path
