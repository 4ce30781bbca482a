"""Lengths as they are written in an order in inches, and read back from there."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coper.shapes.box import Box
from coper.shapes.read import parse_tube
from coper.shapes.round import Round
from coper.shapes.tapered_oval import TaperedOval
from coper.shapes.words import tube_words, typed_words, walled_example
from coper.units import (
    INCH_MM,
    format_far,
    format_gap,
    format_length,
    format_mm,
    format_short,
    format_size,
    in_inches,
    lengths_in,
    order_unit,
    parse_length,
    shown_up,
)

BENCH_MM = st.floats(-7000, 7000)
THOUSANDTH_MM = INCH_MM / 1000


@given(BENCH_MM)
def test_what_is_written_in_inches_reads_back_to_half_a_thousandth(mm):
    with lengths_in("in"):
        for written in (format_length(mm), format_short(mm), format_size(mm), format_gap(mm)):
            first = written.split(" (")[0]
            assert first.endswith(" in")
            assert parse_length(first) == pytest.approx(mm, abs=THOUSANDTH_MM / 2 + 1e-9)


@given(BENCH_MM)
def test_the_fraction_in_brackets_reads_back_to_half_a_64th(mm):
    with lengths_in("in"):
        *_, fraction = format_length(mm).removesuffix(")").split(" (")
    assert parse_length(fraction) == pytest.approx(mm, abs=INCH_MM / 128 + 1e-9)


@given(st.integers(0, 300), st.integers(0, 11), st.integers(0, 63),
       st.sampled_from(["{}ft {}in", "{}' {}\"", "{}'-{}″", "{}ft{}in"]))
def test_feet_and_inches_read_back_as_what_they_say(feet, inches, steps, form):
    part = f"{inches}-{steps}/64" if steps else f"{inches}"
    assert parse_length(form.format(feet, part)) == pytest.approx(
        (12 * feet + inches + steps / 64) * INCH_MM, abs=1e-9)


@pytest.mark.parametrize(("sign", "digits"), [
    ("¼", "1/4"), ("½", "1/2"), ("¾", "3/4"), ("⅛", "1/8"), ("⅜", "3/8"), ("⅝", "5/8"),
    ("⅞", "7/8"), ("⅓", "1/3"), ("⅔", "2/3")])
def test_a_fraction_of_one_character_is_read_as_its_digits(sign, digits):
    assert parse_length(f"1{sign}", "in") == parse_length(f"1 {digits}", "in")
    assert parse_length(f"{sign}in") == parse_length(f"{digits}in")
    assert parse_tube(f"1{sign} x ⅛", "in") == parse_tube(f"1-{digits} x 1/8", "in")


SIZES_IN = st.floats(0.75, 6).map(lambda size: round(size, 3))
WALLS_IN = st.integers(20, 250).map(lambda mil: mil / 1000)


@given(SIZES_IN, SIZES_IN, WALLS_IN)
def test_a_tube_in_inches_reads_back_as_itself(first, second, wall):
    box = Box(first * INCH_MM, second * INCH_MM, 0.0, wall * INCH_MM)
    for tube in (box, Round(first * INCH_MM, wall * INCH_MM)):
        with lengths_in("in"):
            written, typed = tube_words(tube), typed_words(tube)
        assert written.endswith(f" x {wall:.3f} in")
        for words in (written.removesuffix(" in"), typed):
            read = parse_tube(words, "in")
            assert read.words() == tube.words()


@given(st.floats(0.01, 7000), st.sampled_from(["in", "mm"]))
def test_a_least_length_as_it_is_shown_is_enough_and_no_more_than_a_step_more(mm, unit):
    with lengths_in(unit):
        up = shown_up(mm)
        step = THOUSANDTH_MM if in_inches() else 0.01
        assert mm - 1e-4 * step <= up < mm + step + 1e-9
        assert parse_length(format_short(up)) == pytest.approx(up, abs=1e-8)


@pytest.mark.parametrize(("mm", "said"), [
    (990.6, "39 in"), (217.02, "8.544 in (8-35/64 in)"), (0, "0 in"), (3.048, "0.120 in (1/8 in)"),
    (0.15, "0.006 in"), (-1.0, "-0.039 in (-3/64 in)")])
def test_a_length_in_inches_is_said_to_a_thousandth_and_for_a_rule(mm, said):
    with lengths_in("in"):
        assert format_length(mm) == said


@pytest.mark.parametrize(("unit", "said"), [("in", "20.5 by 4 ft"), ("m", "6.2 by 1.2 m")])
def test_a_length_of_the_shop_is_said_in_feet_or_metres(unit, said):
    with lengths_in(unit):
        assert format_far(246 * INCH_MM, 48 * INCH_MM) == said


def test_the_unit_of_an_order_ends_with_it_even_where_it_fails():
    with pytest.raises(ZeroDivisionError), lengths_in("ft"):
        assert order_unit() == "ft" and in_inches()
        raise ZeroDivisionError
    assert order_unit() == "mm" and format_short(25.4) == format_mm(25.4)


def test_the_words_of_a_shape_itself_are_in_mm_in_every_order():
    oval = TaperedOval(38.1, 25.4, 12.7, 254.0, 0.889)
    with lengths_in("in"):
        assert parse_tube(oval.words()) == oval
        assert tube_words(oval) == "oval 1.5 by 1 to 0.5 over 10 x 0.035 in"


def test_a_cure_for_a_tube_without_wall_is_in_the_unit_of_the_order():
    assert walled_example(Round(28.6)) == "28.6 x 0.9"
    with lengths_in("in"):
        assert walled_example(Round(28.575)) == "1.125 x 0.035"
