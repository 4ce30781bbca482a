"""One pass of a saw whose axis is moved sideways off the main's."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from coper.arrays import Floats
from coper.joint.fit.face import covering_diameter
from coper.joint.fit.passes import Pass
from coper.joint.saw.trial import Trial
from coper.search import lowest
from coper.tolerances import ASIDE

SCANNED = 13
"""Even places that are tried before the best is closed in on."""


def best_aside(trial: Trial, diameter: float, better: float) -> Pass | None:
    """The pass of a saw of ``diameter`` mm, anywhere beside the main, that leaves the least gap.

    Its place along the branch is not yet right. ``None`` where none leaves less than ``better``
    mm, or the saw has no room beside the branch.
    """
    joint = trial.place.joint
    room = (diameter - covering_diameter(replace(joint, offset=0.0))) / 2
    if room <= 0:
        return None

    def gaps(offset: Floats) -> Floats:
        return trial.gaps([(Pass(diameter, one, 0.0),) for one in offset[0].tolist()])[None]

    best = lowest(gaps, np.linspace(-room, room, SCANNED), ASIDE)
    if best.least[0] >= better:
        return None
    return Pass(diameter, float(best.first[0][0]), 0.0)
