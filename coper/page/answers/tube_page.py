"""A tube in hand: its fields, what its ends may seat on, and what it comes to."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

from coper.errors import CoperError
from coper.frame.standing import WAYS
from coper.frame.tube import ENDS, Which
from coper.job.job import Job
from coper.job.seats import seat_offers
from coper.page.answers.boxes import Box, Choices, Filled, filled
from coper.page.answers.change import (
    Change,
    answer_in,
    every_fault,
    faults_of,
    job_in,
    table_of,
    tables_in,
)
from coper.page.answers.fields import shown_value
from coper.page.answers.mending import MendShown, mends_in
from coper.page.answers.tube_change import CORNER, ON, SIZE, TICKED, tube_table
from coper.page.answers.words import Block, blocks
from coper.shapes.kinds import KINDS, Kind, kind_named, measured_kind
from coper.telling.lines import Line, sentence
from coper.telling.words.alike import alike_lines, batch_titles
from coper.telling.words.job import piece_lines
from coper.telling.words.seat import offer_words
from coper.units import format_number, lengths_in

REMEMBERED: Final = 32

AS_TYPED: Final = "as typed above"
"""The choice of a point that has no name."""

TURNED: Final = {
    "tall": ("tall", "which of its two sides stands up"),
    "turn": ("turn", "degrees, right-handed from start to end"),
    "bulge": ("bulge", f"{', '.join(WAYS)}, or three numbers"),
    "through": ("through", "a point that the bend passes through"),
}
"""How a tube that is not round lies."""

LIES: Final = {"box": ("tall", "turn"), "oval": ("tall", "turn"), "tapered oval": ("tall", "turn"),
               "plate": ("turn",), "bent": ("bulge", "through", "turn")}
"""What may be said of that, by the kind."""

TAPERS: Final = ("tapered", "tapered oval")


@dataclass(frozen=True, slots=True)
class Seat:
    """A tube that an end may seat on: its tick, and what the cope would be."""

    tick: Box
    words: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class EndShown:
    """An end as it is shown.

    Attributes
    ----------
    which : str
    at : Box
        Its point in words.
    pick : Box or None
        The same by its name; none where the job has no point with a name.
    seats : tuple of Seat
    ways : tuple of Box
        How else it may be cut.
    point : str
        The point of the job that it is at; empty where that has no name, or is the bicycle's.
    """

    which: Which
    at: Box
    pick: Box | None
    seats: tuple[Seat, ...]
    ways: tuple[Box, ...]
    point: str


@dataclass(frozen=True, slots=True)
class TubeShown:
    """A tube as it is shown.

    Attributes
    ----------
    title, units, name : str
    there : bool
        Whether the job has it.
    wrong : tuple of str
        What is wrong with no field of it.
    kind : str
        The kind whose numbers are asked for.
    kinds : tuple of str
    sizes : tuple of Box
        Its numbers.
    shape : Box
        Its words.
    own : tuple of Box
        What else there is to say of it.
    course : tuple of Box
        Its corners and its bend.
    ends : tuple of EndShown
    blocks : tuple of Block
        What it comes to.
    mends : tuple of MendShown
        What was forgotten of it.
    twin : bool
    """

    title: str
    units: str
    name: str
    there: bool = True
    wrong: tuple[str, ...] = ()
    kind: str = ""
    kinds: tuple[str, ...] = tuple(kind.name for kind in KINDS)
    sizes: tuple[Box, ...] = ()
    shape: Box | None = None
    own: tuple[Box, ...] = ()
    course: tuple[Box, ...] = ()
    ends: tuple[EndShown, ...] = ()
    blocks: tuple[Block, ...] = ()
    mends: tuple[MendShown, ...] = ()
    twin: bool = False

    @property
    def form(self) -> str:
        """Which fields there are: with others the form is another one."""
        ways = (box for end in self.ends for box in (end.pick, *end.ways) if box is not None)
        names = (box.name for box in (*self.sizes, *self.own, *self.course, *ways))
        return " ".join((self.name, self.kind, *names))


def tube_shown(
    text: str, name: str, kind: str = "", change: Change | None = None
) -> TubeShown:
    """The station of one tube.

    Parameters
    ----------
    text
        All of the file.
    name
        Of the tube.
    kind
        The kind whose numbers are asked for; its own where that is empty.
    change
        What of the fields could not be written, if anything.
    """
    table, form = tube_table(text, name), filled(change, name)
    wrong = () if change is None else elsewhere(change)
    try:
        job: Job | None = job_in(text)
    except CoperError as error:
        job, wrong = None, (*every_fault(error), *wrong)
    title, units = title_and_units(text)
    if not table:
        return TubeShown(title, units, name, there=False, wrong=wrong)
    with lengths_in(units):
        found = measured_kind(str(table.get("shape", "")))
        asked = kind_named(kind or (found[0].name if found else ""))
        lines, bad = _comes_to(text, name) if job is not None else ((), ())
        return TubeShown(
            title, units, name, wrong=(*wrong, *bad), kind=asked.name,
            sizes=tuple(_sizes(asked, found, form)),
            shape=form.box("shape", "in words", shown_value(table.get("shape")),
                           "as 28.6mm x 0.9mm, or box 2in by 1in x 1/16in"),
            own=tuple(_own(table, asked, form)), course=tuple(_course(table, form)),
            ends=tuple(_end(text, job, name, which, table, form) for which in ENDS),
            blocks=blocks(lines), mends=mends_in(text, name), twin=table.get("mirror") is True)


def kind_of(text: str, name: str) -> str:
    """The kind of a tube as the file has it; empty where its words are of none."""
    found = measured_kind(str(tube_table(text, name).get("shape", "")))
    return "" if found is None else found[0].name


def elsewhere(change: Change) -> tuple[str, ...]:
    """Faults that stand beside no field."""
    beside = {str(fault) for faults in change.why.values() for fault in faults}
    return tuple(str(fault) for fault in change.faults if str(fault) not in beside)


def title_and_units(text: str) -> tuple[str, str]:
    """What a job is called and measured in, even where it does not load."""
    tables = tables_in(text)
    return str(tables.get("title", "")), str(tables.get("units", "mm"))


def _sizes(
    kind: Kind, found: tuple[Kind, Mapping[str, str]] | None, form: Filled
) -> Iterator[Box]:
    """The numbers of a kind; those of the file where it is of that kind."""
    known = found[1] if found is not None and found[0] == kind else {}
    for part in kind.parts:
        label = part.name if part.needed else f"{part.name} (may be left out)"
        yield form.box(f"{SIZE}{part.key}", label, known.get(part.key, ""))


def _own(table: Mapping[str, object], kind: Kind, form: Filled) -> Iterator[Box]:
    """A taper's place, which way it lies, a twin, and whether it stands already."""
    if kind.name in TAPERS or "shape_from" in table:
        yield form.box("shape_from", "the taper begins", shown_value(table.get("shape_from")),
                       "how far from the start point its first diameter stands; 0 where empty")
    for key, (label, how) in TURNED.items():
        if key in LIES.get(kind.name, ()) or key in table:
            yield form.box(key, label, shown_value(table.get(key)), how)
    yield form.box("mirror", "has a twin on the other side", _tick(table.get("mirror")), tick=True)
    yield form.box("existing", "stands already: nothing of it is cut",
                   _tick(table.get("existing")), tick=True)


def _course(table: Mapping[str, object], form: Filled) -> Iterator[Box]:
    """Its corners and one more, and the radius."""
    corners = table.get("corners")
    found = [shown_value(one) for one in corners] if isinstance(corners, list) else []
    for number, was in enumerate((*found, "")):
        yield form.box(f"{CORNER}{number}", f"corner {number + 1}", was,
                       "" if number else "where its straight axes would meet: a point's name, or "
                       "three numbers")
    yield form.box("bend", "bend", shown_value(table.get("bend")),
                   "radius of the centreline; or one for each corner, with commas")


def _end(
    text: str, job: Job | None, name: str, which: Which, table: Mapping[str, object], form: Filled
) -> EndShown:
    end = table.get(which)
    own = end if isinstance(end, dict) else {}
    at = own.get("at")
    picked = at if isinstance(at, str) else ""
    existing = table.get("existing") is True
    choices = point_choices(text, picked)
    return EndShown(
        which,
        form.box(f"{which}.at", "its point", shown_value(at),
                 "a name, or three numbers: ahead, to the left, up"),
        form.box(f"{which}.pick", "or pick one", picked, choices=choices)
        if len(choices) > 1 else None,
        () if existing or job is None else tuple(_seats(text, name, which, own, form)),
        () if existing else tuple(_ways(text, name, which, table, own, form)),
        picked if picked in table_of(text, "points") else "")


def _seats(
    text: str, name: str, which: Which, own: Mapping[str, object], form: Filled
) -> Iterator[Seat]:
    on = own.get("on")
    names = on if isinstance(on, list) else []
    first = f"{which}.{ON}"
    typed = tuple(key.removeprefix(first) for key in form.typed if key.startswith(first))
    for main, words in _offers(text, name, which, typed):
        yield Seat(form.box(f"{which}.{ON}{main}", main, _tick(main in names), tick=True), words)


@lru_cache(maxsize=REMEMBERED)
def _offers(
    text: str, name: str, which: Which, also: tuple[str, ...]
) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """The tubes near an end and those ``also``, each with what the cope would be."""
    job = job_in(text)
    try:
        with lengths_in(job.units):
            return tuple((offer.main.name, tuple(offer_words(offer)))
                         for offer in seat_offers(job, name, which, also))
    except CoperError:  # said of the whole job
        return ()


def _ways(
    text: str, name: str, which: Which, table: Mapping[str, object], own: Mapping[str, object],
    form: Filled,
) -> Iterator[Box]:
    """How else it may be cut than on a tube."""
    def box(key: str, label: str, how: str = "", choices: Choices = (), was: str = "") -> Box:
        return form.box(f"{which}.{key}", label, was or shown_value(own.get(key)), how, choices)

    yield box("cut", "on a tube, the wall is cut", choices=(("bevelled", "bevelled"),
                                                            ("square", "square")),
              was=shown_value(own.get("cut")) or "bevelled")
    yield box("mitre", "mitred with", "the end of another tube at the same point",
              _partners(text, name, own.get("mitre")))
    if table.get("mirror") is True:
        yield form.box(f"{which}.twin", "mitred with its own twin", _tick(own.get("twin")),
                       tick=True)
    yield box("face", "cut along a face", "the way the cut looks, as 1, 1, 0")
    yield box("back", "cut off short", "how far short of its point, straight across")
    yield box("cap", "closed by a cap", "its thickness")


def _partners(text: str, name: str, was: object) -> Choices:
    tubes = tables_in(text).get("tubes")
    names = [one for one in tubes if one != name] if isinstance(tubes, dict) else []
    if isinstance(was, str) and was not in names:
        names.append(was)
    return (("", "nothing"), *((one, one) for one in names))


def point_choices(text: str, picked: str = "") -> Choices:
    """Every point of a job that has a name, and where it is."""
    try:
        job = job_in(text)
    except CoperError:
        points = tables_in(text).get("points")
        names = list(points) if isinstance(points, dict) else []
        found = [(name, name) for name in names]
    else:
        given = {**job.points, **({} if job.bicycle is None else job.bicycle.points)}
        with lengths_in(job.units):
            found = [(name, f"{name}: {', '.join(format_number(round(part, 1)) for part in at)}")
                     for name, at in given.items()]
    if picked and all(picked != name for name, _ in found):
        found.append((picked, picked))
    return (("", AS_TYPED), *found)


def _tick(value: object) -> str:
    return TICKED if value is True else ""


def _comes_to(text: str, name: str) -> tuple[tuple[Line, ...], tuple[str, ...]]:
    """What the terminal says of a tube; or why it has nothing to say."""
    try:
        shaped = answer_in(text).result
    except CoperError as error:
        return (), tuple(map(str, faults_of(error)))
    pieces = [piece for piece in shaped.pieces if piece.tube.name == name]
    lines: list[Line] = [line for piece in pieces for line in piece_lines(piece)]
    groups = shaped.cut_list.alike
    own = [group for group in groups if any(
        member.piece.tube.name == name for batch in group.batches for member in batch.members)]
    alike = alike_lines(own, batch_titles(groups))
    return (*lines, *map(sentence, alike)), ()
