"""Pipe by its trade size and schedule, against a published table."""

import pytest
from fluids.piping import schedule_lookup

from coper import Bent, CoperError, Round, parse_tube
from coper.shapes.pipe import PIPES
from coper.units import parse_length

LISTED = {
    (nps, name.lower()): (outside, wall)
    for name in ("5", "10", "20", "30", "40", "60", "80", "100", "120", "140", "160",
                 "STD", "XS", "XXS")
    for nps, _, outside, wall in zip(*schedule_lookup[name][:4], strict=True) if nps <= 12}
"""ASME B36.10M in mm, as the ``fluids`` library (PyPI) has it."""


def inches(pipe):
    return round(parse_length(pipe.nps, "in") / 25.4, 6)


def test_every_size_and_schedule_is_that_of_the_library_and_none_is_missing():
    ours = {(inches(pipe), name) for pipe in PIPES for name in pipe.schedules}
    assert ours == set(LISTED)


@pytest.mark.parametrize("pipe", PIPES, ids=lambda pipe: pipe.nps)
def test_a_dn_has_the_librarys_mm_and_an_nps_the_inches_they_are_rounded_from(pipe):
    for name in pipe.schedules:
        outside, wall = LISTED[inches(pipe), name]
        tube = parse_tube(f"pipe DN{pipe.dn} sch {name}")
        assert (tube.diameter, tube.wall) == pytest.approx((outside, wall), abs=1e-9)
        tube = parse_tube(f"pipe {pipe.nps} sch {name}", "mm")
        assert tube.diameter == pytest.approx(outside, abs=0.0501)
        odd = (pipe.dn, name) == (40, "xxs")  # 0.400 in and 10.15 mm in the standard
        assert tube.wall == pytest.approx(wall, abs=0.0101 if odd else 0.00501)


def test_what_is_known_by_heart():
    # ASME B36.10M: NPS 1-1/4 is 1.660 in; schedule 40 of it 0.140 in, NPS 2 schedule 80 0.218 in.
    assert parse_tube("pipe 1-1/4 sch 40") == Round(42.164, 3.556)
    assert parse_tube("pipe 2 sch 80") == Round(60.325, 5.5372)
    assert parse_tube("pipe DN32 sch 40") == Round(42.2, 3.56)


@pytest.mark.parametrize("text", [
    "pipe 1-1/4 sch 40", "PIPE 1-1/4in Sch 40", "pipe 1 1/4\" schedule 40", "pipe 1.25 sch40",
    "pipe 1-1/4, sch. 40", "pipe1-1/4 sch40", "pipe 1-1/4 sch std"])
@pytest.mark.parametrize("unit", ["mm", "in"])
def test_a_pipe_is_written_as_people_write_it_whatever_the_unit(text, unit):
    assert parse_tube(text, unit) == Round(42.164, 3.556)


def test_a_pipe_may_be_bent():
    assert parse_tube("pipe DN25 sch 40 bent to 150") == Bent(33.4, 150, 3.38)


@pytest.mark.parametrize(("text", "said"), [
    ("pipe 1-1/4 sch 41", "no schedule 41 of that size; write pipe 1-1/4 sch and one of 5, 10, 30,"
                          " 40, 80, 160, std, xs, xxs"),
    ("pipe DN15 sch 120", "write pipe DN15 sch and one of 5, 10, 30, 40, 80, 160, std, xs, xxs"),
    ("pipe 2", "no schedule; write pipe 2 sch and one of"),
    ("pipe 1-3/8 sch 40", "sizes near it are pipe 1, pipe 1-1/4, pipe 1-1/2"),
    ("pipe DN33 sch 40", "sizes near it are pipe DN25, pipe DN32, pipe DN40"),
    ("pipe 42.4 sch 40", "sizes near it are pipe 1, pipe 1-1/4, pipe 1-1/2"),
    ("pipe 42.2 sch 40", "sizes near it are pipe 1, pipe 1-1/4, pipe 1-1/2"),
    ("pipe", "no size; write one, such as pipe 1-1/4 sch 40"),
    ("pipe sch 40", "no size"),
    ("pipe big sch 40", "big is no pipe size"),
    ("pipe 1-1/4 sch 40s", "no schedule 40s"),
    ("pipe 1-1/4 sch 40 x 2", "x is given twice"),
    ("1-1/4 sch 40", "write pipe 1-1/4 sch 40"),
    ("DN32", "write pipe DN32 sch 40"),
    ("pip 1 sch 40", "did you mean pipe?")])
def test_a_pipe_that_there_is_not_is_answered_with_those_there_are(text, said):
    with pytest.raises(CoperError) as caught:
        parse_tube(text)
    assert said in str(caught.value) and "\n" not in str(caught.value)
