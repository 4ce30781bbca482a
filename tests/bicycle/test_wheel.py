"""A wheel from the size on its tyre."""

import pytest

from coper.bicycle.wheel import Wheel, parse_wheel
from coper.errors import CoperError


# ISO 5775 practice: radius = bead seat / 2 + section height, height = width.
@pytest.mark.parametrize(("size", "radius"), [
    ("32-622", 343.0), ("57-559", 336.5), ("47-507", 300.5), (" 47 - 507 ", 300.5)])
def test_a_wheel_is_half_its_bead_seat_and_its_tyre_high(size, radius):
    assert parse_wheel(size).radius == radius


def test_the_middle_of_the_tyre_goes_round_half_a_width_within_the_tread():
    wheel = parse_wheel("32-622")
    assert wheel.middle == 343 - 16


@pytest.mark.parametrize("size", ["622-32", "26 x 1.75", "", "700c", "32-62", "32-6222", "9-622"])
def test_what_is_no_tyre_size_is_refused_with_one_that_is(size):
    with pytest.raises(CoperError, match="47-507"):
        parse_wheel(size)


@pytest.mark.parametrize(("radius", "tyre"), [(0, 30), (300, -1), (300, 300), (float("nan"), 30)])
def test_a_wheel_without_a_size_is_refused(radius, tyre):
    with pytest.raises(CoperError):
        Wheel(radius, tyre)
