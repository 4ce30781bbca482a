"""What every JSON object begins with."""

from __future__ import annotations

from typing import Any

from coper.version import __version__


def json_head() -> dict[str, Any]:
    """What every JSON object begins with."""
    return {"coper": __version__, "units": {"length": "mm", "angle": "deg"}}
