"""Jobs to begin with, each complete; the bicycle in mm has every key explained."""

from __future__ import annotations

from pathlib import Path
from typing import Literal

Kind = Literal["bicycle", "rear-end", "trailer", "rack"]
Unit = Literal["mm", "in"]

KINDS: tuple[Kind, ...] = ("bicycle", "rear-end", "trailer", "rack")
STARTER_UNITS: tuple[Unit, ...] = ("mm", "in")


def starter_job(kind: Kind = "bicycle", unit: Unit = "mm") -> str:
    """The text of the job file; its bare numbers are in ``unit``."""
    file = Path(__file__).parent / "starters" / f"{kind}-{unit}.toml"
    return file.read_text(encoding="utf-8")
