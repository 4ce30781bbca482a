"""The station Tubes: the list of them, the form of a new one, and one that stands by another."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from functools import partial
from typing import Final

from coper.errors import CoperError, WordsError
from coper.frame.tube import ENDS
from coper.job.beside import BESIDE, PLACES, bridge, parallel
from coper.job.faults import dotted
from coper.job.job import Job
from coper.job.new_table import with_tube
from coper.job.renamed import removed, renamed
from coper.page.answers.boxes import Box, Filled, filled
from coper.page.answers.change import (
    Change,
    Make,
    answer_in,
    attempted,
    every_fault,
    job_in,
    tables_in,
    title_and_units,
)
from coper.page.answers.fields import with_point
from coper.page.answers.mending import MendShown, mends_in
from coper.page.answers.tube_change import SIZE, shape_words
from coper.page.answers.tube_ends import point_choices
from coper.page.answers.typed import length, needed_point
from coper.shapes.kinds import KINDS, kind_named
from coper.shapes.words import tube_words
from coper.telling.lines import sentence
from coper.telling.words.alike import alike_lines, batch_titles
from coper.units import format_short, lengths_in, parse_length

NAME: Final = "name"

UP: Final = {"mm": "0, 0, 300", "cm": "0, 0, 30", "m": "0, 0, 0.3", "in": "0, 0, 12",
             "ft": "0, 0, 1"}
"""A point straight up from the origin, by the unit of bare numbers."""

ARC: Final = "bent to"

ONE_ARC: Final = ("one arc from end to end; a tube with straight parts is added as if it were "
                  "straight, and then gets its corners")


@dataclass(frozen=True, slots=True)
class Row:
    """A tube in the list: its name, its words, and what else is said of it."""

    name: str
    words: str
    more: str


@dataclass(frozen=True, slots=True)
class TubesShown:
    """The station as it is shown.

    Attributes
    ----------
    title, units : str
    rows : tuple of Row
    alike : tuple of str
        Which of them are the same.
    mends : tuple of MendShown
    wrong : tuple of str
    first : bool
        Whether there is no tube yet.
    kind : str
        The kind whose numbers are asked for of a new one.
    kinds : tuple of str
    boxes : tuple of Box
        The fields of a new one.
    """

    title: str
    units: str
    rows: tuple[Row, ...]
    alike: tuple[str, ...]
    mends: tuple[MendShown, ...]
    wrong: tuple[str, ...]
    first: bool
    kind: str
    kinds: tuple[str, ...]
    boxes: tuple[Box, ...]

    @property
    def up(self) -> str:
        """An end point of a first tube that stands on the origin."""
        return UP.get(self.units, UP["mm"])


def tubes_shown(text: str, kind: str = "", change: Change | None = None) -> TubesShown:
    """The station of a job.

    Parameters
    ----------
    text
        All of the file.
    kind
        That of a new tube.
    change
        What stands in the fields of a new tube, and why none was made of it.
    """
    title, units = title_and_units(text)
    has_tubes = bool(tables_in(text).get("tubes"))
    wrong: tuple[str, ...] = ()
    rows: tuple[Row, ...] = ()
    alike: tuple[str, ...] = ()
    try:
        job = job_in(text)
        with lengths_in(units):
            rows = tuple(_row(job, text))
        answer = answer_in(text).result if job.tubes else None
        if answer is not None:
            groups = answer.cut_list.alike
            alike = tuple(map(sentence, alike_lines(groups, batch_titles(groups))))
    except CoperError as error:
        wrong = every_fault(error)
    new = "" if change is None else change.typed.get(NAME, "")
    form, asked = filled(change, " ".join(new.split())), kind_named(kind)
    if change is not None:
        wrong = (*wrong, *change.elsewhere)
    return TubesShown(
        title, units, rows, alike, mends_in(text), wrong, not has_tubes, asked.name,
        tuple(one.name for one in KINDS), tuple(_boxes(text, asked.name, units, form)))


def _row(job: Job, text: str) -> Iterator[Row]:
    """Every tube, and its blank where it can be made."""
    try:
        pieces = {piece.tube.name: piece for piece in answer_in(text).result.pieces}
    except CoperError:
        pieces = {}
    for plan in job.tubes:
        said = []
        piece = pieces.get(plan.name)
        if plan.existing:
            said.append("stands already")
        elif piece is not None:
            said.append(f"blank {format_short(piece.blank)}")
        if plan.mirror:
            said.append("left and right")
        yield Row(plan.name, tube_words(plan.shape), ", ".join(said))


def _boxes(text: str, kind: str, units: str, form: Filled) -> Iterator[Box]:
    yield form.box(NAME, "its name", how="as rail, or seat-stay")
    for part in kind_named(kind).parts:
        yield form.box(f"{SIZE}{part.key}",
                       part.name if part.needed else f"{part.name} (may be left out)",
                       how=ONE_ARC if part.key == ARC else "")
    choices = point_choices(text)
    for which in ENDS:
        yield form.box(f"{which}.at", f"its {which} point",
                       how=f"three numbers: ahead, to the left, up; as {UP.get(units, UP['mm'])}")
        if len(choices) > 1:
            yield form.box(f"{which}.pick", f"or pick its {which} point", choices=choices)


def added(text: str, form: Mapping[str, str]) -> Change:
    """The text with one more tube, as a form says; each fault beside its field."""
    read: dict[str, Callable[[], object]] = {
        NAME: partial(_name, form), SIZE: partial(shape_words, form),
        **{f"{which}.at": partial(_point, form, f"{which}.") for which in ENDS}}
    why: dict[str, tuple[CoperError, ...]] = {}
    for key, make in read.items():
        try:
            make()
        except CoperError as error:
            why[f"{key}{kind_named(form.get('kind', '')).parts[0].key}"
                if key == SIZE else key] = (error,)
    if why:
        return _left(text, form, why)
    name = _name(form)

    def make_text(old: str) -> str:
        return with_tube(old, name, {"shape": shape_words(form), **{
            which: {"at": needed_point(form.get(f"{which}.pick") or form[f"{which}.at"])}
            for which in ENDS}})

    made, faults = attempted(text, [make_text])
    if made is not None:
        return Change(made, {})
    own = f"tubes.{dotted(name)}"
    sized = f"{SIZE}{kind_named(form.get('kind', '')).parts[0].key}"
    for fault in faults:
        key = next((box for place, box in (
            (f"{own}.shape", sized), *((f"{own}.{which}", f"{which}.at") for which in ENDS))
            if fault.where.startswith(place)), NAME)
        why[key] = (*why.get(key, ()), fault)
    return _left(text, form, why)


def _left(
    text: str, form: Mapping[str, str], why: Mapping[str, tuple[CoperError, ...]]
) -> Change:
    return Change(text, dict(form), tuple(one for some in why.values() for one in some), why)


def _name(form: Mapping[str, str], key: str = NAME) -> str:
    name = " ".join(form.get(key, "").split())
    if not name:
        raise WordsError("no name", "give it one, such as rail")
    return name


def _point(form: Mapping[str, str], end: str) -> object:
    return needed_point(form.get(f"{end}pick") or form.get(f"{end}at", ""))


def called(text: str, tube: str, form: Mapping[str, str]) -> Change:
    """The text with a tube under another name."""
    return _whole(text, form, "new-name",
                  lambda old: renamed(old, "tubes", tube, _name(form, "new-name")))


def without(text: str, tube: str) -> Change:
    """The text without a tube."""
    return _whole(text, {}, "", lambda old: removed(old, "tubes", tube))


def beside(text: str, tube: str, form: Mapping[str, str]) -> Change:
    """The text with a tube beside another; it seats on what that seats on where it can."""
    job = job_in(text)
    way = form.get("way", "")
    try:
        name = _name(form, "beside-name")
        if way not in BESIDE:
            raise WordsError("no way", "choose one")
        mm = parse_length(with_point(form.get("beside-by", "")), job.units)
    except CoperError as error:
        key = "beside-by" if form.get("beside-name", "").strip() else "beside-name"
        return _left(text, form, {key: (error,)})
    made, _ = attempted(text, [lambda _: parallel(job, tube, name, way, mm, seats=True)])
    if made is not None:
        return Change(made, {})
    return _whole(text, form, "beside-by",
                  lambda _: parallel(job, tube, name, way, mm, seats=False))


def bridged(text: str, tube: str, form: Mapping[str, str]) -> Change:
    """The text with a bridge between a tube and its twin."""
    place = form.get("place", "")

    def make(old: str) -> str:
        value = length(form.get("bridge-at", ""))
        if value is None or place not in PLACES:
            raise WordsError("no place", "say how far along it, or how high")
        shape = " ".join(form.get("bridge-shape", "").split())
        return bridge(old, tube, _name(form, "bridge-name"), shape, place, value)

    return _whole(text, form, "bridge-at", make)


def _whole(text: str, form: Mapping[str, str], key: str, make: Make) -> Change:
    """A change of one piece; what is wrong with it stands beside the field ``key``."""
    made, faults = attempted(text, [make])
    if made is not None:
        return Change(made, {})
    return Change(text, dict(form), faults, {key: faults} if key else {})
