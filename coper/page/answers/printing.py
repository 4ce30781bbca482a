"""The station Print: paper and printer, and the packet as one PDF, all of it or some sheets."""

from __future__ import annotations

import itertools
from collections.abc import Callable, Collection, Mapping
from dataclasses import dataclass, replace
from threading import Lock
from typing import Final, TypeAlias

from coper.drawing.pdf import Document
from coper.errors import CoperError, FileError, WordsError
from coper.job.papers import PAPERS
from coper.job.toml_value import TomlValue
from coper.joint.steps import silent
from coper.page.answers.boxes import Box
from coper.page.answers.change import Change, faults_of, job_in
from coper.page.answers.settings import Setting, set_to, several, shown
from coper.sheets.packet import Packet
from coper.sheets.section import capital
from coper.verbs.job import job as job_answer

REMEMBERED: Final = 2
"""Packets that are laid out once: that before a change and that after it."""

BARS: Final = ("across", "along")
"""The two bars of 100 mm on every page."""


def _bars(typed: str) -> TomlValue:
    """What the bars of a print measured.

    Raises
    ------
    WordsError
        Where it is not a number each.
    """
    found = several(typed)
    if not isinstance(found, list) or len(found) != len(BARS):
        raise WordsError("it does not have two numbers",
                         "write what the bars across and along measured, such as 99.4, 100.2")
    return found


SETTINGS: Final = (
    Setting("shop", "paper", "Which paper?", "", usual=PAPERS[0]),
    Setting("shop", "printer", "What do your two bars measure?",
            "Every page has two bars of 100 mm, one across and one along. Measure both on a first "
            "print, in mm: 99.4, 100.2. Empty: they are true. It is kept.", _bars),
)

LAYING: Final = 0.6
"""The share of the work that lies before the first page is drawn."""

Say: TypeAlias = Callable[[str, float], None]
"""Hears of each step of a packet as it begins, and which share of the work is done."""


def unheard(step: str, share: float) -> None:
    """Hear of a step and say nothing."""


@dataclass(frozen=True, slots=True)
class Sheet:
    """A part of the packet that can be printed alone: its number, and what the list says of it."""

    number: int
    words: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Printing:
    """The station as it is shown."""

    title: str
    fields: Mapping[str, Box]
    wrong: tuple[str, ...] = ()
    papers: tuple[str, ...] = PAPERS


@dataclass(frozen=True, slots=True)
class Wanted:
    """What is to be made of a job: its text, the numbers of the sheets, whether they are drawn.

    No number is all of them.
    """

    text: str
    chosen: frozenset[int]
    drawn: bool = True


def printing(text: str, change: Change | None = None) -> Printing:
    """Paper and printer of a job."""
    title, faults = "", tuple[CoperError, ...]()
    try:
        title = job_in(text).title
    except CoperError as error:
        faults = faults_of(error)
    return Printing(title, *shown(text, SETTINGS, change, faults, {}))


def set_up(text: str, typed: Mapping[str, str]) -> Change:
    """The text with another paper or printer, as far as it still loads."""
    return set_to(text, typed, SETTINGS)


def is_laid_out(text: str, file: str) -> bool:
    """Whether the parts of the packet are known, so that they can be listed at once."""
    return _LAID.find((text, file)) is not None


def sheets(text: str, file: str) -> tuple[Sheet, ...]:
    """The parts of the packet.

    Raises
    ------
    CoperError
        Where a tube cannot be made.
    """
    return tuple(Sheet(section.first, tuple(section.contents()))
                 for section in laid_out(text, file).sections)


def sections_with(text: str, file: str, names: Collection[str]) -> tuple[int, ...]:
    """The numbers of those parts that have anything of these names on them.

    Raises
    ------
    CoperError
        Where there is no packet.
    """
    return tuple(section.first for section in laid_out(text, file).sections
                 if not set(names).isdisjoint(section.names))


def packet_pdf(
    text: str, file: str, chosen: Collection[int] = (), say: Say = unheard
) -> bytes:
    """The packet as one PDF, that of ``coper job``; of ``chosen`` parts alone where some are.

    Raises
    ------
    CoperError
        Where a tube cannot be made, or the packet has no such part.
    """
    packet = laid_out(text, file, say)
    known = {section.first for section in packet.sections}
    if not known.issuperset(chosen):
        raise FileError("the packet has no such sheet", "tick those of its list")
    sections = [section for section in packet.sections
                if not chosen or section.first in chosen]
    document = Document(packet.job.title)
    count, done = sum(section.count for section in sections), 0
    for section in sections:
        what = capital(section.plan.title)
        for page in packet.of((section,)):
            what = ", ".join(page.opens) or what
            say(f"{done + 1} of {count}: {what}", LAYING + (1 - LAYING) * done / count)
            document.add(page)
            done += 1
    return document.content()


def laid_out(text: str, file: str, say: Say = unheard) -> Packet:
    """The packet, its pages known but not drawn; ``say`` hears of each step.

    Raises
    ------
    CoperError
        Where a tube cannot be made.
    """
    found = _LAID.find((text, file))
    if found is not None:
        return found
    say("shaping the tubes", 0.0)
    answer = job_answer(replace(job_in(text), file=file))
    count, pieces = itertools.count(1), len(answer.result.pieces)

    def heard(step: str) -> None:
        """How many steps there are is not known: the more are done, the shorter each is taken."""
        done = next(count)
        say(f"laying out: {step}", LAYING * done / (done + pieces))

    pages = answer.pages(heard)
    assert isinstance(pages, Packet)
    packet = replace(pages, progress=silent)
    _LAID.keep((text, file), packet)
    return packet


class _Laid:
    """Packets by the text and the file that they are of: the newest ``REMEMBERED``."""

    def __init__(self) -> None:
        self._kept: dict[tuple[str, str], Packet] = {}
        self._lock = Lock()

    def find(self, of: tuple[str, str]) -> Packet | None:
        return self._kept.get(of)

    def keep(self, of: tuple[str, str], packet: Packet) -> None:
        with self._lock:
            self._kept[of] = packet
            for old in list(self._kept)[:-REMEMBERED]:
                del self._kept[old]


_LAID: Final = _Laid()
