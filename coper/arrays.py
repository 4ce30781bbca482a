"""The array types used everywhere: one row per point, vectors in the last axis."""

from __future__ import annotations

from dataclasses import fields
from typing import TYPE_CHECKING, TypeVar, cast

import numpy as np
from numpy.typing import NDArray

if TYPE_CHECKING:
    from _typeshed import DataclassInstance

Floats = NDArray[np.float64]
Whole = NDArray[np.int64]

Number = TypeVar("Number", float, Floats)
"""One number, or an array of them."""

Point = tuple[float, float, float]
"""x, y, z in mm, where one point is a value by itself."""


class OneLine:
    """A value whose ``repr`` is one line: arrays by their shape, long parts by their kind."""

    __slots__ = ()

    def __repr__(self) -> str:
        parts = (f"{item.name}={_short(getattr(self, item.name))}"
                 for item in fields(cast("DataclassInstance", self)) if item.repr)
        return f"{type(self).__name__}({', '.join(parts)})"


_LONG = 60
"""Letters of a part that is still written out."""


def _short(value: object) -> str:
    """A part of a value on one line."""
    if isinstance(value, np.ndarray):
        if value.size <= 3:
            return str(value.tolist())
        return f"<{' x '.join(map(str, value.shape))} numbers>"
    said = repr(value)
    if len(said) <= _LONG and "\n" not in said:
        return said
    if isinstance(value, tuple | list | dict):
        return f"<{len(value)} items>"
    return f"<{type(value).__name__}>"
