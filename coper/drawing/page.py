"""One page, as the writers take it."""

from __future__ import annotations

from dataclasses import dataclass

from coper.drawing.marks import Mark


@dataclass(frozen=True, slots=True)
class Page:
    """One page, complete.

    Attributes
    ----------
    letter : str
        A, B, …, Z, AA, …
    width, height : float, mm
        Size of the paper.
    marks : tuple of Mark
        All that is on it, from the paper's lower left corner.
    opens : tuple of str
        The titles of the sheets that begin on it, as a file lists them.
    """

    letter: str
    width: float
    height: float
    marks: tuple[Mark, ...]
    opens: tuple[str, ...] = ()
