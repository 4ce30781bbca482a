"""Ends that land past their mains."""

import pytest

from coper import make_pieces, parse_job
from coper.job.faults import JobError

RAIL = """\
[tubes.rail]
shape = "30 x 2"
start = { at = [0, 0, 0] }
end = { at = [200, 0, 0] }
"""


def post(x, on='["rail"]', name="post", lean=0):
    return f"""\
[tubes.{name}]
shape = "20 x 1"
start = {{ at = [{x}, 0, 0], on = {on} }}
end = {{ at = [{x + lean}, 0, 150] }}
"""


def faults(job):
    try:
        make_pieces(parse_job(job))
    except JobError as error:
        return str(error)
    return ""


@pytest.mark.parametrize(("x", "which", "by"), [(211, "end", "1"), (-40.5, "start", "30.5")])
def test_an_end_wholly_past_its_mains_end_is_refused_with_the_distance(x, which, by):
    assert faults(RAIL + post(x)) == (
        f"tubes.post.start: it lands wholly past the {which} of rail, by {by} mm: there is nothing "
        "to seat on; make rail longer, move this end's point, or change what it is on")


def test_one_that_only_touches_the_last_of_the_main_is_refused_too():
    assert "by 0 mm" in faults(RAIL + post(210))


@pytest.mark.parametrize(("x", "share"), [(209, "86%"), (200, "50%"), (191, "14%")])
def test_one_that_lands_partly_past_it_is_a_caution_that_says_how_much(x, share):
    _, piece = make_pieces(parse_job(RAIL + post(x)))
    said, = (caution for caution in piece.cautions if "footprint" in caution)
    assert f"runs {x - 190} mm past rail's end point: leave rail" in said
    assert f"or {share} of the edge has nothing to be welded to" in said


def test_the_main_counts_as_it_is_cut_not_as_it_was_drawn():
    short = RAIL.replace("[200, 0, 0] }", "[200, 0, 0], back = 40 }")
    assert "past the end of rail, by 5 mm" in faults(short + post(175))
    # The rail ends at a wall that stands aslant beyond its point, and is cut longer than drawn.
    wall = """\
[tubes.wall]
shape = "60 x 2"
start = { at = [260, 0, -200] }
end = { at = [260, 0, 200] }
"""
    longer = RAIL.replace("[200, 0, 0] }", '[200, 0, 0], on = ["wall"] }')
    assert "past the end" in faults(RAIL + wall + post(212))
    assert faults(longer + wall + post(212)) == ""


def test_of_several_mains_one_that_holds_is_enough():
    beside = """\
[tubes.beside]
shape = "30 x 2"
start = { at = [225, -100, 0] }
end = { at = [225, 100, 0] }
"""
    assert faults(RAIL + beside + post(215, '["rail", "beside"]')) == ""
    assert "past the end of rail" in faults(RAIL + beside + post(215, '["rail"]'))


def test_two_mains_that_meet_end_to_end_in_line_hold_a_tube_on_either_side():
    second = """\
[tubes.second]
shape = "30 x 2"
start = { at = [200, 0, 0] }
end = { at = [400, 0, 0] }
"""
    for x in (150, 200, 260):
        for on in ('["rail", "second"]', '["second", "rail"]'):
            assert faults(RAIL + second + post(x, on)) == ""
    assert "past the end of second, by 5 mm" in faults(
        RAIL + second + post(415, '["rail", "second"]'))


def test_a_leg_and_a_bend_that_meet_at_a_point_are_no_fault():
    bend = """\
[tubes.bend]
shape = "30 bent to 120 x 2"
start = { at = [200, 0, 0], on = ["rail"] }
end = { at = [320, 120, 0] }
"""
    plain = bend.replace(', on = ["rail"]', "")
    assert faults(RAIL + plain + post(198, '["rail", "bend"]')) == ""
    assert faults(RAIL + plain) == ""


def test_a_twin_has_the_fault_once():
    job = RAIL + post(260).replace("[260, 0, 0]", "[260, 9, 0]").replace(
        "[260, 0, 150] }", "[260, 9, 150] }\nmirror = true")
    assert faults(job).count("wholly past") == 1


PLATE = """\
[tubes.foot]
shape = "plate 6 by 80"
start = { at = [0, 0, 0] }
end = { at = [200, 0, 0] }
"""


def stand(y):
    return post(100, '["foot"]').replace("[100, 0,", f"[100, {y},")


@pytest.mark.parametrize(("y", "edge"), [(35, "left"), (-35, "right")])
def test_a_footprint_past_a_plates_edge_is_a_caution_and_one_wholly_past_it_is_refused(y, edge):
    """The plate goes forward, so its left edge is to the left, at greater y."""
    _, piece = make_pieces(parse_job(PLATE + stand(y)))
    said, = (caution for caution in piece.cautions if "footprint" in caution)
    assert f"runs 5 mm past foot's {edge} edge: leave foot so much wider there, or 33%" in said
    assert f"wholly past the {edge} edge of foot, by 20 mm" in faults(PLATE + stand(y * 2))
    assert "make foot wider" in faults(PLATE + stand(y * 2))
    assert not make_pieces(parse_job(PLATE + stand(y * 0.8)))[1].cautions
