"""The shelf: the jobs of a folder, and the four questions that a new one begins with."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final, cast

from coper.errors import CoperError
from coper.job.edit import Edit, edited
from coper.job.papers import PAPERS
from coper.job.read import parse_job
from coper.job.starter import KINDS, STARTER_UNITS, Kind, Unit, starter_job
from coper.page.answers.change import job_in
from coper.units import parse_length
from coper.verbs.options import choice

BARE: Final = "another frame"
"""A job that begins with no point and no tube."""

LIKE: Final = (*KINDS, BARE)

BARE_JOB: Final = """\
title = "{title}"
units = "{units}"

[shop]
paper = "a4"

[tubes]
"""

PAPERS_ASKED: Final = tuple(name for name in PAPERS if name != "roll")
"""Papers of a new job; a roll has a width besides, which the file says."""

SAWS: Final = "7/8in, 1in, 1-1/8in, 1-1/4in, 1-3/8in, 1-1/2in"
"""What a common set of hole saws has."""

FIRST: Final = {"title": "", "like": KINDS[0], "units": STARTER_UNITS[0],
                "paper": PAPERS_ASKED[0], "saws": SAWS}
"""What stands in the questions before anybody has answered."""

TITLE_FIRST: Final = "give it a name, such as Wagtail"


@dataclass(frozen=True, slots=True)
class JobShown:
    """A job on the shelf.

    Attributes
    ----------
    name : str
        That of its file.
    title : str
    count : str
        How many tubes it has, in words.
    wrong : str
        Why it does not load, the first of it; empty where it does.
    drawn : bool
        Whether there is anything to draw of it.
    """

    name: str
    title: str
    count: str = ""
    wrong: str = ""
    drawn: bool = False


@dataclass(frozen=True, slots=True)
class Begun:
    """What the four answers come to: the new job's text; or what is wrong, by question."""

    text: str = ""
    wrong: Mapping[str, str] | None = None


def job_shown(name: str, text: str) -> JobShown:
    """A job as the shelf shows it."""
    try:
        job = job_in(text)
    except CoperError as error:
        return JobShown(name, name, wrong=str(error).splitlines()[0])
    count = len(job.tubes)
    words = f"{count} {'tube' if count == 1 else 'tubes'}" if count else "no tube yet"
    return JobShown(name, job.title or name, words, drawn=bool(count))


def begun(answers: Mapping[str, str]) -> Begun:
    """A new job, by the four answers: what it is, its unit, the paper and the saws; and a name."""
    given, wrong = {**FIRST, **answers}, dict[str, str]()
    title = " ".join(given["title"].split())
    if not title:
        wrong["title"] = TITLE_FIRST
    for name, known in (("like", LIKE), ("units", STARTER_UNITS), ("paper", PAPERS_ASKED)):
        try:
            choice(*known)(given[name])
        except CoperError as error:
            wrong[name] = str(error)
    saws = [part.strip() for part in given["saws"].split(",") if part.strip()]
    for saw in saws:
        try:
            parse_length(saw, given["units"] if "units" not in wrong else "mm")
        except CoperError as error:
            wrong["saws"] = str(error)
    if wrong:
        return Begun(wrong=wrong)
    return _made(title, given, saws)


def _made(title: str, given: Mapping[str, str], saws: list[str]) -> Begun:
    """The starter with what was answered in it."""
    text = (BARE_JOB.format(title=BARE, units=given["units"]) if given["like"] == BARE
            else starter_job(cast(Kind, given["like"]), cast(Unit, given["units"])))
    try:
        text = edited(text, "", (Edit("title", title),))
        text = edited(text, "shop", (Edit("paper", given["paper"]),
                                     Edit("saws", [*saws] if saws else None, "process")))
        parse_job(text)
    except CoperError as error:
        return Begun(wrong={"title": str(error)})
    return Begun(text)
