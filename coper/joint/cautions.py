"""What the person at the bench has to know about this joint and about the work."""

from __future__ import annotations

import numpy as np

from coper.joint.bend_inside import ring_cautions
from coper.joint.cope import Cope
from coper.joint.template import Cut
from coper.units import plain

NARROW_DEG = 30.0
"""A weld in a narrower corner needs a procedure of its own (AWS D1.1, tubular joints)."""

FEATHER_DEG = 60.0
"""A cut face that leans more leaves an edge under half the wall's thickness: it burns away."""

SAFETY = (
    "Cut, grind and weld with eye, hand and breathing protection.",
    "Strip zinc, cadmium, chrome and paint from the weld zone before heat.",
    "Vent closed tubes. Clamp work in a saw fixture.",
    "A frame carries a person: these numbers are geometry, not strength; joints, materials and "
    "brakes are for local codes and a qualified welder to judge.",
)


def joint_cautions(cope: Cope, cut: Cut) -> tuple[str, ...]:
    """What is special about this joint, in plain sentences, gravest first."""
    said = [
        f"Open from clock {plain(round(start, 1) % 360)} to {plain(round(end, 1) % 360)}: "
        "the branch overhangs the main there, and the template has a gap."
        for start, end in cope.open
    ]
    narrowest = float(np.nanmin(cope.dihedral))
    if narrowest < NARROW_DEG:
        clock = float(cope.clock[np.nanargmin(cope.dihedral)])
        said.append(
            f"The corner closes to {narrowest:.0f} degrees at clock {clock:.0f}: "
            "check that torch and filler reach it before you tack."
        )
    steepest = float(np.nan_to_num(np.abs(cope.bevel)).max())
    if cut == "bevelled" and steepest > FEATHER_DEG:
        said.append(
            f"The bevel leans up to {steepest:.0f} degrees: the edge is thin there; "
            "dress it before welding."
        )
    return tuple(said)


def cautions(cope: Cope, cut: Cut) -> tuple[str, ...]:
    """The cautions of a joint of which no more is known, then those of the work."""
    ring = ring_cautions(cope.cluster, cope.clock, cope.outer)
    return (*joint_cautions(cope, cut), *ring, *SAFETY)
