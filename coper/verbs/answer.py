"""What a verb answers, for whoever asks: a terminal, a page, another program."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Mapping
from dataclasses import dataclass, field, replace
from functools import wraps
from typing import TYPE_CHECKING, Any, Concatenate, Generic, ParamSpec, TypeVar

from coper.arrays import OneLine
from coper.drawing.page import Page
from coper.errors import CoperError
from coper.joint.steps import Progress, silent
from coper.telling.lines import Line
from coper.units import INCHES, lengths_in

if TYPE_CHECKING:
    from coper.job.job import Job  # at run time only for verbs that have one

Result_co = TypeVar("Result_co", covariant=True)
Result = TypeVar("Result")
Given = ParamSpec("Given")


def no_pages(progress: Progress) -> tuple[Page, ...]:
    """Of an answer that has no paper."""
    return ()


def nothing() -> None:
    """Of an answer that is not kept."""


@dataclass(frozen=True, slots=True)
class Kept:
    """What became of what the shop book was to keep.

    Attributes
    ----------
    lines : tuple of Line
        What a person reads of it, after the answer.
    record : dict
        ``book`` of the JSON.
    """

    lines: tuple[Line, ...]
    record: dict[str, Any]


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Answer(OneLine, Generic[Result_co]):
    """An answer; its parts are made only when they are asked for.

    Attributes
    ----------
    title : str
        What it is about, in one line.
    result
        The value that was worked out, such as a ``Fit``.
    record
        Makes the one JSON object.
    lines
        Makes what a person reads.
    pages
        Makes the paper, and says each step of a long work; no pages where there is none. A page
        may be made only when its turn comes.
    ok : bool
        Whether every check that was asked for holds.
    files
        Makes the bytes of each further file, by the option that asks for it.
    keep
        Keeps it in the shop book, once its files are written; ``None`` where nothing is to be.
    """

    title: str
    result: Result_co
    record: Callable[[], dict[str, Any]] = field(repr=False)
    lines: Callable[[], Iterable[Line]] = field(repr=False)
    pages: Callable[[Progress], Collection[Page]] = field(default=no_pages, repr=False)
    ok: bool = True
    files: Mapping[str, Callable[[], bytes]] = field(default_factory=dict, repr=False)
    keep: Callable[[], Kept | None] = field(default=nothing, repr=False)

    def svg(self) -> tuple[str, ...]:
        """Each page as the text of an SVG file, true to scale."""
        from coper.drawing.svg import svg_text

        return tuple(svg_text(page) for page in self.pages(silent))

    def pdf(self) -> bytes:
        """All pages as one PDF file, true to scale."""
        from coper.drawing.pdf import pdf_bytes

        return pdf_bytes(self.pages(silent), self.title)


def placed(
    answer: Callable[[], Answer[Result]], place: Callable[[CoperError], CoperError]
) -> Answer[Result]:
    """The answer; every error in the work or in making its pages has its place named.

    Parameters
    ----------
    answer
        Does the work.
    place
        Rewords an error for the person who typed the command.
    """
    found = _placing(answer, place)()
    return replace(found, pages=_placing(found.pages, place))


def _placing(
    make: Callable[Given, Result], place: Callable[[CoperError], CoperError]
) -> Callable[Given, Result]:
    def made(*given: Given.args, **named: Given.kwargs) -> Result:
        try:
            return make(*given, **named)
        except CoperError as error:
            raise place(error) from error

    return made


def in_unit(unit: str, answer: Callable[[], Answer[Result]]) -> Answer[Result]:
    """The answer, worked out and written in the unit of its order.

    Its record is in mm with every sentence in it: in inches the work is done again for that, for
    cautions are worded as it goes.
    """
    with lengths_in(unit):
        found = answer()

    def lines() -> Iterable[Line]:
        with lengths_in(unit):
            return tuple(found.lines())

    def pages(progress: Progress) -> Collection[Page]:
        with lengths_in(unit):
            return found.pages(progress)

    def record() -> dict[str, Any]:
        with lengths_in("mm"):
            return (answer() if unit in INCHES else found).record()

    return replace(found, record=record, lines=lines, pages=pages)


def in_job_unit(
    verb: Callable[Concatenate[Job, Given], Answer[Result]],
) -> Callable[Concatenate[Job, Given], Answer[Result]]:
    """A verb on a job, whose answer is in the job's unit."""

    @wraps(verb)
    def answered(job: Job, /, *given: Given.args, **named: Given.kwargs) -> Answer[Result]:
        return in_unit(job.units, lambda: verb(job, *given, **named))

    return answered
