"""The saw of a set-up is the best of the whole kit, and two passes have to be worth the trouble."""

import numpy as np
import pytest
from scipy.optimize import brentq

from coper import Joint, Oval, Round, Tube, make_piece, plain_end, shape_end
from coper.bench.setup import SawShop, piece_setups
from coper.joint.saw.kit import USUAL_KIT_MM, choose_saws
from coper.sheets.setup_card import end_card
from coper.sheets.setup_card_words import steps


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


SHELL = Tube(Round(40), (0, -34, 0), (0, 34, 0), "shell")
SEAT_TUBE = Tube(Round(28.6), (0, 0, 0), (-120, 0, 420), "seat tube")


def saws_of(tube, mains, shop):
    """The diameter of the saw chosen for each main, and whether it is deep enough."""
    piece = make_piece(tube, shape_end(tube, "start", mains), plain_end(tube, "end"))
    setup, = piece_setups(piece, shop)
    return {cut.seat.name: (cut.passes[0].setting.diameter, cut.passes[0].setting.depth_ok)
            for cut in setup.cuts}


def test_where_the_next_size_up_is_too_shallow_a_larger_saw_that_is_deep_enough_is_taken():
    # The tube runs past the main's side, so that a larger saw has less depth to cut: 33.32 mm with
    # the saw of 41 mm, 33.22 mm with that of 45.
    tube = Tube(Round(28.6, 0.9), (6, 0, 0), (6, -170, 300), "strut")
    kit = (41.0, 45.0, 50.0)
    assert saws_of(tube, [SHELL], SawShop(kit, depth=33.4, enough=99.0)) == {"shell": (41.0, True)}
    assert saws_of(tube, [SHELL], SawShop(kit, depth=33.25, enough=99.0)) == {"shell": (45.0, True)}
    assert saws_of(tube, [SHELL], SawShop(kit, depth=30.0, enough=99.0)) == {"shell": (41.0, False)}


STAY = Tube(Round(36, 0.9), (0, 8, 1), (-400, 60, 60), "stay")


def test_on_a_share_too_a_larger_saw_that_is_deep_enough_is_taken():
    # On the seat tube's share the two next to its size need 43.9 mm, that of 44.45 mm needs 41.2.
    kit = (28.575, 31.75, 44.45)
    assert saws_of(STAY, [SEAT_TUBE, SHELL], SawShop(kit, depth=45.0))["seat tube"] == (
        28.575, True)
    assert saws_of(STAY, [SEAT_TUBE, SHELL], SawShop(kit, depth=42.0))["seat tube"] == (
        44.45, True)
    assert saws_of(STAY, [SEAT_TUBE, SHELL], SawShop(kit, depth=30.0))["seat tube"] == (
        28.575, False)


def test_on_a_share_a_saw_that_is_deep_enough_goes_before_one_that_leaves_a_smaller_gap():
    kit = (28.575, 44.45)
    chosen = [saws_of(STAY, [SEAT_TUBE, SHELL], SawShop(kit, depth))["seat tube"]
              for depth in (45.0, 42.0)]
    assert chosen == [(28.575, True), (44.45, True)]


def test_the_clocks_to_file_are_the_tubes_own_at_both_of_its_ends():
    # Derived: the mains stand 6 mm ahead of the tube's axis, so that what is left stands out
    # behind it, where 14.3 cos + 6 is above 19.05: 24.1 degrees either way. Looking from the start,
    # up, with the left side on top, behind is to the right: clock 90.
    half = np.degrees(np.arccos((19.05 - 6) / 14.3))
    low, high = (Tube(Round(38.1), (6, -60, z), (6, 60, z), name)
                 for z, name in ((0, "low"), (300, "high")))
    tube = Tube(Round(28.6, 0.9), (0, 0, 0), (0, 0, 300), "post")
    piece = make_piece(tube, shape_end(tube, "start", [low]), shape_end(tube, "end", [high]))
    for setup in piece_setups(piece, SawShop((38.1, 60.0), enough=0.3)):
        cut, = setup.cuts
        assert cut.passes[0].setting.diameter == 38.1
        assert setup.stretches(cut.slivers) == (pytest.approx((90 - half, 90 + half)),)
        words = " ".join(steps(end_card(piece, setup), end_card(piece, setup).cuts[0]))
        assert "File through at clocks 66 to 114" in words
