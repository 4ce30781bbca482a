"""A table that a job file has not yet, written where its like stand."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from coper.errors import CoperError
from coper.job.edit import Edit, apart, checked, edited, line_end, tables_of, with_edits
from coper.job.faults import dotted
from coper.job.schema import TomlTable
from coper.job.statements import Path, Statement, statements
from coper.job.toml_value import TomlValue, toml_key, toml_text


def with_tube(text: str, name: str, keys: Mapping[str, TomlValue]) -> str:
    """The text of a job with one more tube, behind the others.

    Raises
    ------
    CoperError
        Where there is one of that name, or the file is written in a way that cannot be changed.
    """
    table = tables_of(text)
    if name in _inner(table, "tubes"):
        raise CoperError("there is a tube of that name", "choose another name",
                         f"tubes.{dotted(name)}")
    if any(one.path == ("tubes",) and not one.is_heading for one in statements(apart(text)[1])):
        return edited(text, "tubes", [Edit(name, dict(keys))])
    wanted = with_edits(table, "tubes", [Edit(name, dict(keys))])
    mark, bare = apart(text)
    last = next((one for one in reversed(tuple(statements(bare)))
                 if one.heading[:1] == ("tubes",)), None)
    at = len(bare) if last is None else _behind(bare, last)
    return checked(mark + _written(bare, ("tubes", name), keys, at), wanted, ("tubes", name))


def with_no_tube(text: str) -> str:
    """The text of a job that has no tube, with the heading that says that it will have some.

    Raises
    ------
    CoperError
        Where the file is written in a way that cannot be changed.
    """
    mark, bare = apart(text)
    made = _written(bare, ("tubes",), {}, len(bare))
    return checked(mark + made, {**tables_of(text), "tubes": {}}, ("tubes",))


def with_point(text: str, name: str, value: TomlValue) -> str:
    """The text of a job with one more point, or another value of one that it has.

    Raises
    ------
    CoperError
        Where the file is written in a way that cannot be changed.
    """
    table = tables_of(text)
    if "points" in table:
        return edited(text, "points", [Edit(name, value)])
    mark, bare = apart(text)
    made = _written(bare, ("points",), {name: value}, _before(bare, ("tubes",)))
    return checked(mark + made, {**table, "points": {name: value}}, ("points",))


def with_table(text: str, name: str) -> str:
    """The text of a job with a table of that name, before points and tubes where it is new.

    Raises
    ------
    CoperError
        Where the file is written in a way that cannot be changed.
    """
    table = tables_of(text)
    if name in table:
        return text
    mark, bare = apart(text)
    made = _written(bare, (name,), {}, _before(bare, ("points", "tubes")))
    return checked(mark + made, {**table, name: {}}, (name,))


def _inner(table: TomlTable, key: str) -> TomlTable:
    inner = table.get(key)
    return inner if isinstance(inner, dict) else {}


def _before(text: str, names: Sequence[str]) -> int:
    """Where the line after all that stands before tables of those names begins."""
    at = 0
    for one in statements(text):
        if one.path[0] in names:
            return at
        at = _behind(text, one)
    return len(text)


def _behind(text: str, one: Statement) -> int:
    """Where the line after a statement begins."""
    return text.find("\n", one.end) + 1 or len(text)


def _written(text: str, path: Path, keys: Mapping[str, TomlValue], at: int) -> str:
    """The text with a table under its heading, its lines before the one that begins there."""
    mark = line_end(text, 0)
    before, after = text[:at], text[at:]
    if before and not before.endswith("\n"):
        before += mark
    lines = [f"[{toml_key(*path)}]", *(f"{toml_key(key)} = {toml_text(value)}"
                                       for key, value in keys.items())]
    above = mark if before.strip() else ""
    below = mark if after and after[:len(mark)] != mark else ""
    return f"{before}{above}{mark.join(lines)}{mark}{below}{after}"
