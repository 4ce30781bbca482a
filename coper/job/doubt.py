"""The doubt whether a job's numbers are in the unit that it says."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from coper.errors import CoperError

UNIT_WORDS: Final = {"mm": "mm", "in": "inches", "cm": "cm"}
"""The units that are mistaken for each other, the likeliest first."""

MOST_NAMED: Final = 3
"""Keys that are named; more are counted."""


@dataclass(frozen=True, slots=True)
class UnitsDoubt:
    """What makes the numbers look as if they were in the unit ``likely``."""

    likely: str
    seen: tuple[str, ...]

    @property
    def error(self) -> CoperError:
        """What to say where they cannot be used."""
        named, more = ", ".join(self.seen[:MOST_NAMED]), len(self.seen) - MOST_NAMED
        rest = f" and {more} more" if more > 0 else ""
        return CoperError(
            f"the numbers look like {UNIT_WORDS[self.likely]}: {named}{rest}",
            f'if they are, write units = "{self.likely}" at the top of the file', "units")

    @property
    def words(self) -> str:
        """What to ask where they can."""
        error = self.error
        return f"{error.fault[:1].upper()}{error.fault[1:]}; {error.cure}."
