"""A change to a job file's text: keys of one table set, added and taken out.

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
from coper.job.statements import Statement, past_blanks, statements
from coper.job.toml import read_toml
from coper.job.toml_value import TomlValue, toml_text


@dataclass(frozen=True, slots=True)
class Edit:
    """One key of a table: its new value, or ``None`` where it is taken out.

    A key that is not there yet stands behind ``after``, or last.
    """

    key: str
    value: TomlValue | None
    after: str = ""


def with_edits(table: TomlTable, name: str, edits: Iterable[Edit]) -> TomlTable:
    """What is read from a file, with the table ``name`` edited."""
    inner = table.get(name)
    values: TomlTable = dict(inner) if isinstance(inner, dict) else {}
    for edit in edits:
        values.pop(edit.key, None)
        if edit.value is not None:
            values[edit.key] = edit.value
    return {**table, name: values}


def edited(text: str, name: str, edits: Iterable[Edit]) -> str:
    """The text of a file with the table ``name`` edited.

    Raises
    ------
    CoperError
        At ``name``, where it is written in a way that cannot be edited.
    """
    changes = tuple(edits)
    wanted = with_edits(read_toml(text), name, changes)
    for edit in changes:
        text = _one(text, name, edit)
    try:
        same = read_toml(text) == wanted
    except CoperError:
        same = False
    if not same:
        raise CoperError("it is written in a way that coper cannot change",
                         f"write [{name}] with a line for each of its keys", name)
    return text


def _one(text: str, name: str, edit: Edit) -> str:
    """The text with one edit; a key in parts, as ``rear_wheel.tyre``, is taken out part by part."""
    while own := [one for one in statements(text) if one.path[:2] == (name, edit.key)]:
        if own[0].path == (name, edit.key) and not own[0].is_heading and edit.value is not None:
            return _replaced(text, own[0], toml_text(edit.value))
        text = _without(text, own[-1])  # a heading goes after what stands under it
    return text if edit.value is None else _added(text, name, edit, toml_text(edit.value))


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
    first = _line_start(text, old.start)
    lines = text[first:old.end].splitlines(keepends=True)
    return f"{text[:first]}{''.join(f'# {line}' for line in lines)}{text[old.end:]}"


def _cut(text: str, old: Statement) -> str:
    """The statement taken out with the comma after it, or of the last one with that before it."""
    end = past_blanks(text, old.end)
    if text[end] == ",":
        return text[:old.start] + text[past_blanks(text, end + 1):]
    before = text[:old.start].rstrip()
    return (before.removesuffix(",") if before.endswith(",") else text[:old.start]) + text[old.end:]


def _added(text: str, name: str, edit: Edit, value: str) -> str:
    """A key that was not there: behind another, or last in its table."""
    key = dotted(edit.key)
    beside = list(_beside(text, name))
    if not beside:
        return text
    anchor = next((one for one in reversed(beside) if one.path[1:2] == (edit.after,)), beside[-1])
    if anchor.inline:
        return f"{text[:anchor.end]}, {key} = {value}{text[anchor.end:]}"
    if anchor.path == (name,) and not anchor.is_heading:  # a table in { } with nothing in it
        return f"{text[:anchor.value]}{{ {key} = {value} }}{text[anchor.end:]}"
    start = _line_start(text, anchor.start)
    prefix = text[start:anchor.start] + ("" if anchor.heading else f"{dotted(name)}.")
    end = text.find("\n", anchor.end) + 1 or len(text)
    line = f"{prefix}{key} = {value}"
    if text[end - 1] != "\n":  # the last line of a file, which has no end
        return f"{text}{_line_end(text, 0)}{line}"
    return f"{text[:end]}{line}{_line_end(text, anchor.end)}{text[end:]}"


def _beside(text: str, name: str) -> Iterator[Statement]:
    """What a new key of the table may stand behind."""
    for one in statements(text):
        if one.path == (name,) or (one.path[:1] == (name,) and not one.is_heading
                                   and one.heading in ((), (name,))):
            yield one


def _line_start(text: str, at: int) -> int:
    return text.rfind("\n", 0, at) + 1


def _line_end(text: str, at: int) -> str:
    """What ends the line that ``at`` is in, as its editor wrote it."""
    end = text.find("\n", at)
    return "\r\n" if text[end - 1:end] == "\r" else "\n"
