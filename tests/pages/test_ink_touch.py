"""A line that only touches a label's box counts as under it."""

import numpy as np
import pytest

from coper.pages.ink import ink_of


@pytest.mark.parametrize("off", [-0.24, 0.0, 0.24])
@pytest.mark.parametrize("edge", [0, 1])
def test_a_line_along_a_boxs_edge_is_under_it_wherever_the_raster_falls(edge, off):
    low, high = np.array((10.0, 10.3)), np.array((30.0, 13.4))
    at = (low, high)[edge][1] + (off if edge == 0 else -off) * 0.1
    ink = ink_of([np.array(((0.0, at), (40.0, at)))], np.zeros(2), np.array((40.0, 40.0)))
    assert ink.under(low[None], high[None])[0] > 15
    assert ink.under(low[None] + (0, 20), high[None] + (0, 20))[0] == 0
