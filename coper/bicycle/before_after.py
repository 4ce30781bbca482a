"""A bicycle beside itself with a change."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import asdict, dataclass

from coper.arrays import OneLine, Point
from coper.bicycle.bicycle import Bicycle
from coper.bicycle.change import Change, changed
from coper.bicycle.measures import Measures, measure
from coper.frame.tube import Tube

MOVED_MM = 1e-6
"""A point that moved by less stays: the accuracy that coper promises."""


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Measured(OneLine):
    """A bicycle and what it measures as it stands."""

    bicycle: Bicycle
    measures: Measures


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class BeforeAfter(OneLine):
    """A bicycle as it is, and with a change.

    Attributes
    ----------
    before, after : Measured
    change : Change
        What becomes different.
    """

    before: Measured
    change: Change
    after: Measured

    @property
    def differences(self) -> dict[str, float | None]:
        """What was added to each measure; ``None`` where one of the two is not known."""
        old, new = asdict(self.before.measures), asdict(self.after.measures)
        return {name: None if old[name] is None or new[name] is None else new[name] - old[name]
                for name in old}

    @property
    def moved(self) -> dict[str, Point]:
        """The points that stand elsewhere than before, as they are after, mm."""
        old = self.before.bicycle.points
        return {name: point for name, point in self.after.bicycle.points.items()
                if any(abs(one - other) > MOVED_MM
                       for one, other in zip(point, old[name], strict=True))}


def measured(bicycle: Bicycle, tubes: Sequence[Tube]) -> Measured:
    """The bicycle measured; ``tubes`` are those of its frame."""
    return Measured(bicycle, measure(bicycle, tubes))


def before_after(before: Measured, change: Change, tubes: Sequence[Tube]) -> BeforeAfter:
    """The bicycle beside itself with ``change``.

    Raises
    ------
    ShapeError
        Where the change cannot be made; ``where`` is its name.
    """
    return BeforeAfter(before, change, measured(changed(before.bicycle, change), tubes))
