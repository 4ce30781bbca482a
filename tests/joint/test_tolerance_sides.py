"""What an error above 0 may be, and what one below 0: not to be mixed up."""

import numpy as np
import pytest

from coper import Joint, Round
from coper.joint.fit.face import Square
from coper.joint.fit.fit import seat
from coper.joint.fit.limits import own_limit
from coper.joint.fit.mount import Mounting
from coper.joint.tolerance.spread import Scatter, spread
from coper.joint.tolerance.tolerance import tolerance
from coper.telling.records.tolerance import tolerance_record

JOINT = Joint(Round(28.6, 1.5), Round(38.1), 55, 3)
LIMIT = own_limit(1.8)


def largest(thing, error):
    mounted = Mounting(**{thing: error}).of(JOINT).cluster()
    return seat(Square(JOINT.cluster()), mounted, points=8).largest


@pytest.fixture(scope="module")
def things():
    found = tolerance(JOINT, "square", LIMIT.mm)
    spreading = spread(JOINT, "square", LIMIT.mm, Scatter(), joints=20)
    return tolerance_record(JOINT, found, spreading, LIMIT)["things"]


@pytest.mark.parametrize("thing", ["angle", "offset"])
def test_plus_and_minus_of_the_record_are_those_of_full_fit_ups(things, thing):
    care = things[thing]
    most = care["largest_error"]
    assert abs(most["plus"] - most["minus"]) > 0.05  # else a swap would not show
    for name, way in (("plus", 1), ("minus", -1)):
        assert largest(thing, way * most[name]) <= LIMIT.mm + 0.005
        assert largest(thing, way * (most[name] * 1.05 + 0.05)) > LIMIT.mm
    errors, gaps = (np.array(care[name], dtype=float) for name in ("errors", "gaps"))
    for error in (-0.3, 0.3):
        assert np.interp(error, errors, gaps) == pytest.approx(largest(thing, error), abs=0.02)
    small = {name: (largest(thing, way * 0.02) - largest(thing, 0.0)) / 0.02
             for name, way in (("plus", 1), ("minus", -1))}
    assert care["gap_per_unit"] == pytest.approx(small, abs=0.1)
