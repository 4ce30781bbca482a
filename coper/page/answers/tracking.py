"""The station Check, tracking: readings in, which way the rear end is out and where to pull out."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Final, TypeVar

from coper.bicycle.tracking.doubts import good
from coper.bicycle.tracking.rear_end import LeftRight, RearEnd
from coper.bicycle.tracking.straight_edge import StraightEdge
from coper.bicycle.tracking.tracking import Tracking, TrackingReadings, own_limit
from coper.drawing.svg import svg_element
from coper.errors import CoperError
from coper.job.job import Job
from coper.job.tracking import FrameMeasures, job_measures, missing
from coper.page.answers.change import every_fault, job_in
from coper.page.answers.fields import with_point
from coper.page.answers.words import Block, blocks
from coper.sheets.tracking_log import Typed
from coper.sheets.tracking_picture import tracking_picture
from coper.telling.lines import Fact
from coper.telling.words.typed import typed_file
from coper.units import format_length, lengths_in
from coper.verbs.answer import Answer, in_unit
from coper.verbs.options import length, size
from coper.verbs.tracking import OPTION_OF, SIZES, tracking

SIDES: Final = ("left", "right")

Value = TypeVar("Value")

VERDICT: Final = ("OUT", "NOT SURE", "GOOD", "off", "to be true", "stays")
"""The facts of the answer that say it in short."""

NO_REAR_END: Final = (
    "This frame has no rear wheel between dropouts: whether it lies straight is measured by the "
    "diagonals on the table, and by the lengths of the order of work.")


@dataclass(frozen=True, slots=True)
class Reading:
    """A field.

    Attributes
    ----------
    name, words, how : str
    typed : str
        What stands in it.
    said : str
        What the job says, which holds while nothing stands in it.
    wrong : str
        Why it cannot be used.
    """

    name: str
    words: str
    how: str = ""
    typed: str = ""
    said: str = ""
    wrong: str = ""


@dataclass(frozen=True, slots=True)
class Pair:
    """What is read on both sides."""

    key: str
    words: str
    how: str
    read: Callable[[str], float]

    def name(self, side: str) -> str:
        """The name of the field of a side."""
        return f"{self.key}-{side}"


PAIRS: Final = (
    Pair("straight-edge", "straight edge to dropout", "The wheel out, the edge along the sides of "
         "head tube and seat tube: from the edge to the dropout's inner face, along the axle.",
         length),
    Pair("string", "string to seat tube", "Or a string from dropout to dropout round the head "
         "tube, over the outer faces: its gap beside the middle of the seat tube.", length),
    Pair("stays", "stays", "Their lengths, between places that match.", size),
)

ALONE: Final = (("width", "between the dropouts", "from inner face to inner face", size),)

EXTRA: Final = (
    ("spacer", "blocks under the edge", "two equal ones on the tubes; the reading is then to the "
     "outer face", length),
    ("edge", "thickness of the edge", "where you read from its far side", length),
    ("limit", "limit", "how far out is still good; empty: 0.5 mm", length),
)

RIM: Final = "rim_radius"

MEASURES: Final = tuple((name, option.removeprefix("--").replace("-", " "),
                         "of the rim, at the bead seat; for stays" if name == RIM else how, size)
                        for name, (option, _, how) in SIZES.items())
"""The measures of the frame, those of the command line."""

NAMES: Final = (*(pair.name(side) for pair in PAIRS for side in SIDES),
                *(name for name, *_ in (*ALONE, *MEASURES, *EXTRA)))

FIELD_OF: Final = {where: option.removeprefix("--") for where, option in OPTION_OF.items()} | {
    "dropout thickness": "thickness", "wheel": RIM}
"""The field, or the pair of them, that a fault of the readings is about."""


@dataclass(frozen=True, slots=True)
class Tracked:
    """The page as it is shown.

    Attributes
    ----------
    title, units : str
    pairs : tuple of (Pair, left and right Reading)
    alone, measures, extra : tuple of Reading
    picture : str
        An element of SVG; empty before anything was read.
    blocks : tuple of Block
        The answer in the words of the terminal.
    wrong : tuple of str
        What is wrong with no field of it.
    has_log : bool
        Whether the job says enough for a log to take to the frame.
    sentence : str
        What there is to check of a frame without a rear wheel between dropouts.
    verdict : tuple of str
        The answer in short: whether it is out, and which way.
    ok : bool
        Whether it is straight.
    """

    title: str
    units: str = "mm"
    pairs: tuple[tuple[Pair, tuple[Reading, ...]], ...] = ()
    alone: tuple[Reading, ...] = ()
    measures: tuple[Reading, ...] = ()
    extra: tuple[Reading, ...] = ()
    picture: str = ""
    blocks: tuple[Block, ...] = ()
    wrong: tuple[str, ...] = ()
    has_log: bool = False
    sentence: str = ""
    verdict: tuple[str, ...] = ()
    ok: bool = True

    @property
    def refused(self) -> bool:
        """Whether something that was typed cannot be used."""
        fields = (*(one for _, both in self.pairs for one in both), *self.alone, *self.measures,
                  *self.extra)
        return bool(self.wrong) or any(one.wrong for one in fields)


def tracked(text: str, typed: Mapping[str, str] | None = None) -> Tracked:
    """The page of a job, with what stands in its fields; nothing typed is not answered."""
    try:
        job = job_in(text)
        with lengths_in(job.units):
            known = job_measures(job)
    except CoperError as error:
        return Tracked("", wrong=every_fault(error))
    if job.bicycle is None and not known:
        return Tracked(job.title, sentence=NO_REAR_END)
    with lengths_in(job.units):
        return _tracked(job, known, typed or {})


def _tracked(job: Job, known: FrameMeasures, typed: Mapping[str, str]) -> Tracked:
    wrong: dict[str, str] = {}
    answer, picture = None, ""
    if any(words.strip() for words in typed.values()):
        try:
            answer = _answer(job, known, typed, wrong)
            page = None if answer is None else tracking_picture(answer.result)
            picture = "" if page is None else svg_element(page)
        except CoperError as error:
            _place(error, wrong)

    def field(name: str, words: str, how: str = "") -> Reading:
        said = format_length(known[name]) if name in known else ""
        return Reading(name, words, how, typed.get(name, ""), said, wrong.pop(name, ""))

    pairs = tuple((pair, tuple(field(pair.name(side), side) for side in SIDES)) for pair in PAIRS)
    alone, measures, extra = (tuple(field(name, words, how) for name, words, how, _ in part)
                              for part in (ALONE, MEASURES, EXTRA))
    found = Tracked(job.title, job.units, pairs, alone, measures, extra, picture,
                    wrong=tuple(wrong.values()), has_log=not missing(known))
    if answer is None:
        return found
    lines = tuple(answer.lines())
    facts = {line.name: line.words for line in lines if isinstance(line, Fact)}
    verdict = tuple(f"{name}: {facts[name]}" for name in VERDICT if name in facts)
    return replace(found, blocks=blocks(lines), verdict=verdict, ok=good(answer.result))


def _place(error: CoperError, wrong: dict[str, str]) -> None:
    """Put a fault beside the field that it is about, of a pair beside the left one."""
    key = FIELD_OF.get(error.where, "")
    pair = next((one for one in PAIRS if one.key == key), None)
    name = key if pair is None else pair.name(SIDES[0])
    wrong[name] = str(CoperError(error.fault, error.cure)) if name else str(error)


def _answer(
    job: Job, known: FrameMeasures, typed: Mapping[str, str], wrong: dict[str, str]
) -> Answer[Tracking] | None:
    """What ``coper tracking`` says; ``None`` where a field cannot be used, which is then noted."""

    def read(name: str, reader: Callable[[str], Value]) -> Value | None:
        words = with_point(typed.get(name, "").strip())
        try:
            return reader(words) if words else None
        except CoperError as error:
            wrong[name] = str(error)
            return None

    pairs = {pair.key: _pair(pair, [read(pair.name(side), pair.read) for side in SIDES], wrong)
             for pair in PAIRS}
    values = {name: read(name, reader) for name, _, _, reader in (*ALONE, *MEASURES, *EXTRA)}
    limit = read("limit", lambda words: own_limit(length(words)))
    measures = known | {name: value for name in SIZES if (value := values[name]) is not None}
    for name in missing(measures):
        wrong.setdefault(name, f"missing; such as {SIZES[name][1]}")
    if wrong:
        return None
    readings = TrackingReadings(pairs["straight-edge"], pairs["string"], values["width"],
                                pairs["stays"])
    if readings == TrackingReadings():
        raise CoperError("nothing was read", "read one pair of gaps at least, or the width")
    edge = StraightEdge(values["spacer"] or 0.0, values["edge"] or 0.0)
    return in_unit(job.units, lambda: tracking(RearEnd(**measures), readings, edge, limit))


def _pair(
    pair: Pair, values: list[float | None], wrong: dict[str, str]
) -> LeftRight | None:
    """Both readings; one alone is noted as wrong at the other."""
    match values:
        case [float(left), float(right)]:
            return LeftRight(left, right)
        case [None, None]:
            return None
    for side, value in zip(SIDES, values, strict=True):
        if value is None:
            wrong.setdefault(pair.name(side), "missing: read it on both sides")
    return None


@lru_cache(maxsize=1)
def log_pdf(text: str, file: str) -> bytes:
    """The log to take to the frame, that of ``coper tracking FILE --pdf``.

    Raises
    ------
    CoperError
        Where the job does not say enough for one.
    """
    job = job_in(text)
    with lengths_in(job.units):
        known = job_measures(job)
        if wanting := missing(known):
            raise CoperError("missing", "give it with the readings", ", ".join(wanting))
        return in_unit(job.units, lambda: tracking(
            RearEnd(**known), paper=job.shop.paper_for(None),
            typed=Typed(f"coper tracking {typed_file(file)}", known),
            printer=job.shop.printer)).pdf()
