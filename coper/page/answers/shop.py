"""The shop: what it saws, bends and joins with, as fields beside the ends that it cuts."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from coper.errors import CoperError
from coper.job.job import Job
from coper.joint.fit.limits import PROCESSES
from coper.page.answers.boxes import Box
from coper.page.answers.change import Change, job_in
from coper.page.answers.settings import Setting, several, shown
from coper.units import format_length, lengths_in

TABLE: Final = "shop"

SETTINGS: Final = (
    Setting(TABLE, "saws", "hole saws", "the diameters that you have: 7/8in, 1in, 1-1/8in; empty: "
            "a common set", several),
    Setting(TABLE, "depth", "depth", "how deep they cut"),
    Setting(TABLE, "process", "process", f"how it is joined: {', '.join(PROCESSES)}"),
    Setting(TABLE, "gap_limit", "gap limit", "the largest gap that is still good, whatever the "
            "process"),
    Setting(TABLE, "stretch", "stretch", "of your own bender: what a bend of 90 degrees comes out "
            "longer than its centreline"),
    Setting(TABLE, "stock", "stock", "the lengths that any tube is sold in: 6m, 3m", several),
    Setting(TABLE, "kerf", "kerf", "what the saw for blanks takes"),
    Setting(TABLE, "allowance", "allowance", "left on at each end of a blank for dressing"),
)


def shop_shown(
    text: str, change: Change | None = None
) -> tuple[Mapping[str, Box], tuple[str, ...]]:
    """Every field by its name, and what is wrong with none of them."""
    try:
        job = job_in(text)
    except CoperError:  # said above the ends
        return shown(text, SETTINGS, change, (), {})
    with lengths_in(job.units):
        return shown(text, SETTINGS, change, (), _said(job))


def _said(job: Job) -> dict[str, str]:
    """What was understood of them, in mm and inches."""
    shop = job.shop
    lengths = {"saws": shop.saws, "depth": (shop.depth,), "gap_limit": (shop.gap_limit,),
               "stretch": (shop.stretch,)}
    return {f"{TABLE}-{key}": ", ".join(format_length(mm) for mm in values if mm)
            for key, values in lengths.items()}
