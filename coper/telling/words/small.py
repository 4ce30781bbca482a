"""A tube so small that its numbers were probably meant in inches."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from coper.joint.joint import Joint
from coper.shapes.shape import BranchShape, MainShape
from coper.telling.sizes import sizes_of
from coper.units import format_mm, in_inches, plain

LEAST_MM = 4.0
"""Nothing thinner is coped; a tube whose inches were taken for mm is, up to one of 4 in."""

_ACROSS = ("diameter", "first", "second", "major", "minor", "start", "end")
"""The sizes of a shape that go across it; a plate has none, only its thickness."""


def joint_question(joint: Joint) -> tuple[str, ...]:
    """Whether the tubes of a joint whose order is not in inches were meant so."""
    tubes = (("branch", joint.branch), ("main", joint.main))
    return tuple(_questions(tubes, "give --units in"))


def job_question(tubes: Iterable[tuple[str, BranchShape | MainShape]]) -> tuple[str, ...]:
    """The same of a job's tubes, each with its name."""
    return tuple(_questions(tubes, 'give the job units = "in"'))


def _questions(
    tubes: Iterable[tuple[str, BranchShape | MainShape]], cure: str
) -> Iterator[str]:
    for name, shape in () if in_inches() else tubes:
        across = [size for key, size in sizes_of(shape).items() if key in _ACROSS and size]
        if across and max(across) < LEAST_MM:
            most = max(across)
            yield (f"The {name} is only {format_mm(most)} across: if that is inches, {cure}, or "
                   f"write in after every number, such as {plain(most)}in.")
