"""Keys of a job's tables as fields: what stands in them, and what is written when they change."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field

from coper.errors import CoperError
from coper.job.edit import Edit
from coper.job.toml_value import TomlValue
from coper.page.answers.boxes import NOT_WRITTEN, Box
from coper.page.answers.change import Change, Check, as_far, key_of, table_of
from coper.page.answers.fields import scalar, shown_value, typed_value, with_point


def one(typed: str) -> TomlValue:
    """A number, or a text for the grammar to read."""
    return typed_value("", typed)


def several(typed: str) -> TomlValue:
    """A list, its values with commas or semicolons between."""
    inner = typed.strip("[] ")
    return [scalar(with_point(part.strip()) if ";" in inner else part)
            for part in inner.split(";" if ";" in inner else ",") if part.strip()]


@dataclass(frozen=True, slots=True)
class Parts:
    """A value of several parts, each after its name: ``back 170 out 88``.

    Braces and ``=``, as the job file has them, may stand there too.
    """

    names: tuple[str, ...]

    def __call__(self, typed: str) -> TomlValue:
        """What is written; words without a name are left for the job's reader to refuse."""
        found = re.split(rf"(?<![\w-])({'|'.join(self.names)})(?![\w-])", typed)
        before, pairs = found[0], found[1:]
        if before.strip(" {") or not pairs:
            return typed.strip()
        return {name: _part(words)
                for name, words in zip(pairs[::2], pairs[1::2], strict=True)}


def _part(words: str) -> TomlValue:
    """A list where commas stand in it, else one value."""
    bare = words.strip(" ={},\"'")
    return several(bare) if "," in bare else one(bare)


@dataclass(frozen=True, slots=True)
class Setting:
    """A key of a table as a field.

    Attributes
    ----------
    table, key, name, how : str
        Its name on the page, and how it is measured.
    written
        Makes the value that is written of what was typed.
    usual : str
        What holds where the file has nothing, and is shown then.
    """

    table: str
    key: str
    name: str
    how: str
    written: Callable[[str], TomlValue] = field(default=one, compare=False)
    usual: str = ""

    @property
    def field(self) -> str:
        """The name of its field, which no other on the page has."""
        return f"{self.table}-{self.key}"

    def stands(self, text: str) -> str:
        """What a text has of it, as it stands in the field."""
        return shown_value(table_of(text, self.table).get(self.key)) or self.usual


def names(settings: Sequence[Setting]) -> tuple[str, ...]:
    """The names of their fields."""
    return tuple(each.field for each in settings)


def set_to(
    text: str, typed: Mapping[str, str], settings: Sequence[Setting], check: Check | None = None
) -> Change:
    """The text with what was typed, as far as it still loads, and passes the ``check``.

    Keys of a table that need each other are tried together, then without those that are at fault,
    then one by one.
    """
    left: dict[str, str] = {}
    faults: list[CoperError] = []
    for table in dict.fromkeys(each.table for each in settings):
        edits: dict[str, Edit] = {}
        asked = {each.field: each for each in settings
                 if each.table == table and each.field in typed}
        for name, setting in asked.items():
            try:
                edits |= _wanted(text, name, setting, typed[name])
            except CoperError as error:
                left[name] = typed[name]
                faults.append(error.at(f"{table}.{setting.key}"))
        text, kept, wrong = as_far(text, table, tuple(edits.values()), check)
        left |= {name: typed[name] for name, edit in edits.items() if edit not in kept}
        faults += wrong
    return Change(text, left, tuple(faults))


def _wanted(text: str, name: str, setting: Setting, typed: str) -> dict[str, Edit]:
    """The edit that was asked for in the field ``name``; none where it stands there already."""
    words = " ".join(typed.split())
    if words == setting.stands(text):
        return {}
    if not words or words == setting.usual:
        return {name: Edit(setting.key, None)}
    return {name: Edit(setting.key, setting.written(words))}


def shown(
    text: str, settings: Sequence[Setting], change: Change | None,
    faults: Sequence[CoperError], said: Mapping[str, str],
) -> tuple[dict[str, Box], tuple[str, ...]]:
    """Every field by its name, and what is wrong with none of them.

    Parameters
    ----------
    text
        All of the file.
    settings
        Those to show.
    change
        What could not be written, if anything.
    faults
        What is wrong with the job besides.
    said
        Their values in mm and inches, by the fields' names.
    """
    typed = {} if change is None else change.typed
    every = (*faults, *(() if change is None else change.faults))
    placed = [(_field_of(fault, settings), fault) for fault in every]
    fields: dict[str, Box] = {}
    for each in settings:
        name, was = each.field, each.stands(text)
        stands = typed.get(name, was)
        wrong = tuple(_beside(fault, each) for place, fault in placed if place == name)
        if stands != was and not wrong:
            wrong = (NOT_WRITTEN,)
        fields[name] = Box(name, each.name, stands, was, each.how, tuple(dict.fromkeys(wrong)),
                           said=said.get(name, "") if stands == was else "")
    return fields, tuple(dict.fromkeys(str(fault) for place, fault in placed if not place))


def _field_of(fault: CoperError, settings: Sequence[Setting]) -> str:
    """The name of the field that a fault is about; empty where it is about none."""
    return next((each.field for each in settings
                 if key_of(fault, each.table, (each.key,))), "")


def _beside(fault: CoperError, setting: Setting) -> str:
    """The words of a fault beside its field, which part of the value it is about still in them."""
    part = fault.where.removeprefix(f"{setting.table}.{setting.key}").lstrip(".")
    return str(CoperError(fault.fault, fault.cure, part))
