"""What a person is told of a branch that never meets its main."""

import pytest

from coper import CoperError, Joint, Plate, Round, Tapered, Tube, shape_end


@pytest.mark.parametrize(("joint", "said"), [
    (Joint(Round(20, 1), Round(30), 90, 40), "misses the main by 15.00 mm"),
    (Joint(Round(20, 1), Plate(6), 60, main_turn=180), "behind the plate's face"),
])
def test_a_miss_is_told_as_what_it_is(joint, said):
    with pytest.raises(CoperError, match=said):
        joint.cope()


def test_a_taper_that_closes_before_it_reaches_the_main_is_told_where():
    # From 10 to 40 mm over 60 its radius grows by a quarter of the along: it closes at -20.
    tube = Tube(Tapered(10, 40, 60, 1), (0, 0, 0), (300, 0, 0))
    main = Tube(Round(20), (-60, -50, 0), (-60, 50, 0), "main")
    with pytest.raises(CoperError, match=r"closes at along -20.00 mm"):
        shape_end(tube, "start", [main])


def test_a_main_so_large_that_its_skin_is_out_of_reach_is_refused_for_that():
    with pytest.raises(CoperError, match="would meet the main only 500 m off; check the diam"):
        Joint(Round(12, 1), Round(1e6), 90).cope()
