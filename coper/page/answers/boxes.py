"""Fields of a form as values: what stands in each, what the file has, and why that is not it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from coper.errors import CoperError
from coper.page.answers.change import Change

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
    """

    name: str
    label: str
    typed: str
    was: str
    how: str = ""
    wrong: tuple[str, ...] = ()
    choices: Choices = ()
    tick: bool = False


@dataclass(frozen=True, slots=True)
class Filled:
    """What stands in the fields of a form, and what is wrong with each."""

    typed: Mapping[str, str]
    why: Mapping[str, Sequence[CoperError]]

    def box(
        self, name: str, label: str, was: str = "", how: str = "", choices: Choices = (),
        tick: bool = False,
    ) -> Box:
        """A field of the form."""
        wrong = tuple(str(fault) for fault in self.why.get(name, ()))
        return Box(name, label, self.typed.get(name, was), was, how, wrong, choices, tick)


def filled(change: Change | None) -> Filled:
    """What a change left in its fields; nothing where there was none."""
    return Filled({}, {}) if change is None else Filled(change.typed, change.why)
