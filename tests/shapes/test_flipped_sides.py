"""The sheet of a tube that is followed from its far end: turned on the table, never mirrored."""

import numpy as np
import pytest

from coper.shapes.flipped import Flipped
from tests.specimens import BRANCHES_OF_EVERY_KIND, EXACT_BRANCHES

AT = 70.0
each_branch = pytest.mark.parametrize("branch", BRANCHES_OF_EVERY_KIND, ids=lambda b: b.words())
each_exact = pytest.mark.parametrize("branch", EXACT_BRANCHES, ids=lambda b: b.words())


@each_branch
@pytest.mark.parametrize("lift", [0.0, 0.2])
def test_seen_from_the_far_end_along_runs_up_the_sheet_and_the_clock_to_the_right(branch, lift):
    seen = Flipped(branch, AT)
    along = np.array([0.0, 40.0])
    x, y = seen.flat(np.zeros(2), along, lift)
    ends = seen.generators(np.zeros(2), 0.0, along).at(along)
    np.testing.assert_allclose(x, 0, atol=1e-9)
    np.testing.assert_allclose(y, [0, np.linalg.norm(ends[1] - ends[0])], atol=1e-9)
    beside, _ = seen.flat(np.array([1.0]), np.zeros(1), lift)
    assert beside[0] > 0


@each_branch
def test_the_sheet_of_either_end_is_the_same_piece_of_paper_with_the_same_side_up(branch):
    # The same places of the skin: clock c and along z are -c and AT - z from the far end. Both
    # sheets have the same triangles between them, turned the same way round.
    clock, along = np.array([-40.0, 10.0, 55.0]), np.array([5.0, 30.0, 12.0])
    sheets = (branch.flat(clock, along), Flipped(branch, AT).flat(-clock, AT - along))
    own, far = (np.stack(sheet, axis=-1) - np.stack(sheet, axis=-1)[0] for sheet in sheets)
    np.testing.assert_allclose(np.linalg.norm(far, axis=1), np.linalg.norm(own, axis=1), atol=1e-9)
    area = [one[1, 0] * one[2, 1] - one[1, 1] * one[2, 0] for one in (own, far)]
    assert area[1] == pytest.approx(area[0]) and abs(area[0]) > 1


@each_exact
def test_a_point_of_the_skin_is_the_same_metal_from_either_end(branch):
    # A half turn about clock 0: x stays, y turns over, along counts back from AT.
    clock, along = np.array([20.0, 130.0, 250.0]), np.array([4.0, 33.0, 61.0])
    own = branch.generators(clock, 0.0, along).at(along)
    far = Flipped(branch, AT).generators(-clock, 0.0, AT - along).at(AT - along)
    np.testing.assert_allclose(far, own * (1, -1, -1) + (0, 0, AT), atol=1e-9)
