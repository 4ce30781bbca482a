"""A rear end's tracking as plain numbers, under the names of the JSON output."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any

from coper.bicycle.tracking.doubts import good
from coper.bicycle.tracking.rear_end import Faces
from coper.bicycle.tracking.tracking import Check, Tracking
from coper.telling.words.tracking import advice
from coper.telling.words.tracking_doubts import doubts


def tracking_record(found: Tracking) -> dict[str, Any]:
    """What was read, what should have been, and what follows; ``None`` where it was not read."""
    faces, readings = found.faces, found.readings
    return {
        "frame": asdict(found.rear),
        "readings": {
            "straight_edge": None if readings.edge is None else asdict(readings.edge),
            "string": None if readings.string is None else asdict(readings.string),
            "width": readings.width,
            "stays": None if readings.stays is None else asdict(readings.stays),
        },
        "expected": {
            "straight_edge": found.expected_edge,
            "face": found.laid.face,
            "string": found.expected_string,
            "width": found.rear.hub,
        },
        "by_straight_edge": _faces_record(found.edge),
        "by_string": _faces_record(found.string),
        "off": found.off,
        "doubt": None if faces is None else faces.uncertainty,
        "rim": None if found.rim is None else asdict(found.rim),
        "width": _width_record(found),
        "moves": None if found.moves is None else asdict(found.moves),
        "skew": None if found.skew is None else {
            "angle": found.skew.angle, "left_longer": found.skew.longer},
        "limit": found.limit.mm,
        "checks": [_check_record(check) for check in found.checks],
        "ok": good(found) if found.checks else None,
        "doubts": list(doubts(found)),
        "advice": list(advice(found)),
    }


def _faces_record(faces: Faces | None) -> dict[str, Any] | None:
    if faces is None:
        return None
    return {"off": faces.off, "width": faces.width, "doubt": faces.uncertainty}


def _width_record(found: Tracking) -> dict[str, Any] | None:
    width, hub = found.readings.width, found.rear.hub
    return None if width is None else {"between": width, "hub": hub, "out": width - hub}


def _check_record(check: Check) -> dict[str, Any]:
    return {"name": check.name, "amount": check.amount, "doubt": check.uncertainty, "ok": check.ok,
            "close": check.close}
