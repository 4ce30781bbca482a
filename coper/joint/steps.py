"""Who hears of the steps of a long work."""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeAlias

Hearer: TypeAlias = Callable[[str], None]
"""Told each step of a long work as it begins."""


def unheard(step: str) -> None:
    """Say nothing of a step."""
