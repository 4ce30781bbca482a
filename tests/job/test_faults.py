"""Bad job files: every fault at once, each with its dotted path and how to mend it."""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coper import CoperError, JobError, make_pieces, parse_job
from tests.profiles import examples

SHELL = """
[tubes.shell]
shape = "40 x 3"
start = { at = [0, -34, 0] }
end = { at = [0, 34, 0] }
"""
STAY = """
[tubes.stay]
shape = "22.2 x 0.8"
start = { at = [-4, 20, 0], on = ["shell"] }
end = { at = [-400, 60, 60], back = 15 }
"""
GOOD = SHELL + STAY


def stay(old, new):
    """The good job with one thing of its stay changed."""
    assert old in STAY
    return SHELL + STAY.replace(old, new)


def shell(old, new):
    assert old in SHELL
    return SHELL.replace(old, new) + STAY


def head(text):
    return text + GOOD


BAD = [
    # the file
    ("tubes = [", "line 1", "a bracket is not closed"),
    ("[tubes.shell]\nshape = 40 x 3\n", "line 2 column 12", "text needs quotes"),
    ("[tubes.a]\n[tubes.a]\n", "line 2", "stands twice, first in line 1"),
    ("x = " + "[" * 3000, "", "too deep"),
    ("x = " + "9" * 5000, "", "not valid TOML"),
    ("", "tubes", "no tube"),
    ("tubes = 3", "tubes", "not a table"),
    # the head
    (head('titel = "Wagtail"'), "titel", "did you mean title?"),
    (head('"bad key\\n" = 1'), '"bad key"', "no such key"),
    (head("title = 7"), "title", "in quotes"),
    (head('units = "furlong"'), "units", "known are cm, ft, in, m, mm"),
    (head("[bicycle]\nwheel = 622"), "bicycle.wheel", "did you mean wheelbase?"),
    (head("[shop]\nproces = 'tig'"), "shop.proces", "did you mean process?"),
    (head("[shop]\nprocess = 3"), "shop.process", "in quotes"),
    (head("[shop]\ngap_limit = 'much'"), "shop.gap_limit", "much"),
    (head("[shop]\ngap_limit = -0.3"), "shop.gap_limit", "above 0"),
    (head("[shop]\nsaws = '1in'"), "shop.saws", "not a list"),
    (head("[shop]\nsaws = ['1in', '1x']"), "shop.saws[1]", "1x"),
    (head("[shop]\nblocks = [true]"), "shop.blocks[0]", "true is not a number"),
    (head("shop = 3"), "shop", "not a table"),
    # points
    (head("[points]\naxle = [1, 2]"), "points.axle", "[x, y, z]"),
    (head("[points]\naxle = [1, 2, nan]"), "points.axle[2]", "finite"),
    (head("[points]\naxle = [1, 2, inf]"), "points.axle[2]", "finite"),
    (head("[points]\naxle = [1, 2, 1" + "0" * 400 + "]"), "points.axle[2]", "many digits"),
    (head("[points]\naxle = [1, 2, 2e9]"), "points.axle[2]", "longer than 100 m"),
    (head("[points]\naxle = ['1mm', '2,5', 3]"), "points.axle[1]", "write 2.5"),
    (head("[points]\naxle = 3"), "points.axle", "not a point"),
    (head("[points]\naxle = {}"), "points.axle", "without numbers"),
    (head("[points]\naxle = { from = 'lug' }"), "points.axle.by", "missing"),
    (head("[points]\naxle = { by = [0, 0, 0] }"), "points.axle.from", "missing"),
    (head("[points]\naxle = { from = [0, 0, 0], by = [0, 0] }"), "points.axle.by", "not a point"),
    (head("[points]\naxle = [0, 0, 0]\nlug = { from = 'axel', by = [1, 0, 0] }"),
     "points.lug.from", "did you mean axle?"),
    (head("[points]\na = { from = 'a', by = [1, 0, 0] }"), "points.a.from", "a from a"),
    (head("[points]\na = { from = 'b', by = [1, 0, 0] }\nb = { from = 'a', by = [1, 0, 0] }"),
     "points.b.from", "in a circle: a from b from a"),
    (head("[points]\n" + "".join(
        f"p{n} = {{ from = 'p{n + 1}', by = [1, 0, 0] }}\n" for n in range(300))),
     "points.p100.from", "chain of over 100"),
    # a tube by itself
    ("tubes.shell = 3", "tubes.shell", "not a table"),
    (shell('shape = "40 x 3"', ""), "tubes.shell.shape", "missing"),
    (shell('"40 x 3"', "40"), "tubes.shell.shape", "in quotes"),
    (shell('"40 x 3"', '"40 x 30"'), "tubes.shell.shape", "too thick"),
    (shell('"40 x 3"', '"40 x 18ga"'), "tubes.shell.shape", "18bwg"),
    (shell("end = { at = [0, 34, 0] }", ""), "tubes.shell.end", "missing"),
    (shell("{ at = [0, 34, 0] }", "[0, 34, 0]"), "tubes.shell.end", "not a table"),
    (shell("{ at = [0, 34, 0] }", "{ }"), "tubes.shell.end.at", "missing"),
    (shell("[0, 34, 0]", "'top'"), "tubes.shell.end.at", "add it under [points]"),
    (shell("[0, 34, 0]", "[0, -34, 0]"), "tubes.shell", "same point"),
    (shell('"40 x 3"', '"16 bent to 30"'), "tubes.shell", "within 60 mm"),
    (stay("back = 15", "bak = 15"), "tubes.stay.end.bak", "did you mean back?"),
    (stay("back = 15", "back = -1"), "tubes.stay.end.back", "move the end's point"),
    (stay("back = 15", "back = 600"), "tubes.stay", "nothing is left"),
    (stay("back = 15", "cut = 'square'"), "tubes.stay.end.cut", "seats on nothing"),
    (stay('on = ["shell"]', 'on = ["shell"], cut = "squared"'), "tubes.stay.start.cut",
     "did you mean square?"),
    (stay('on = ["shell"]', 'on = ["shell"], back = 3'), "tubes.stay.start.back", "take out"),
    (GOOD + "turn = 'north'", "tubes.stay.turn", "north"),
    (GOOD + "mirror = 'yes'", "tubes.stay.mirror", "true or false"),
    (GOOD + "miror = true", "tubes.stay.miror", "did you mean mirror?"),
    (GOOD + '["tubes"."odd name"]', 'tubes."odd name".shape', "missing"),
    # what tubes say of each other
    (stay('["shell"]', '"shell"'), "tubes.stay.start.on", 'write ["shell"]'),
    (stay('["shell"]', "[]"), "tubes.stay.start.on", "leave it out"),
    (stay('["shell"]', "[3]"), "tubes.stay.start.on[0]", "in quotes"),
    (stay('["shell"]', '["shel"]'), "tubes.stay.start.on", "did you mean shell?"),
    (stay('["shell"]', '["shell", "shell"]'), "tubes.stay.start.on", "twice"),
    (stay('["shell"]', '["stay"]'), "tubes.stay.start.on", "on itself"),
    (stay('"22.2 x 0.8"', '"22.2"'), "tubes.stay.shape", "no wall"),
    (stay('"22.2 x 0.8"', '"plate 6"'), "tubes.stay.shape", "cannot be coped"),
    (stay('"22.2 x 0.8"', '"22.2 bent to 900 x 0.8"'), "tubes.stay.shape", "cannot be coped"),
    (shell('"40 x 3"', '"oval 40 by 30 to 20 over 60 x 2"'), "tubes.stay.start.on", "be a main"),
    (SHELL.replace("34, 0] }\n", '34, 0], on = ["stay"] }\n') + STAY, "tubes.",
     "in a circle"),
    # where they stand
    (stay("[-4, 20, 0]", "[-4, 20, 90]").replace("60, 60]", "60, 90]"), "tubes.stay.start",
     "misses the main by"),
    (stay("[-400, 60, 60]", "[-4, 90, 0]"), "tubes.stay.start", "same direction"),
    (stay("[-400, 60, 60]", "[-400, 20, 60]").replace("[-4, 20", "[-4, 0").replace("20,", "0,")
     + "mirror = true", "tubes.stay", "middle plane"),
    (GOOD + "mirror = true\n[tubes.strut]\nshape = '10 x 1'\n"
     "start = { at = [-200, 0, 40], on = ['stay'] }\nend = { at = [-200, 0, 300] }\n",
     "tubes.strut.start", "as near to the left stay"),
    (shell('"40 x 3"', '"plate 6"').replace("[0, -34, 0] }", "[0, -34, 0] }\nturn = 90"),
     "tubes.stay.start", "behind the plate's face"),
    (stay('"22.2 x 0.8"', '"8 to 40 over 80 x 0.8"').replace("[-4, 20, 0]", "[-100, 20, 0]"),
     "tubes.stay.start", "closes at along -20.00 mm"),
]


@pytest.mark.parametrize(("text", "path", "said"), BAD, ids=lambda value: value[-40:])
def test_a_fault_is_named_with_its_path_and_how_to_mend_it(text, path, said):
    with pytest.raises(JobError) as caught:
        make_pieces(parse_job(text))
    found = [(fault.where, str(fault)) for fault in caught.value.faults]
    assert [line for where, line in found if where.startswith(path) and said in line], found
    assert all("\n" not in line and "; " in line for _, line in found)


def test_there_are_at_least_thirty_kinds_of_bad_file():
    assert len(BAD) >= 30


def test_the_good_job_is_good():
    assert len(make_pieces(parse_job(GOOD))) == 2


def test_all_faults_come_at_once_one_a_line():
    text = """
    units = "furlong"
    [points]
    axle = [1, 2]
    [tubes.a]
    shape = "28.6 x 20"
    start = { at = "axel" }
    [tubes.b]
    shape = "28.6"
    start = { at = [0, 0, 0], on = ["c"] }
    end = { at = [0, 0, 100], bakc = 3 }
    """
    with pytest.raises(JobError) as caught:
        parse_job(text)
    where = [fault.where for fault in caught.value.faults]
    assert set(where) == {
        "units", "points.axle", "tubes.a.shape", "tubes.a.start.at", "tubes.a.end",
        "tubes.b.start.on", "tubes.b.end.bakc", "tubes.b.shape"}
    assert len(str(caught.value).splitlines()) == len(where)


def test_a_fault_of_a_mirrored_tube_is_listed_once():
    with pytest.raises(JobError) as caught:
        make_pieces(parse_job(
            stay("[-4, 20, 0]", "[-4, 20, 90]").replace("60, 60]", "60, 90]") + "mirror = true"))
    assert len(caught.value.faults) == 1


def test_a_longer_circle_of_tubes_is_listed_once():
    text = "".join(
        f"[tubes.{one}]\nshape = '20 x 1'\nstart = {{ at = [{at}, 0, 0], on = ['{other}'] }}\n"
        f"end = {{ at = [{at}, 90, 9] }}\n"
        for at, (one, other) in enumerate((("a", "b"), ("b", "c"), ("c", "a"), ("d", "a"))))
    with pytest.raises(JobError) as caught:
        parse_job(text)
    fault, = caught.value.faults
    assert "a on b on c on a" in str(fault)


def test_points_may_be_written_before_those_that_they_start_from():
    job = parse_job("[points]\nlug = { from = 'axle', by = [1, '1in', 3] }\naxle = [4, 5, 6]\n"
                    + GOOD)
    assert job.points["lug"] == (5, 30.4, 9)


JUNK = st.one_of(
    st.sampled_from(["nan", "inf", "-inf", "1e400", "true", "[]", "{}", "''", "'1/0in'", "[[1]]",
                     "1979-05-27", "0", "-0.0", "-1e5", "99999", "'shell'", "['shell', 'stay']",
                     "'plate 6'", "'box 3 by 900 x 1'", "'90 to 1 over 1 x 0.4'", "1e-300"]),
    st.floats(allow_nan=False).map(repr), st.integers().map(str), st.text(max_size=8).map(repr))
VALUES = [found.span() for found in re.finditer(
    r'"[^"\n]*"|(?<=[ \[])-?\d+|\{.*\}|\[[^\]a-z]+\]', GOOD)]


@examples(150)
@given(st.sampled_from(VALUES), JUNK, st.sampled_from(VALUES), JUNK)
def test_no_value_ends_in_a_traceback(first, junk, second, other):
    (low, to), (since, high) = sorted((first, second))
    text = GOOD[:low] + junk + (GOOD[to:since] + other + GOOD[high:] if to <= since else GOOD[to:])
    try:
        make_pieces(parse_job(text))
    except CoperError as error:
        assert str(error)
