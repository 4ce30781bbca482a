"""Walls, and the two gauge systems that they come in."""

import pytest

from coper.errors import WordsError
from coper.units import parse_wall

# Birmingham (Stubs) gauge, in inches: Holtzapffel's table; engineering tables agree.
BIRMINGHAM_IN = {
    10: 0.134, 11: 0.120, 12: 0.109, 13: 0.095, 14: 0.083, 15: 0.072, 16: 0.065, 17: 0.058,
    18: 0.049, 19: 0.042, 20: 0.035, 21: 0.032, 22: 0.028, 23: 0.025, 24: 0.022, 25: 0.020,
    26: 0.018, 28: 0.014,
}
# Standard Wire Gauge, in inches: engineering tables, even numbers.
STANDARD_IN = {
    10: 0.128, 12: 0.104, 14: 0.080, 16: 0.064, 18: 0.048, 20: 0.036, 22: 0.028, 24: 0.022,
}
# The odd numbers of the Standard Wire Gauge, in inches: from memory.
STANDARD_ODD_IN = {11: 0.116, 13: 0.092, 15: 0.072, 17: 0.056, 19: 0.040, 21: 0.032, 23: 0.024}


@pytest.mark.parametrize(("number", "inches"), BIRMINGHAM_IN.items())
def test_a_birmingham_gauge_has_the_published_wall(number, inches):
    assert parse_wall(f"{number}bwg") == pytest.approx(inches * 25.4, abs=1e-9)


@pytest.mark.parametrize(("number", "inches"), (STANDARD_IN | STANDARD_ODD_IN).items())
def test_a_standard_wire_gauge_has_the_tabled_wall(number, inches):
    assert parse_wall(f"{number}swg") == pytest.approx(inches * 25.4, abs=1e-9)


@pytest.mark.parametrize("text", ["18bwg", " 18 BWG", "18 ga bwg", "18 gauge BWG"])
def test_a_gauge_is_read_in_any_case_and_spacing(text):
    assert parse_wall(text) == pytest.approx(0.049 * 25.4, abs=1e-9)


def test_a_gauge_does_not_depend_on_the_unit_of_the_job():
    assert parse_wall("20swg", "in") == parse_wall("20swg", "mm")


def test_a_wall_may_be_a_length_in_the_unit_of_the_job():
    assert parse_wall("0.9") == 0.9
    assert parse_wall(".035", "in") == 0.889
    assert parse_wall("1/32in", "mm") == pytest.approx(25.4 / 32, abs=1e-9)


@pytest.mark.parametrize("text", ["18ga", "18 GAUGE", "18g", "18 gage"])
def test_a_bare_gauge_is_refused_with_the_walls_of_both_systems(text):
    with pytest.raises(WordsError) as caught:
        parse_wall(text)
    assert str(caught.value) == (
        f"{text}: a gauge needs its system: 18bwg is 1.24 mm (0.049 in), "
        "18swg is 1.22 mm (0.048 in); give the wall in inches, such as 0.049in, "
        "or write 18bwg or 18swg"
    )


BAD_WALLS = [
    ("", "no length"),
    ("0", "a wall must be above 0"),
    ("-0.9", "a wall must be above 0"),
    ("0,9", "a comma is not a decimal point here; write 0.9"),
    ("25ga", "25bwg is 0.51 mm (0.020 in); "
     "give the wall in inches, such as 0.020in, or write 25bwg"),
    ("99ga", "not a known gauge"),
    ("99bwg", "Birmingham gauge has no 99 here; known are 10, 11, 12"),
    ("27bwg", "25, 26, 28"),
    ("26swg", "Standard Wire Gauge has no 26 here; known are 10, 11, 12"),
    ("18.5bwg", "Birmingham gauge has no 18.5 here"),
    ("-18bwg", "Birmingham gauge has no -18 here"),
    ("1/0swg", "Standard Wire Gauge has no 1/0 here"),
    ("bwg 18", "a gauge is for walls only"),
    ("swg", "not a known gauge"),
    ("9" * 400 + "bwg", "Birmingham gauge has no 9999"),
]


@pytest.mark.parametrize(("text", "says"), BAD_WALLS)
def test_a_text_that_is_no_wall_is_refused_in_one_line_that_says_why(text, says):
    with pytest.raises(WordsError) as caught:
        parse_wall(text)
    message = str(caught.value)
    assert says in message
    assert message.isprintable()
    assert len(message) < 250
