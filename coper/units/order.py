"""The unit of the order that is being worked on: that of bare numbers, and of what is said first.

An order is a job file with its ``units``, or a command with ``--units``. Whoever takes it on says
so once, with :func:`lengths_in`; every length that is then written, on paper, on the terminal and
in a message, is written in inches first where that unit is the inch or the foot. It is held as
:mod:`decimal` holds its precision: for the work within the ``with``, in this thread only. Numbers
of the geometry and of records are in mm always.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from typing import Final

from coper.units.names import INCH_MM, INCHES

_UNIT: Final = ContextVar("unit of the order", default="mm")


@contextmanager
def lengths_in(unit: str) -> Iterator[None]:
    """Work on an order whose bare numbers are in ``unit``, one of ``UNITS``."""
    token = _UNIT.set(unit)
    try:
        yield
    finally:
        _UNIT.reset(token)


def order_unit() -> str:
    """The unit of bare numbers."""
    return _UNIT.get()


def in_inches() -> bool:
    """Whether lengths are written in inches first."""
    return _UNIT.get() in INCHES


def first_unit() -> str:
    """The unit that lengths are written in first: ``mm`` or ``in``."""
    return "in" if in_inches() else "mm"


def in_first_unit(mm: float) -> float:
    """A length in mm as a number of the unit that is written first."""
    return mm / INCH_MM if in_inches() else mm
