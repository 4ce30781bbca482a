"""A tube or a point of a job under another name, with all that names it; and taken out."""

from __future__ import annotations

from collections.abc import Iterator

from coper.bicycle.bicycle import AXIS_NEEDS, POINT_NEEDS
from coper.errors import CoperError, named_few
from coper.job.edit import Edit, apart, checked, edited, tables_of
from coper.job.faults import dotted
from coper.job.new_table import with_no_tube
from coper.job.references import Named, references
from coper.job.schema import TomlTable
from coper.job.statements import Place, Spot, key_parts, statements, texts
from coper.job.toml_value import toml_key, toml_text

WHAT = {"tubes": "tube", "points": "point"}


def renamed(text: str, named: Named, old: str, new: str) -> str:
    """The text of a job whose tube or point ``old`` is called ``new`` wherever it is named.

    Raises
    ------
    CoperError
        Where there is no such name, the new one is taken, or the file is written in a way that
        cannot be changed.
    """
    table = tables_of(text)
    _check_there(table, named, old)
    check_free(table, named, new)
    places = {one.path for one in references(table) if (one.named, one.name) == (named, old)}
    wanted = _under(_replaced(table, places, new), named, old, new)
    mark, bare = apart(text)
    for spot, words in sorted(_spots(bare, named, old, new, places),
                              key=lambda one: one[0].start, reverse=True):
        bare = f"{bare[:spot.start]}{words}{bare[spot.end:]}"
    return checked(mark + bare, wanted, (named, new))


def removed(text: str, named: Named, name: str) -> str:
    """The text of a job without a tube or a point; it stays in the file as a comment.

    Without its last tube a job is one that is begun.

    Raises
    ------
    CoperError
        Where there is no such name, or something else of the job names it.
    """
    table = tables_of(text)
    _check_there(table, named, name)
    users = tuple(users_of(table, named, name))
    if users:
        raise CoperError(f"it is needed by {', '.join(named_few(users))}",
                         "change that first", f"{named}.{dotted(name)}")
    after = edited(text, named, [Edit(name, None)])
    return after if named in tables_of(after) or named != "tubes" else with_no_tube(after)


def users_of(table: TomlTable, named: Named, name: str) -> Iterator[str]:
    """Where else in a job a tube or a point is named: ``tubes.rail.start.on``."""
    seen: set[str] = set()
    for one in references(table):
        if (one.named, one.name) == (named, name) and one.path[:2] != (named, name):
            place = dotted(*(key for key in one.path if isinstance(key, str)))
            if place not in seen:
                seen.add(place)
                yield place


def _check_there(table: TomlTable, named: Named, name: str) -> None:
    inner = table.get(named)
    if not isinstance(inner, dict) or name not in inner:
        raise CoperError(f"the job has no {WHAT[named]} {name!r}", "choose one that it has", named)


def check_free(table: TomlTable, named: Named, name: str) -> None:
    """Refuse a name that is taken: a tube and a point that are called the same are mixed up.

    Raises
    ------
    CoperError
        With what has it.
    """
    where = f"{named}.{dotted(name)}"
    for key, what in WHAT.items():
        inner = table.get(key)
        if isinstance(inner, dict) and name in inner:
            raise CoperError(f"there is a {what} of that name", "choose another name", where)
    if name in POINT_NEEDS or name in AXIS_NEEDS:
        raise CoperError("it is the name of a place of the bicycle", "choose another name", where)


def _spots(
    text: str, named: Named, old: str, new: str, places: set[Place]
) -> Iterator[tuple[Spot, str]]:
    """What has to be written anew, and how."""
    for one in statements(text):
        if one.path[:2] == (named, old):
            for part in key_parts(text, one):
                if part.path == (named, old):
                    yield part, toml_key(new)
    for spot in texts(text):
        if spot.path in places:
            yield spot, toml_text(new)


def _under(table: TomlTable, named: Named, old: str, new: str) -> TomlTable:
    """The tables with the one called ``old`` called ``new``."""
    inner = table[named]
    assert isinstance(inner, dict)
    return {**table, named: {new if key == old else key: value for key, value in inner.items()}}


def _replaced(table: TomlTable, places: set[Place], new: str) -> TomlTable:
    """The tables with another name at those places."""
    def walked(value: object, path: Place) -> object:
        if path in places:
            return new
        match value:
            case dict():
                return {key: walked(part, (*path, key)) for key, part in value.items()}
            case list():
                return [walked(part, (*path, index)) for index, part in enumerate(value)]
        return value

    return {key: walked(value, (key,)) for key, value in table.items()}
