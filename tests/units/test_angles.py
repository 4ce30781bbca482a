"""Angles as people write them, and as they are shown."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coper.errors import WordsError
from coper.units import format_angle, parse_angle


@pytest.mark.parametrize(("text", "degrees"), [
    ("62", 62),
    ("62.5", 62.5),
    (".5", 0.5),
    ("62deg", 62),
    ("62 DEG", 62),
    ("62°", 62),
    ("62°30'", 62.5),
    ("62deg30'", 62.5),
    ("62° 30′", 62.5),
    ("62º30’", 62.5),
    ("62°0.6'", 62.01),
    ("62°30'36\"", 62.51),
    ("62° 30′ 36″", 62.51),
    ("62°30'36''", 62.51),
    ("-62°30'", -62.5),
    ("− 3", -3),
    ("+3", 3),
])
def test_an_angle_is_read_in_every_way_that_the_design_lists(text, degrees):
    assert parse_angle(text) == pytest.approx(degrees, abs=1e-12)


BAD_ANGLES = [
    ("", "no angle; write one such as"),
    ("62,5", "62,5: a comma is not a decimal point here; write 62.5"),
    ("62 degrees", "unknown unit degrees; did you mean deg?"),
    ("1.1rad", "unknown unit rad; known are deg"),
    ("62mm", "unknown unit mm"),
    ("62°60'", "minutes and seconds stay below 60"),
    ("62°30'60\"", "minutes and seconds stay below 60"),
    ("62.5°30'", "only the last part of an angle may have decimals"),
    ("62°30.5'10\"", "only the last part of an angle may have decimals"),
    ("62°30", "not an angle; write one such as"),
    ("30'", "not an angle"),
    ('62°30"', "not an angle"),
    ("62 30", "not an angle"),
    ("62°-30'", "not an angle"),
    ("62°°", "not an angle"),
    ("deg", "no number in this angle"),
    ("nan", "nan: not a number"),
    ("inf", "inf: not a number"),
    ("6e1", "powers of ten are not read"),
    ("--62", "two signs in a row"),
    ("3601", "more than ten turns"),
    ("9" * 400, "more than ten turns"),
    ("62\n°\x00", "62 °\\x00: not an angle"),
]


@pytest.mark.parametrize(("text", "says"), BAD_ANGLES)
def test_a_text_that_is_no_angle_is_refused_in_one_line_that_says_why(text, says):
    with pytest.raises(WordsError) as caught:
        parse_angle(text)
    message = str(caught.value)
    assert says in message
    assert message.isprintable()
    assert len(message) < 200


@given(st.text(alphabet="0123456789 .-+,'\"°degra", max_size=12))
def test_any_text_is_a_finite_angle_or_a_clear_refusal(text):
    try:
        assert math.isfinite(parse_angle(text))
    except WordsError as error:
        assert str(error).isprintable()


@given(st.floats(-3600, 3600))
def test_an_angle_that_is_shown_reads_back_to_the_hundredth(degrees):
    assert parse_angle(format_angle(degrees)) == round(degrees, 2)


@given(st.integers(0, 179), st.integers(0, 59), st.integers(0, 59))
def test_minutes_and_seconds_are_sixtieths_on_either_side_of_nothing(degrees, minutes, seconds):
    text = f"{degrees}°{minutes}'{seconds}\""
    expected = (degrees * 3600 + minutes * 60 + seconds) / 3600
    assert parse_angle(text) == pytest.approx(expected, abs=1e-12)
    assert parse_angle("-" + text) == -parse_angle(text)


@pytest.mark.parametrize(("degrees", "text"), [
    (62.5, "62.5°"), (62, "62°"), (100, "100°"), (62.123, "62.12°"), (-3.10, "-3.1°"), (0, "0°"),
    (-0.001, "0°"),
])
def test_an_angle_is_shown_with_no_more_decimals_than_it_needs(degrees, text):
    assert format_angle(degrees) == text


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf])
def test_what_is_no_number_is_never_shown_as_an_angle(value):
    with pytest.raises(ValueError, match="cannot be shown"):
        format_angle(value)
