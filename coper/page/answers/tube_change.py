"""A tube's fields, written as far as the job still loads and its tubes can still be made."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from functools import partial
from typing import Final

from coper.errors import CoperError
from coper.frame.tube import ENDS, Which
from coper.job.edit import Edit, edited
from coper.job.end_change import end_changed, end_of
from coper.job.toml_value import TomlValue
from coper.job.turning import TURN_KEYS
from coper.page.answers.change import Change, Make, attempted, tables_in
from coper.page.answers.fields import with_point
from coper.page.answers.typed import direction, length, lengths, needed_point, point
from coper.shapes.kinds import kind_named, kind_words

SIZE: Final = "size."
"""What the name of a field of a number of the shape begins with; its keyword follows."""

ON: Final = "on."
"""The same of a tick, in an end's name: the tube that it seats on follows."""

CORNER: Final = "corner."
"""The same of a corner; its number follows, from 0."""


@dataclass(frozen=True, slots=True)
class Task:
    """What the fields ``names`` together change."""

    names: tuple[str, ...]
    make: Make


def changed_tube(
    text: str, tube: str, typed: Mapping[str, str], form: Mapping[str, str]
) -> Change:
    """The text with what was typed of a tube, as far as the job can be made with it.

    Parameters
    ----------
    text
        All of the file.
    tube
        Its name.
    typed
        What stands in the fields that are not as the file has them.
    form
        What stands in all of them.
    """
    tasks = tuple(_tasks(tube, typed, form))
    made, _ = attempted(text, [task.make for task in tasks])
    if made is not None:
        return Change(made, {})
    why: dict[str, tuple[CoperError, ...]] = {}
    for task in tasks:
        made, faults = attempted(text, [task.make])
        if made is None:
            why |= dict.fromkeys(task.names, faults)
        else:
            text = made
    every = {str(fault): fault for faults in why.values() for fault in faults}
    return Change(text, {name: typed[name] for name in why if name in typed},
                  tuple(every.values()), why)


def _tasks(tube: str, typed: Mapping[str, str], form: Mapping[str, str]) -> Iterator[Task]:
    left = dict(typed)

    def own(key: str, value: Callable[[str], TomlValue | None]) -> Iterator[Task]:
        if key in left:
            yield Task((key,), partial(_set, tube, key, left.pop(key), value))

    sizes = tuple(name for name in left if name.startswith(SIZE))
    if sizes:
        yield Task(sizes, partial(_sized, tube, dict(form)))
    yield from own("shape", _text)
    yield from own("shape_from", length)
    yield from own("mirror", _tick)
    yield from own("existing", _tick)
    yield from _course(tube, left, form)
    for which in ENDS:
        yield from _end_tasks(tube, which, left, form)
    for key in TURN_KEYS:
        if key in left:
            yield Task((key,), partial(_turned, tube, key, left.pop(key)))


def _text(typed: str) -> TomlValue | None:
    return " ".join(typed.split()) or None


def _tick(typed: str) -> TomlValue | None:
    return True if typed else None


def _set(
    tube: str, key: str, typed: str, value: Callable[[str], TomlValue | None], text: str
) -> str:
    return edited(text, ("tubes", tube), [Edit(key, value(typed))])


def _sized(tube: str, form: Mapping[str, str], text: str) -> str:
    return edited(text, ("tubes", tube), [Edit("shape", shape_words(form))])


def shape_words(form: Mapping[str, str]) -> str:
    """The shape of a form: that of the numbers of its kind.

    Raises
    ------
    WordsError
        Where one is missing.
    """
    kind = kind_named(form.get("kind", ""))
    return kind_words(kind, {
        part.key: with_point(" ".join(form.get(f"{SIZE}{part.key}", "").split()))
        for part in kind.parts})


def _turned(tube: str, key: str, typed: str, text: str) -> str:
    """Which way it lies, said in one way."""
    read = {"through": point, "bulge": direction}.get(key, length)
    return edited(text, ("tubes", tube), [
        Edit(key, read(typed)), *(Edit(other, None) for other in TURN_KEYS if other != key)])


def _course(tube: str, left: dict[str, str], form: Mapping[str, str]) -> Iterator[Task]:
    """Corners and their radii: they are said together."""
    names = tuple(name for name in left if name.startswith(CORNER) or name == "bend")
    if not names:
        return
    corners = [found for name, words in form.items() if name.startswith(CORNER)
               if (found := point(words)) is not None]
    bend = lengths(form.get("bend", ""))
    yield Task(names, lambda text: edited(text, ("tubes", tube), [
        Edit("corners", corners or None, "start"), Edit("bend", bend, "corners")]))


def _end_tasks(
    tube: str, which: Which, left: dict[str, str], form: Mapping[str, str]
) -> Iterator[Task]:
    """What the fields of an end change; a field's name is the end's, a point, and the key."""
    own = {name: left[name] for name in left if name.startswith(f"{which}.")}
    names = tuple(name for name in own if name.startswith(f"{which}.{ON}"))
    pick, at = f"{which}.pick", f"{which}.at"
    if at in own or own.get(pick):
        yield Task((pick if own.get(pick) else at,), partial(
            _moved, tube, which, own.get(pick) or own.get(at, "")))
    if names:
        yield Task(names, partial(_seated, tube, which, own))
    for key, read in (("mitre", _text), ("twin", _tick), ("face", direction), ("back", _back),
                      ("cut", _cut), ("cap", length)):
        if (name := f"{which}.{key}") in own:
            yield Task((name,), partial(_end, tube, which, key, read(own[name])))


def _end(tube: str, which: Which, key: str, value: TomlValue | None, text: str) -> str:
    return end_changed(text, tube, which, key, value)


def _moved(tube: str, which: Which, typed: str, text: str) -> str:
    return end_changed(text, tube, which, "at", needed_point(typed))


def _back(typed: str) -> TomlValue | None:
    return length(typed) or None


def _cut(typed: str) -> TomlValue | None:
    return typed if typed == "square" else None


def _seated(tube: str, which: Which, ticks: Mapping[str, str], text: str) -> str:
    """The end on those that are ticked besides, in their order."""
    on = end_of(text, tube, which).get("on")
    names = [str(one) for one in on] if isinstance(on, list) else []
    for name, ticked in ticks.items():
        main = name.removeprefix(f"{which}.{ON}")
        if main == name:
            continue
        if ticked and main not in names:
            names.append(main)
        elif not ticked and main in names:
            names.remove(main)
    return end_changed(text, tube, which, "on", list(names) or None)


def tube_table(text: str, tube: str) -> Mapping[str, object]:
    """What a job says of a tube, as it is written; empty where it has none of that name."""
    tubes = tables_in(text).get("tubes")
    found = tubes.get(tube) if isinstance(tubes, dict) else None
    return found if isinstance(found, dict) else {}
