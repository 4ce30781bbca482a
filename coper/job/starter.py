"""A job to begin with: complete, and every key of it explained."""

from __future__ import annotations

from pathlib import Path


def starter_job() -> str:
    """The text of the job file."""
    return Path(__file__).with_name("starter.toml").read_text(encoding="utf-8")
