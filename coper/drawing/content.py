"""A page's marks as the operators of a PDF page (ISO 32000-1, 8 and 9), in points, y up.

Words are set by the numbers of their glyphs, each line of them laid out once for the whole file.
All is black, which is what a page begins with.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Final

import numpy as np

from coper.arrays import Floats
from coper.drawing.bounds import leaves, text_start
from coper.drawing.hatch import hatch_strokes
from coper.drawing.letters import CAP_EM, drawable
from coper.drawing.marks import Hatch, Mark, Path, Pen, Text
from coper.units import INCH_MM

POINT: Final = 72 / INCH_MM
"""PDF points to a mm (ISO 32000-1, 8.3.2.3)."""
_LINE_DECIMALS: Final = 3
"""Decimals of a line's points: off by 0.0002 mm at most; more only make the file larger."""
_DECIMALS: Final = 4
"""Decimals of all else that is a length, in points; there is little of it."""
_ROUND_JOINS: Final = "1 j"
_STROKED, _FILLED = "S", "B"


@dataclass(slots=True)
class Lettering:
    """The letters that a file uses, numbered as they come, of the plain and of the bold face.

    Attributes
    ----------
    used : (dict, dict)
        The number of each character, from 1, by whether the face is bold.
    lines : dict
        What is written of words that were set before.
    """

    used: tuple[dict[str, int], dict[str, int]] = field(default_factory=lambda: ({}, {}))
    lines: dict[tuple[str, bool], str] = field(default_factory=dict)

    def numbers(self, words: str, bold: bool) -> str:
        """The numbers of a line's letters, two bytes each, in hexadecimal."""
        known = self.lines.get((words, bold))
        if known is None:
            used = self.used[bold]
            known = "".join(f"{used.setdefault(one, len(used) + 1):04x}" for one in drawable(words))
            self.lines[words, bold] = known
        return known


def face_name(bold: bool) -> str:
    """What a face is called in the file."""
    return "F2" if bold else "F1"


def page_content(marks: tuple[Mark, ...], lettering: Lettering) -> bytes:
    """The operators that draw marks in their order."""
    return "\n".join(_operators(marks, lettering)).encode("ascii")


def _operators(marks: tuple[Mark, ...], lettering: Lettering) -> Iterator[str]:
    yield _ROUND_JOINS
    pen: Pen | None = None
    for mark in leaves(marks):
        if isinstance(mark, Text):
            if mark.words:
                yield _words(mark, lettering)
            continue
        lines = _path(mark) if isinstance(mark, Path) else _hatch(mark)
        if mark.pen != pen:
            pen = mark.pen
            yield _pen(pen)
        yield lines


def _words(mark: Text, lettering: Lettering) -> str:
    """One line of words, from the start of its baseline."""
    turn = np.radians(mark.turn)
    cos, sin = _written(np.cos(turn), 6), _written(np.sin(turn), 6)
    x, y = (_written(place * POINT, _DECIMALS) for place in text_start(mark))
    size = _written(mark.height / CAP_EM * POINT, _DECIMALS)
    back = sin[1:] if sin.startswith("-") else f"-{sin}"
    return (f"BT /{face_name(mark.bold)} {size} Tf {cos} {sin} {back} {cos} {x} {y} Tm "
            f"<{lettering.numbers(mark.words, mark.bold)}> Tj ET")


def _pen(pen: Pen) -> str:
    """The width and the dashes of the lines that follow."""
    dash = " ".join(_written(length * POINT, _DECIMALS) for length in pen.dash)
    return f"{_written(pen.width * POINT, _DECIMALS)} w [{dash}] 0 d"


def _path(mark: Path) -> str:
    """A path, all its points kept."""
    end = " h " if mark.closed else " "
    return f"{_lines(mark.points, len(mark.points))}{end}{_FILLED if mark.fill else _STROKED}"


def _hatch(mark: Hatch) -> str:
    """All strokes of a hatch as one path; an empty one for none."""
    strokes = hatch_strokes(mark)
    return f"{_lines(strokes.reshape(-1, 2), 2)} {_STROKED}" if len(strokes) else "n"


def _lines(points: Floats, run: int) -> str:
    """Points (n, 2), mm, ``run`` of them to a line."""
    form = " ".join(("%.10g %.10g m", *("%.10g %.10g l",) * (run - 1)))
    flat = (np.round(points * POINT, _LINE_DECIMALS) + 0.0).ravel().tolist()
    return " ".join((form,) * (len(points) // run)) % tuple(flat)


def _written(value: float, decimals: int) -> str:
    """A number as short as it can be, never -0 and never in powers of ten."""
    return f"{round(float(value), decimals) + 0.0:.10g}"
