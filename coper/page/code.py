"""The address as a code to scan, in letters that every terminal has."""

from __future__ import annotations

from itertools import zip_longest
from typing import Final

import segno

QUIET: Final = 2
"""Light modules round the code: readers manage with half of the four of ISO/IEC 18004."""

HALVES: Final = {(True, True): " ", (True, False): "▄", (False, True): "▀", (False, False): "█"}
"""Two modules, one above the other, dark or not: light ones are drawn, for terminals are dark."""


def code_lines(address: str) -> tuple[str, ...]:
    """The code, two of its rows to a line."""
    made = segno.make(address, error="l", micro=False)
    rows = [[bool(dark) for dark in row] for row in made.matrix_iter(border=QUIET)]
    light = [False] * len(rows[0])
    return tuple("".join(HALVES[pair] for pair in zip(upper, lower, strict=True))
                 for upper, lower in zip_longest(rows[::2], rows[1::2], fillvalue=light))
