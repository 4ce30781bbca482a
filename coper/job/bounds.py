"""What a job file may hold before the parser sees it.

The parser makes a table, and notes about it, of every part of a dotted key: a key of 20,000 parts
took 1.5 GiB of memory. It follows lists and tables in each other by recursion.
"""

from __future__ import annotations

import re
from typing import Final

from coper.errors import CoperError
from coper.job.faults import JobError

MOST_PARTS: Final = 6
"""Parts of a dotted key; ``tubes.NAME.start.at`` has four."""

MOST_DEPTH: Final = 16
"""Lists and inline tables in each other; a point from a point from a point has three."""

_TOKEN: Final = re.compile(
    r'''"""(?:[^"\\]++|\\.|"{1,2}(?!"))*+"{3,5}'''
    r"""|'''(?:[^']++|'{1,2}(?!'))*+'{3,5}"""
    r'''|"(?:[^"\\\n]++|\\.)*+"|'[^'\n]*+'|\#[^\n]*+|["'\[\]{}.=,\n]''', re.DOTALL)
"""Texts and comments whole, as TOML 1.0 ends them, and the signs that keys and lists are made of.

A quote by itself is a text without an end."""


def check_bounds(text: str) -> None:
    """Refuse keys of too many parts, and lists or tables nested too deep; in linear time.

    Raises
    ------
    JobError
        With one fault, at its line.
    """
    depth, dots = 0, 0
    for token in _TOKEN.finditer(text):
        match sign := token[0]:
            case '"' | "'":
                return  # the parser goes no further
            case "[" | "{":
                depth += 1
            case "]" | "}":
                depth -= 1
        if sign == ".":
            dots += 1
        elif len(sign) == 1:
            dots = 0
        if dots >= MOST_PARTS:
            _refuse(text, token.start(), f"a dotted key of more than {MOST_PARTS} parts",
                    "write tables, such as [tubes.shell]")
        if depth > MOST_DEPTH:
            _refuse(text, token.start(), "lists or tables nested too deep",
                    f"nest them {MOST_DEPTH} deep at most")


def _refuse(text: str, place: int, fault: str, cure: str) -> None:
    line = text.count("\n", 0, place) + 1
    raise JobError([CoperError(fault, cure, f"line {line}")])
