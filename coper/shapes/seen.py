"""A branch seen from elsewhere: what stays its own."""

from __future__ import annotations

from dataclasses import dataclass

from coper.shapes.shape import BranchShape


@dataclass(frozen=True, slots=True)
class Seen:
    """A branch whose places are counted from elsewhere.

    Attributes
    ----------
    shape : BranchShape
        The tube itself.
    """

    shape: BranchShape

    @property
    def kind(self) -> str:
        """The tube's own."""
        return self.shape.kind

    @property
    def wall(self) -> float | None:
        """The tube's own, mm."""
        return self.shape.wall

    @property
    def straight(self) -> bool:
        """Whether the tube's generators are straight inside the wall."""
        return self.shape.straight

    def words(self) -> str:
        """The tube in the grammar of the command line, in mm."""
        return self.shape.words()
