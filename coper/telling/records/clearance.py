"""Clearances as plain lists and numbers, under the names of the JSON output."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any

from coper.bicycle.clearance.brake import BrakeReach
from coper.bicycle.clearance.chain import Chain, Links
from coper.bicycle.clearance.clearance import Clearances, Gap, Guidance
from coper.telling.words.clearance import TWO_REAR


def clearance_record(found: Clearances) -> dict[str, Any]:
    """Everything; ``None`` where it was not measured, empty lists likewise."""
    return {
        "wheels": [asdict(wheel) for wheel in found.wheels],
        "clearance": [
            {"wheel": gap.part, "axle": gap.axle, **_gap_record(gap), "spokes": gap.spokes}
            for gap in found.tyre],
        "guard": [{"wheel": gap.part, **_gap_record(gap)} for gap in found.guard],
        "room": [asdict(room) for room in found.rooms],
        "no_way_in": [asdict(one) for one in found.no_way_in],
        "brake": [_brake_record(one) for one in found.brakes],
        "crank": [_gap_record(gap) for gap in found.crank],
        "heel": [_gap_record(gap) for gap in found.heel],
        "toe": found.toe_overlap,
        "lean": found.lean,
        "chain": None if found.chain is None else chain_record(found.chain),
        "guidance": [_guidance_record(one) for one in found.guidance],
        "left_out": list(found.left_out),
        "not_checked": [TWO_REAR] if found.two_rear else [],
    }


def _gap_record(gap: Gap) -> dict[str, Any]:
    spot = gap.spot
    x, y, z = spot.point
    at = {"along": spot.along, "clock": spot.clock, "x": x, "y": y, "z": z}
    return {"tube": gap.tube, "side": gap.side, "gap": spot.gap, "at": at}


def _brake_record(one: BrakeReach) -> dict[str, Any]:
    return {"wheel": one.wheel, "axle": one.axle, "needed": one.needed, "track": one.track,
            "reach": [one.brake.least, one.brake.most], "errs": one.errs, "aside": one.aside,
            "ok": one.ok}


def _guidance_record(one: Guidance) -> dict[str, Any]:
    return {**asdict(one), "ok": one.ok}


def chain_record(chain: Chain) -> dict[str, Any]:
    """The chain: its length as drawn in links, and the whole numbers that will do."""
    return {
        **asdict(chain.sprockets),
        "drawn": chain.drawn,
        "choices": [_links_record(links) for links in chain.choices],
        "instead": [{"sprocket": teeth, **_links_record(links)}
                    for teeth, links in chain.instead],
    }


def _links_record(links: Links) -> dict[str, Any]:
    return {**asdict(links), "half_link": links.half_link}
