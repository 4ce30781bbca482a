"""A short code of what pages are made from: prints with another one are of something else."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import fields, is_dataclass
from hashlib import blake2b
from typing import Final

import numpy as np

from coper.drawing.bounds import leaves
from coper.drawing.marks import Hatch, Mark, Path, Text

CODE_LETTERS: Final = "23456789ABCDEFGHJKLMNPQRSTUVWXYZ"
"""No two that look alike in the hand of a printer: neither 0 and O nor 1 and I."""
CODE_LONG: Final = 6
"""Letters: two prints have the same code by chance once in 10**9."""
DECIMALS: Final = 3
"""What is rounded away of a length or an angle shows on no paper."""


def code_of(*inputs: object) -> str:
    """The code of values: dataclasses, mappings, sequences, arrays, numbers and words."""
    return _code(part for value in inputs for part in _said(value))


def code_of_marks(marks: Iterable[Mark]) -> str:
    """The code of what is drawn."""
    return _code(part for mark in leaves(marks) for part in _drawn(mark))


def _code(parts: Iterable[str]) -> str:
    digest = blake2b("\n".join(parts).encode("utf-8", "surrogatepass"))
    number, code = int.from_bytes(digest.digest()[:8]), ""
    for _ in range(CODE_LONG):
        number, place = divmod(number, len(CODE_LETTERS))
        code += CODE_LETTERS[place]
    return code


def _said(value: object) -> Iterator[str]:
    """A value in words that are the same on every run; of a mapping the order counts."""
    if is_dataclass(value):
        yield type(value).__name__
        for one in fields(value):
            yield one.name
            yield from _said(getattr(value, one.name))
    elif isinstance(value, Mapping):
        yield f"{len(value)} named"
        for key, part in value.items():
            yield str(key)
            yield from _said(part)
    elif isinstance(value, (tuple, list)):
        yield f"{len(value)} in order"
        for part in value:
            yield from _said(part)
    elif isinstance(value, np.ndarray):
        yield from _said(value.tolist())
    elif isinstance(value, float):
        yield _number(value)
    else:
        yield repr(value)


def _drawn(mark: Path | Text | Hatch) -> Iterator[str]:
    """A mark in words."""
    match mark:
        case Path():
            yield f"{mark.pen} {mark.closed} {mark.fill}"
            yield from map(_number, mark.points.ravel().tolist())
        case Text():
            yield f"{mark.words} {mark.anchor} {mark.bold}"
            yield from map(_number, (*mark.at, mark.height, mark.turn))
        case Hatch():
            yield f"{mark.pen} {_number(mark.spacing)} {_number(mark.slope)}"
            for ring in mark.outline:
                yield from map(_number, ring.ravel().tolist())


def _number(value: float) -> str:
    return f"{round(value, DECIMALS) + 0.0:.10g}"
