"""What mends the tubes of a job that run through each other, or do not seat where they end."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from itertools import islice
from typing import Final

from coper.errors import CoperError
from coper.job.mends import Mend, forgotten, mended, mends_of
from coper.page.answers.change import Change, answer_in, attempted, job_in
from coper.telling.words.seat import forgotten_words, mend_words
from coper.units import lengths_in

REMEMBERED: Final = 16

MOST_MENDS: Final = 6
"""Clashes that are looked at: with more something else is wrong than a seat."""


@dataclass(frozen=True, slots=True)
class MendShown:
    """A button that mends something: the mend, its words, and what is said before it."""

    mend: Mend
    words: str
    said: str = ""


def mends_in(text: str, tube: str = "") -> tuple[MendShown, ...]:
    """What was forgotten in a job, of one tube where that is named."""
    try:
        found = _mends(text)
    except CoperError:
        return ()
    return tuple(one for one in found if tube in ("", one.mend.tube, one.mend.other))


@lru_cache(maxsize=REMEMBERED)
def _mends(text: str) -> tuple[MendShown, ...]:
    job, shaped = job_in(text), answer_in(text).result
    with lengths_in(job.units):
        ways = {mend: "" for clash in islice(shaped.clashes, MOST_MENDS)
                for mend in mends_of(job, shaped.clashes, clash)}
        left = {mend: forgotten_words(mend)
                for mend in forgotten(job, shaped.pieces, shaped.clashes)}
        return tuple(MendShown(mend, mend_words(mend), said)
                     for mend, said in {**ways, **left}.items())


def mend_job(text: str, mend: Mend) -> Change:
    """The text of a job with what was forgotten."""
    made, faults = attempted(text, [lambda old: mended(old, mend)])
    return Change(text, {}, faults) if made is None else Change(made, {})
