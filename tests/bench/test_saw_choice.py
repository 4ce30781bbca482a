"""The saw of a set-up is the best of the whole kit, and two passes have to be worth the trouble."""

import numpy as np
import pytest
from scipy.optimize import brentq

from coper import Joint, Oval, Round, Tube, make_piece, plain_end, shape_end
from coper.bench.setup import SawShop, piece_setups
from coper.joint.saw.kit import USUAL_KIT_MM, choose_saws


@pytest.mark.parametrize("turn", [0.0, 90.0])
def test_on_an_oval_main_the_saw_is_the_best_of_the_whole_kit_on_its_flat_and_on_its_sharp_side(
        turn):
    # The ellipse's own circles are b^2 / a and a^2 / b across: a saw far from both its widths may
    # be the best.
    main = Tube(Oval(40, 30), (0, -60, 0), (0, 60, 0), "main", turn=turn)
    tube = Tube(Round(15, 1), (0, 0, 0), (0, 0, 300), "post")
    piece = make_piece(tube, shape_end(tube, "start", [main]), plain_end(tube, "end"))
    setup, = piece_setups(piece, SawShop(enough=99.0))
    joint = setup.cuts[0].joint
    best = choose_saws(joint, USUAL_KIT_MM).choices[0]
    assert setup.cuts[0].passes[0].setting.diameter == best.setting.diameter


def test_a_second_pass_that_closes_less_than_a_tenth_of_a_mm_is_not_offered():
    # In the throat one pass leaves 0.12 mm, two leave about a quarter of that: 0.09 better. From
    # 0.16 mm on it is worth it.
    rest = 18 - np.sqrt(18**2 - 14.3**2)
    for gap, passes in ((0.12, {1}), (0.16, {1, 2})):
        saw = 2 * brentq(lambda s, g=gap: s - np.sqrt(s * s - 14.3**2) - rest - g, 14.4, 18)
        kit = choose_saws(Joint(Round(28.6, 0.9), Round(36), 90), (saw,), enough=0.0)
        one = next(choice for choice in kit.choices if len(choice.passes) == 1)
        assert one.fit.largest == pytest.approx(gap, abs=1e-6)
        assert {len(choice.passes) for choice in kit.choices} == passes
