"""The points of a job: where each is and how it is given, one in hand as fields, and a new one."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from coper.arrays import Point
from coper.errors import CoperError
from coper.job.faults import dotted
from coper.job.job import Job
from coper.job.point_ways import Around, around
from coper.job.references import references
from coper.job.schema import TomlTable
from coper.page.answers.change import (
    Change,
    faults_of,
    job_in,
    table_of,
    tables_in,
    title_and_units,
)
from coper.page.answers.point_changes import NAME, NEW, TABLE, TITLE
from coper.page.answers.point_fields import (
    AT_KEY,
    FIELDS,
    OWN_BASE,
    Choices,
    choices,
    fields_of,
    named_tube,
    on_tube_words,
    said_fields,
    way_of,
)
from coper.telling.words.place import SENSES, place_words
from coper.units import lengths_in


@dataclass(frozen=True, slots=True)
class Listed:
    """A point in the list: its name, how it is given, where it is."""

    name: str
    how: str
    where: str


@dataclass(frozen=True, slots=True)
class Group:
    """The fields of a point.

    Attributes
    ----------
    typed, was : dict of field to str
        What stands in them, and what the file has.
    choices : Choices
    wrong : dict of field to sentences
        Why what stands there is not written; of no field at ``""``.
    """

    typed: Mapping[str, str]
    was: Mapping[str, str]
    choices: Choices
    wrong: Mapping[str, tuple[str, ...]]

    @property
    def refused(self) -> bool:
        """Whether there is something wrong with what stands in them."""
        return any(self.wrong.values())


@dataclass(frozen=True, slots=True)
class InHand:
    """The point in hand.

    Attributes
    ----------
    name, where : str
    at : tuple of (x, y, z), mm
        Its place, empty where that is not known.
    group : Group or None
        Its fields; ``None`` of a point that the bicycle gives.
    users : tuple of (words, parts of an address)
        What else of the job is measured from it.
    renamed : str
        What stands in the field of its name.
    """

    name: str
    where: str
    at: tuple[Point, ...]
    group: Group | None
    users: tuple[tuple[str, tuple[str, ...]], ...] = ()
    renamed: str = ""


@dataclass(frozen=True, slots=True)
class Points:
    """The points as they are shown.

    Attributes
    ----------
    title : str
    units : str
        What bare numbers are, in words.
    own, given : tuple of Listed
        The job's own, and those that its bicycle gives.
    wrong : tuple of str
        What is wrong with no field.
    hand : InHand or None
    new : Group
        The fields of a point that is not there yet.
    new_name : str
    typed_title : str
    title_wrong : tuple of str
        Why what stands there is not written.
    empty : bool
        Whether the job has no tube either.
    senses : dict of axis to (word, word)
        What a number above 0 and one below 0 mean.
    """

    title: str
    units: str
    own: tuple[Listed, ...]
    given: tuple[Listed, ...]
    wrong: tuple[str, ...]
    hand: InHand | None
    new: Group
    new_name: str
    typed_title: str
    title_wrong: tuple[str, ...]
    empty: bool
    senses: Mapping[str, tuple[str, str]] = field(
        default_factory=lambda: dict(zip("xyz", SENSES, strict=True)))


def points(text: str, name: str = "", change: Change | None = None) -> Points:
    """The points of a job, with the one called ``name`` in hand."""
    typed = {} if change is None else change.typed
    faults = list(() if change is None else change.faults)
    job: Job | None = None
    try:
        job = job_in(text)
    except CoperError as error:
        faults += [one for one in faults_of(error) if str(one) not in map(str, faults)]
    tables, own = tables_in(text), table_of(text, TABLE)
    title, units = title_and_units(text)
    places = {} if job is None else job.points
    given = {} if job is None or job.bicycle is None else job.bicycle.points
    new_name = typed.get(f"{NEW}{NAME}")
    with lengths_in(units if job is None else job.units):
        beside = _beside(faults, name, new_name)
        hand = _in_hand(text, name, job, typed, beside) if name in {*own, *given} else None
        listed = tuple(Listed(one, how_words(value), _where(places, one))
                       for one, value in own.items())
        by_bicycle = tuple(Listed(one, "", place_words(at)) for one, at in given.items())
    return Points(
        title, units, listed, by_bicycle, beside.get("", ()), hand,
        _group(None, None, _about(text, job), typed, beside, NEW), new_name or "",
        typed.get(TITLE, title), beside.get(TITLE, ()),
        not tables.get("tubes") and "bicycle" not in tables)


def users(tables: TomlTable, name: str) -> Iterator[tuple[str, tuple[str, ...]]]:
    """What else of a job names a point: in words, and the parts of an address where it is."""
    for one in references(tables):
        if (one.named, one.name) != (TABLE, name) or one.path[:2] == (TABLE, name):
            continue
        where, other, *keys = map(str, one.path)
        if where == TABLE:
            yield other, ("measure", other)
        elif where == "tubes":
            end = f"{keys[0]} of " if keys[0] in ("start", "end") else "a bend of "
            yield f"{end}{other}", ("tubes", other)
        else:
            yield dotted(where, other, *keys), ()


def how_words(value: object) -> str:
    """How a job says a point, on a line."""
    fields = dict.fromkeys(FIELDS, "") | said_fields(value)
    way = way_of(value)
    if way == "numbers":
        return "by three numbers"
    if way == "from":
        base = "a place without a name" if fields["base"] == OWN_BASE else fields["base"]
        steps = ", ".join(f"{fields[key]} {fields[f'{key}_way']}" for key in ("dx", "dz", "dy")
                          if fields[key] not in ("", "0"))
        return f"from {base}: {steps}" if steps else f"where {base} is"
    on = f"on {on_tube_words(named_tube(fields['tube']))}"
    if way == "by":
        return f"{on}, {fields['by']} from its start"
    if way == "height":
        return f"{on}, at the height of {fields['h']} {fields['h_way']}"
    return f"{on}, {fields['gap']} clear of the {fields['wheel']}"


def _in_hand(
    text: str, name: str, job: Job | None, typed: Mapping[str, str],
    wrong: Mapping[str, tuple[str, ...]],
) -> InHand:
    own, place = table_of(text, TABLE), None
    if job is not None:
        place = job.named_points.get(name)
    about = _about(text, job, name)
    group = _group(own[name], place, about, typed, wrong) if name in own else None
    return InHand(name, "" if place is None else place_words(place),
                  () if place is None else (place,), group,
                  tuple(dict.fromkeys(users(tables_in(text), name))), typed.get(NAME, name))


def _group(
    value: object, place: Point | None, about: Around, typed: Mapping[str, str],
    wrong: Mapping[str, tuple[str, ...]], mark: str = "",
) -> Group:
    was = fields_of(value, place, about)
    stands = {key: typed.get(f"{mark}{key}", words) for key, words in was.items()}
    return Group(stands, was, choices(about, stands),
                 {key: wrong.get(f"{mark}{key}", ()) for key in (*FIELDS, NAME)})


def _about(text: str, job: Job | None, name: str = "") -> Around:
    return Around() if job is None else around(job, tables_in(text), name)


def _where(places: Mapping[str, Point], name: str) -> str:
    return place_words(places[name]) if name in places else ""


def _beside(
    faults: Sequence[CoperError], name: str, new_name: str | None
) -> dict[str, tuple[str, ...]]:
    """The faults as sentences, by the field that each is about.

    They are about the fields of the point in hand, or of a new one where that was to be added.
    """
    mark = "" if new_name is None else NEW
    point = f"{TABLE}.{dotted(name if new_name is None else ' '.join(new_name.split()))}"
    found: dict[str, list[str]] = {}
    for fault in faults:
        place, where = "", fault.where
        if where in (*FIELDS, NAME):
            place = f"{mark}{where}"
        elif where == TITLE:
            place = TITLE
        elif key := AT_KEY.get(where.removeprefix(point)):
            place = f"{mark}{key}"
        words = str(CoperError(fault.fault, fault.cure)) if place else str(fault)
        found.setdefault(place, []).append(words)
    return {place: tuple(words) for place, words in found.items()}
