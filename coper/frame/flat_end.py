"""Ends that are cut in one plane, shaped as if they seated on it."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from coper.arrays import Floats
from coper.frame.end import TubeEnd, shape_end
from coper.frame.flat_cut import (
    FlatCut,
    How,
    cut_plane,
    from_square,
    mitre_normal,
    stands_over,
)
from coper.frame.tube import Tube, Which
from coper.tolerances import CLASH_MM
from coper.units import format_size


def face_end(tube: Tube, which: Which, way: Floats) -> TubeEnd:
    """The end cut in the plane through its point that is square to ``way`` (3,), either way.

    Raises
    ------
    JointError
        Where the plane lies too flat to the tube.
    """
    normal = way / np.linalg.norm(way)
    inward = normal if normal @ tube.way_in(which) >= 0 else -normal
    return _flat_end(tube, which, inward, cut_plane(tube, which, inward, "its face", "centre"),
                     "face")


def mitre_end(tube: Tube, which: Which, partner: Tube, other: Which, how: How) -> TubeEnd:
    """The end cut in the plane that halves its corner with the ``other`` end of ``partner``.

    Raises
    ------
    JointError
        Where the plane lies too flat to the tube, or both leave the corner the same way.
    """
    normal = mitre_normal(tube.way_in(which), partner.way_in(other))
    plane = cut_plane(tube, which, normal, partner.name, partner.side)
    end = _flat_end(tube, which, normal, plane, how, partner.label)
    assert end.cope is not None
    over = stands_over(tube.seen_from(which)[1].outward(end.cope.points), partner)
    if over <= CLASH_MM:
        return end
    return replace(end, cautions=(
        *end.cautions, f"The edge stands over {partner.label} by up to "
        f"{format_size(round(over, 2))}: their outlines are not one; turn or size one to the "
        "other, or dress it after welding."))


def _flat_end(
    tube: Tube, which: Which, normal: Floats, plane: Tube, how: How, partner: str = ""
) -> TubeEnd:
    end = shape_end(tube, which, [plane])
    return replace(end, cut="flat", cautions=(),
                   flat=FlatCut(how, partner, from_square(tube, which, normal), normal))
