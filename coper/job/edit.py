"""A change to a job file's text: keys of one table set, added and taken out.

The table may be one in { } in another, such as the start of a tube.

Every other line stays as it is, byte for byte, and so does every comment. What is taken out of a
table with a line for each key stays there as a comment: it was measured once. The result is read
again and compared, so that an edit does what it says or is refused.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from coper.errors import CoperError
from coper.job.faults import dotted
from coper.job.schema import TomlTable
from coper.job.source import BYTE_ORDER_MARK
from coper.job.statements import Path, Statement, past_blanks, statements
from coper.job.toml import read_toml
from coper.job.toml_value import TomlValue, toml_key, toml_text


@dataclass(frozen=True, slots=True)
class Edit:
    """One key of a table: its new value, or ``None`` where it is taken out.

    A key that is not there yet stands behind ``after``, or last.
    """

    key: str
    value: TomlValue | None
    after: str = ""


def with_edits(table: TomlTable, name: str | Path, edits: Iterable[Edit]) -> TomlTable:
    """What is read from a file, with the table ``name`` edited, or its top where that is empty."""
    path = path_of(name)
    if path:
        inner = table.get(path[0])
        return {**table, path[0]: with_edits(
            inner if isinstance(inner, dict) else {}, path[1:], edits)}
    values = dict(table)
    for edit in edits:
        values.pop(edit.key, None)
        if edit.value is not None:
            values[edit.key] = edit.value
    return values


def path_of(name: str | Path) -> Path:
    """The keys that lead to a table: its name, or of one in another all their names."""
    return ((name,) if name else ()) if isinstance(name, str) else name


def edited(text: str, name: str | Path, edits: Iterable[Edit]) -> str:
    """The text of a file with the table ``name`` edited, or its top where that is empty.

    A byte order mark stays where it is. At the top a key is only added behind another.

    Raises
    ------
    CoperError
        At ``name``, where it is written in a way that cannot be edited.
    """
    changes, path = tuple(edits), path_of(name)
    wanted = with_edits(tables_of(text), path, changes)
    mark, bare = apart(text)
    for edit in changes:
        bare = _one(bare, path, edit)
    return checked(mark + bare, wanted, path)


def apart(text: str) -> tuple[str, str]:
    """The byte order mark of a text, and the rest of it."""
    bare = text.removeprefix(BYTE_ORDER_MARK)
    return text[:len(text) - len(bare)], bare


def tables_of(text: str) -> TomlTable:
    """The tables of a file."""
    return read_toml(apart(text)[1])


def checked(text: str, wanted: TomlTable, path: Path) -> str:
    """The text, where ``wanted`` is what is read from it.

    Raises
    ------
    CoperError
        At ``path``, where anything else is.
    """
    try:
        same = _full(tables_of(text), path) == _full(wanted, path)
    except CoperError:
        same = False
    if same:
        return text
    name = dotted(*path)
    raise CoperError("it is written in a way that coper cannot change",
                     f"write [{name}] with a line for each of its keys", name)


def _full(table: TomlTable, path: Path) -> TomlTable:
    """What is read, without the tables on the way along ``path`` that hold nothing.

    A table that only has others in it is not there any more without them.
    """
    if not path or not isinstance(inner := table.get(path[0]), dict):
        return table
    left = _full(inner, path[1:])
    return {key: left if key == path[0] else value for key, value in table.items()
            if left or key != path[0]}


def _one(text: str, path: Path, edit: Edit) -> str:
    """The text with one edit; a key in parts, as ``rear_wheel.tyre``, is taken out part by part."""
    whole = (*path, edit.key)
    while own := [one for one in statements(text) if one.path[:len(whole)] == whole]:
        if own[0].path == whole and not own[0].is_heading:
            if edit.value is not None:
                return _replaced(text, own[0], toml_text(edit.value))
            text = _without(text, own[0])  # all at once: the comment has what was in its braces
        else:  # a heading goes after what stands under it, each line of that whole
            text = _without(text, next((one for one in reversed(own) if not one.inline), own[-1]))
    return text if edit.value is None else _added(text, path, edit, toml_text(edit.value))


def _replaced(text: str, old: Statement, value: str) -> str:
    """Another value; a comment after it stays in its column where there is room."""
    rest = past_blanks(text, old.end)
    blanks = text[old.end:rest]
    if text[rest:rest + 1] == "#" and "\t" not in blanks:
        blanks = " " * max(len(blanks) + old.end - old.value - len(value), 1)
    return f"{text[:old.value]}{value}{blanks}{text[rest:]}"


def _without(text: str, old: Statement) -> str:
    """The statement as a comment, or cut out of its table in { }."""
    if old.inline:
        return _cut(text, old)
    first = line_start(text, old.start)
    lines = text[first:old.end].splitlines(keepends=True)
    return f"{text[:first]}{''.join(f'# {line}' for line in lines)}{text[old.end:]}"


def _cut(text: str, old: Statement) -> str:
    """The statement taken out with the comma after it, or of the last one with that before it."""
    end = past_blanks(text, old.end)
    if text[end] == ",":
        return text[:old.start] + text[past_blanks(text, end + 1):]
    before = text[:old.start].rstrip()
    return (before.removesuffix(",") if before.endswith(",") else text[:old.start]) + text[old.end:]


def _added(text: str, path: Path, edit: Edit, value: str) -> str:
    """A key that was not there: behind another, or last in its table."""
    beside = list(_beside(text, path))
    if not beside:
        return text
    own = len(path)
    anchor = next((one for one in reversed(beside) if one.path[own:own + 1] == (edit.after,)),
                  beside[-1])
    if anchor.path == path and not anchor.is_heading:  # a table in { } with nothing in it
        return f"{text[:anchor.value]}{{ {toml_key(edit.key)} = {value} }}{text[anchor.end:]}"
    key = toml_key(*path[len(anchor.heading):], edit.key)
    if anchor.inline:
        return f"{text[:anchor.end]}, {key} = {value}{text[anchor.end:]}"
    start = line_start(text, anchor.start)
    end = text.find("\n", anchor.end) + 1 or len(text)
    line = f"{text[start:anchor.start]}{key} = {value}"
    if text[end - 1] != "\n":  # the last line of a file, which has no end
        return f"{text}{line_end(text, 0)}{line}"
    return f"{text[:end]}{line}{line_end(text, anchor.end)}{text[end:]}"


def _beside(text: str, path: Path) -> Iterator[Statement]:
    """What a new key of the table may stand behind."""
    for one in statements(text):
        if one.path == path or (one.path[:len(path)] == path and not one.is_heading
                                and one.heading == path[:len(one.heading)]):
            yield one


def line_start(text: str, at: int) -> int:
    """Where the line that ``at`` is in begins."""
    return text.rfind("\n", 0, at) + 1


def line_end(text: str, at: int) -> str:
    """What ends the line that ``at`` is in, as its editor wrote it."""
    end = text.find("\n", at)
    return "\r\n" if text[end - 1:end] == "\r" else "\n"
