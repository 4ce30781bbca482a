"""The sizes of a tube by name, for words and records alike."""

from __future__ import annotations

from dataclasses import fields
from typing import Any

from coper.shapes.shape import BranchShape, MainShape


def sizes_of(shape: BranchShape | MainShape) -> dict[str, float | None]:
    """The sizes that a shape was made from, mm, by their names."""
    made: Any = shape  # every shape is a dataclass, which no protocol can say
    return {item.name: getattr(made, item.name) for item in fields(made)}
