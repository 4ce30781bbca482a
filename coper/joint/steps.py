"""Who hears of the steps of a long work."""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeAlias

Progress: TypeAlias = Callable[[str], None]
"""Called with each step of a long work as it begins."""


def silent(step: str) -> None:
    """Hear of a step and say nothing."""
