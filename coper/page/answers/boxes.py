"""Fields of a form as values: what stands in each, what the file has, and why that is not it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from coper.errors import CoperError
from coper.job.faults import dotted
from coper.page.answers.change import Change

OTHERWISE: Final = {"size": "shape", "corner": "corners"}
"""Keys of a tube by what their fields' names begin with, where that is another word."""

NOT_WRITTEN: Final = "not written: see above what else would have to be different"
"""Of a field whose fault is in no field."""

TICKED: Final = "yes"
"""What a field holds that is ticked."""

Choices = tuple[tuple[str, str], ...]
"""What may be chosen: each value, and its words."""


@dataclass(frozen=True, slots=True)
class Box:
    """A field.

    Attributes
    ----------
    name, label : str
    typed : str
        What stands in it.
    was : str
        What the file has.
    how : str
        How it is measured or written.
    wrong : tuple of str
        Why what stands in it is not written.
    choices : Choices
        What may be chosen, where nothing can be typed.
    tick : bool
        Whether it is ticked or not.
    said : str
        Its value in mm and inches; empty where it has none that could be used.
    asked : tuple of str
        What is asked about its number.
    """

    name: str
    label: str
    typed: str
    was: str
    how: str = ""
    wrong: tuple[str, ...] = ()
    choices: Choices = ()
    tick: bool = False
    said: str = ""
    asked: tuple[str, ...] = ()

    @property
    def kept(self) -> bool:
        """Whether the file has what stands in it."""
        return self.typed == self.was


@dataclass(frozen=True, slots=True)
class Filled:
    """What stands in the fields of a form, and what is wrong with each.

    ``place`` is what all of them are about, which is not said beside each.
    """

    typed: Mapping[str, str]
    why: Mapping[str, Sequence[CoperError]]
    place: str = ""

    def box(
        self, name: str, label: str, was: str = "", how: str = "", choices: Choices = (),
        tick: bool = False,
    ) -> Box:
        """A field of the form."""
        wrong = tuple(self._words(name, fault) for fault in self.why.get(name, ()))
        return Box(name, label, self.typed.get(name, was), was, how, wrong, choices, tick)

    def tick(self, name: str, label: str, holds: object) -> Box:
        """A field that is ticked or not; ``holds`` is what the file has, ``True`` for a tick."""
        return self.box(name, label, TICKED if holds is True else "", tick=True)

    def _words(self, name: str, fault: CoperError) -> str:
        """A fault; without its place where that is what it stands beside."""
        rest = fault.where.removeprefix(self.place)
        keys = "" if rest == fault.where else rest.lstrip(".").partition(".")[0].partition("[")[0]
        field = name.partition(".")[0]
        own = rest != fault.where and keys in ("", field, OTHERWISE.get(field))
        return str(CoperError(fault.fault, fault.cure) if own else fault)


def filled(change: Change | None, tube: str = "") -> Filled:
    """What a change left in the fields of a tube; nothing where there was none."""
    place = f"tubes.{dotted(tube)}"
    return Filled({}, {}) if change is None else Filled(change.typed, change.why, place)
