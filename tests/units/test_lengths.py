"""Lengths as people write them, and as they are shown."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coper.errors import WordsError
from coper.units import (
    INCH_MM,
    UNITS,
    format_gap,
    format_inches,
    format_length,
    format_mm,
    parse_length,
    parse_wall,
)

BENCH_MM = st.floats(-5000, 5000)


@pytest.mark.parametrize(("text", "mm"), [
    ("28.6", 28.6),
    ("28.", 28),
    (".9", 0.9),
    ("  28.6 MM ", 28.6),
    ("2.86cm", 28.6),
    ("1.2 m", 1200),
    ("2ft", 609.6),
    ("5'", 1524),
    ("20ft 6in", 6248.4),
    ("20'6\"", 6248.4),
    ("20' - 6 1/4″", 6254.75),
    ("-1ft 6.5in", -469.9),
    ("3ft 0in", 914.4),
    ("1¼in", 31.75),
    ("1 ¼ in", 31.75),
    ("1-⅛″", 28.575),
    ("½in", 12.7),
    ("6ft ½in", 1841.5),
    ("1⁄4 in", 6.35),
    ("7/8in", 22.225),
    ('1 1/8"', 28.575),
    ("1-1/8in", 28.575),
    ("1–1/8″", 28.575),
    ("9/8 in", 28.575),
    (".035IN", 0.889),
    ("1 0/1in", 25.4),
    ("-3", -3),
    ("− 1-1/8 in", -28.575),
    ("+3.5", 3.5),
])
def test_a_length_is_read_in_every_way_that_the_design_lists(text, mm):
    assert parse_length(text) == mm


@pytest.mark.parametrize(("unit", "mm"), [
    ("mm", 1.5), ("cm", 15), ("m", 1500), ("in", 38.1), ("ft", 457.2),
])
def test_a_bare_number_is_in_the_unit_of_the_job(unit, mm):
    assert parse_length("1.5", unit) == mm
    assert parse_length("1 1/2", unit) == mm


@pytest.mark.parametrize("unit", UNITS)
def test_a_unit_that_is_written_wins_over_that_of_the_job(unit):
    assert parse_length("1.5in", unit) == 38.1


def test_minus_nothing_is_plain_nothing():
    assert math.copysign(1, parse_length("-0")) == 1


BAD_LENGTHS = [
    ("", "no length; write one such as"),
    (" \t\n", "no length; write one such as"),
    ("28,6", "28,6: a comma is not a decimal point here; write 28.6"),
    ("1,5 in", "write 1.5 in"),
    ("1.234,5", "use one point only"),
    ("7/0in", "the lower number of the fraction is 0"),
    ("1 7/0", "the lower number of the fraction is 0"),
    ("1-9/8in", "the fraction after a whole number must be below 1"),
    ('1 1/1"', "the fraction after a whole number must be below 1"),
    ("3in 2ft", "two units in one length; write it in one, such as 38in, or as 3ft 2in"),
    ("3ft 2mm", "two units in one length"),
    ("1.5ft 2in", "two units in one length"),
    ("3ft 12in", "the inches after feet stay below 12"),
    ("3ft 2", "no unit after the inches; write 3ft 2in"),
    ("5'6", "no unit after the inches; write 5ft 6in"),
    ('1"in', "two units in one length"),
    ("28.6 inch", "unknown unit inch; did you mean in?"),
    ("28.6 furlong", "unknown unit furlong; known are cm, ft, in, m, mm"),
    ("28.6 µm", "unknown unit µm"),
    ("18bwg", "a gauge is for walls only"),
    ("nan", "nan: not a number"),
    ("-Infinity", "-Infinity: not a number"),
    ("1e3", "powers of ten are not read"),
    ("2.5e-1mm", "powers of ten are not read"),
    ("--5", "two signs in a row"),
    ("+ -5", "two signs in a row"),
    ("1--1/8in", "two signs in a row"),
    ("mm", "no number in this length"),
    ("?", "no number in this length"),
    ("28.6 0.9", "two numbers in one length"),
    ("1.5 1/8in", "two numbers in one length"),
    ("28.6!", "28.6!: not a length; write one such as"),
    ("5-", "not a length"),
    ("7/8/2", "not a length"),
    ("1..5", "not a length"),
    ("mm 5", "not a length"),
    ("٣", "no number in this length"),
    ("101m", "longer than 100 m; check the number and its unit"),
    ("-101 m", "longer than 100 m"),
    ("9" * 400, "longer than 100 m"),
    ("9" * 400 + "/" + "9" * 400, "longer than 100 m"),
    ("28.6\nmm\x1b[0m", "28.6 mm\\x1b[0m: "),
    ("28.6 \ud800", "28.6 \\ud800: not a length"),
]


@pytest.mark.parametrize(("text", "says"), BAD_LENGTHS)
def test_a_text_that_is_no_length_is_refused_in_one_line_that_says_why(text, says):
    with pytest.raises(WordsError) as caught:
        parse_length(text)
    message = str(caught.value)
    assert says in message
    assert message.isprintable()
    assert len(message) < 200


def test_a_unit_of_the_job_that_does_not_exist_is_refused():
    with pytest.raises(WordsError, match="unknown unit furlong"):
        parse_length("3", "furlong")


@given(st.text(alphabet='0123456789 ./-+,\'"″minftcebwgx°', max_size=12))
def test_any_text_is_a_finite_length_or_a_clear_refusal(text):
    for parse in (parse_length, parse_wall):
        try:
            assert math.isfinite(parse(text))
        except WordsError as error:
            assert str(error).isprintable()


@given(BENCH_MM)
def test_a_length_shown_in_inches_reads_back_to_the_nearest_64th(mm):
    steps = parse_length(format_inches(mm)) / INCH_MM * 64
    assert steps == pytest.approx(round(steps), abs=1e-9)
    assert abs(steps - mm / INCH_MM * 64) <= 0.5 + 1e-9


@given(st.integers(-5000, 5000), st.sampled_from([2, 8, 16, 64]))
def test_a_whole_number_of_steps_of_an_inch_reads_back_as_itself(count, step):
    mm = count / step * INCH_MM
    assert parse_length(format_inches(mm, step)) == pytest.approx(mm, abs=1e-9)


@given(BENCH_MM, st.integers(0, 6))
def test_a_length_shown_in_mm_reads_back_to_its_last_place(mm, places):
    assert abs(parse_length(format_mm(mm, places)) - mm) <= 0.5 * 10**-places + 2e-9


@given(BENCH_MM)
def test_a_length_above_nothing_is_shown_as_the_mirror_of_the_one_below(mm):
    for shape in (format_mm, format_inches):
        assert shape(-abs(mm)).lstrip("-") == shape(abs(mm))


@pytest.mark.parametrize(("mm", "text"), [
    (28.6, "28.60 mm"), (-3, "-3.00 mm"), (-0.001, "0.00 mm"), (-0.0, "0.00 mm"),
    (28.575, "28.58 mm"), (-28.575, "-28.58 mm"),
])
def test_mm_are_shown_with_two_places_and_never_as_minus_nothing(mm, text):
    assert format_mm(mm) == text


@pytest.mark.parametrize(("mm", "text"), [
    (28.575, "1-1/8 in"), (22.225, "7/8 in"), (25.4, "1 in"), (0, "0 in"), (-0.1, "0 in"),
    (-3 / 64 * 25.4, "-3/64 in"), (-28.575, "-1-1/8 in"), (25.39, "1 in"), (50.9, "2 in"),
])
def test_inches_are_shown_as_a_reduced_fraction(mm, text):
    assert format_inches(mm) == text


def test_an_echo_shows_a_length_in_both_systems():
    assert format_length(parse_length("1-1/8in")) == "28.58 mm (1-1/8 in)"


@pytest.mark.parametrize("shape", [format_mm, format_inches, format_length])
@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf])
def test_what_is_no_number_is_never_shown_as_a_length(shape, value):
    with pytest.raises(ValueError, match="cannot be shown"):
        shape(value)


@pytest.mark.parametrize(("mm", "told"), [
    (0.0, "0.00 mm (0.000 in)"), (0.3, "0.30 mm (0.012 in)"), (0.0508, "0.05 mm (0.002 in)"),
    (1.6, "1.60 mm (0.063 in)")])
def test_a_gap_is_told_in_thousandths_of_an_inch_as_feeler_gauges_are_marked(mm, told):
    assert format_gap(mm) == told
