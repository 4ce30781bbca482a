"""An edit of a job's text: what it says becomes different, and nothing else."""

import tomllib

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coper.errors import CoperError
from coper.job.edit import Edit, edited, with_edits
from coper.job.toml_value import length_value, toml_text
from coper.units import UNITS, parse_length
from tests.profiles import examples

EDITS = (Edit("drop", 60.25), Edit("head_bottom", [381.5, 380], "front_centre"),
         Edit("front_centre", None), Edit("rear_wheel", "47-507"))

FORMS = {
    "a line for each key": "# top\n[bicycle]\n  drop = 58   # high\n  front_centre = 551 # old\n",
    "the last line without an end": "[bicycle]\ndrop = 58\nfront_centre = 551",
    "lines of another system": "[bicycle]\r\ndrop = 58 # é\r\nfront_centre = 551\r\n\r\n# end\r\n",
    "dotted": "bicycle.drop = 58\nbicycle . front_centre = 551 # x\n[tubes.a]\ndrop = 3\n",
    "inline": 'title = "x"\nbicycle = { drop = 58, front_centre = 551 } # { drop = 1 }\n',
    "inline, the old one first": "bicycle = {front_centre=551,drop=58}",
    "quoted": "[ 'bicycle' ]\n\"drop\" = 58\n'front_centre' = 551\n",
    "escaped": '["b\\u0069cycle"]\n"dro\\u0070" = 58\nfront_centre = 551\n',
    "wheels in parts": "[bicycle]\ndrop = 58\nrear_wheel.radius = 300 # r\nrear_wheel.tyre = 40\n"
                       "front_centre = 551\n",
    "wheels in parts, inline": "bicycle = { rear_wheel.radius = 300, rear_wheel.tyre = 40, "
                               "drop = 58, front_centre = 551 }\n",
    "wheels under a heading": "[bicycle]\ndrop = 58\nfront_centre = 551\n\n[bicycle.rear_wheel]\n"
                              "radius = 300 # r\ntyre = 40\n[tubes.a]\nfront_centre = 1\n",
    "the heading last": "[bicycle.rear_wheel]\nradius = 300\ntyre = 40\n[bicycle]\ndrop = 58\n"
                        "front_centre = 551\n",
    "a wheel in braces": "[bicycle]\nrear_wheel = { radius = 300, tyre = 40 } # { drop = 2 }\n"
                         "drop = 58\nfront_centre = 551\n",
    "words that look like keys": '''title = """
[bicycle]
drop = 1
"""
note = 'front_centre = 3 # no'
[points]
p = [
  1, # drop = 4, ]
  2, 3,
]
[[more]]
drop = 9
[bicycle]
drop = 58
front_centre = """551"""
''',
    "a value of several lines": '[bicycle]\ndrop = 58\nfront_centre = """\n551"""  # old\nrake = 4',
}


@pytest.mark.parametrize("text", FORMS.values(), ids=FORMS)
def test_exactly_the_keys_of_the_edits_change_however_they_are_written(text):
    found = tomllib.loads(edited(text, "bicycle", EDITS))
    assert found == with_edits(tomllib.loads(text), "bicycle", EDITS)
    assert found["bicycle"].pop("drop") == 60.25
    assert found["bicycle"].pop("head_bottom") == [381.5, 380]
    assert "front_centre" not in found["bicycle"] and found["bicycle"]["rear_wheel"] == "47-507"


@pytest.mark.parametrize("text", FORMS.values(), ids=FORMS)
def test_every_other_line_and_every_comment_stays_byte_for_byte_and_in_order(text):
    after = edited(text, "bicycle", EDITS)
    rest = iter(after.split("\n"))
    for line in text.split("\n"):
        if not any(word in line for word in ("dro", "front_centre", "wheel", "551", "radius",
                                             "tyre")):
            assert line in rest, line
    for comment in ("# high", "# old", "# x", "# end", "# { drop = 1 }", "# r", "# { drop = 2 }"):
        assert (comment in text) <= (comment in after)
    assert after.endswith("\n") == text.endswith("\n")
    assert after.count("\r\n") == (after.count("\n") if "\r" in text else 0)


def test_what_is_taken_out_stays_as_a_comment_and_a_comment_keeps_its_column():
    text = "[bicycle]\ndrop = 8     # high\nfront_centre = 551 # old fork\nrake = 45\n"
    assert edited(text, "bicycle", EDITS[:3]) == (
        "[bicycle]\ndrop = 60.25 # high\n# front_centre = 551 # old fork\n"
        "head_bottom = [381.5, 380]\nrake = 45\n")


def test_a_table_in_braces_that_is_taken_out_stays_whole_in_its_comment():
    text = '[points]\nlug = { from = "axle", by = [1, 2, 3] }    # measured\nend = [4, 5, 6]\n'
    assert edited(text, "points", [Edit("lug", None)]) == text.replace("lug =", "# lug =")


def test_no_edit_leaves_the_text_as_it_was():
    assert edited(FORMS["inline"], "bicycle", ()) == FORMS["inline"]


def test_an_empty_table_takes_its_first_key():
    for text in ("[bicycle]\n", "[bicycle]", "bicycle = {}", "bicycle = { }\n"):
        found = tomllib.loads(edited(text, "bicycle", [Edit("drop", 3)]))
        assert found == {"bicycle": {"drop": 3}}, text


def test_a_table_that_stands_nowhere_is_refused_in_one_line():
    with pytest.raises(CoperError, match="coper cannot change") as caught:
        edited("title = 'x'\n", "bicycle", [Edit("drop", 3)])
    assert "\n" not in str(caught.value) and caught.value.where == "bicycle"


@examples(60)
@given(st.floats(-90, 90), st.sampled_from(UNITS), st.sampled_from(UNITS))
def test_a_length_that_is_written_is_read_as_the_same(number, unit, other):
    mm = parse_length(f"{number:.9f}", other)
    value = tomllib.loads(f"a = {toml_text(length_value(mm, unit))}")["a"]
    text = value if isinstance(value, str) else f"{value:.12f}"
    assert parse_length(text, unit) == mm


def test_a_length_has_the_fewest_decimals_of_the_jobs_unit():
    assert length_value(393.7, "in") == 15.5 and length_value(395.0, "mm") == 395
    assert length_value(395.0, "in") == "395mm"
    assert length_value(382.594382819371, "mm", 1e-7) == 382.5943828


def test_a_key_at_the_top_of_the_file_is_edited_and_those_of_tables_stay():
    text = 'title = "old"   # mine\n[bicycle]\ntitle = 3\n'
    assert edited(text, "", [Edit("title", "new")]) == text.replace("old", "new")


def test_a_byte_order_mark_stays_at_the_beginning():
    assert edited("\ufeff[bicycle]\ndrop = 3\n", "bicycle", [Edit("drop", 4)]) == (
        "\ufeff[bicycle]\ndrop = 4\n")


ENDS = {
    "in braces": "[tubes.a]\nshape = 'x' # s\nstart = { at = [0, 0, 1], on = ['b'] } # c\n",
    "all in braces": "[tubes]\na = { shape = 'x', start = { on = ['b'], at = [0, 0, 1] } }"
                     " # c # s\n",
    "dotted": "tubes.a.shape = 'x' # s\ntubes.a.start.at = [0, 0, 1]\n"
              "tubes.a.start.on = ['b'] # c\n",
    "dotted in a table": "[tubes.a]\nstart.on = ['b'] # c\n"
                         "start.at = [\n0, # s\n0, 1]\nshape = 'x'",
    "headed": "[tubes.a]\nshape = 'x'\n[tubes.a.start] # c\non = ['b'] # s\nat = [0, 0, 1]\n",
}
VALUES = st.one_of(st.none(), st.integers(-9, 9), st.booleans(),
                   st.floats(-9, 9).map(lambda value: round(value, 9)),
                   st.text("a#\"'\\{},= é", max_size=5),
                   st.lists(st.sampled_from([1, "b", 2.5]), max_size=3))


@examples(60)
@given(st.sampled_from(sorted(ENDS)), st.sampled_from(["\n", "\r\n"]),
       st.lists(st.tuples(st.sampled_from(["on", "back", "cap", "mitre"]), VALUES), max_size=4))
def test_an_end_of_a_tube_is_edited_however_it_is_written_and_all_else_stays(form, ends, typed):
    text = f"# top\n{ENDS[form]}".replace("\n", ends)
    edits = [Edit(key, value) for key, value in typed]
    after = edited(text, ("tubes", "a", "start"), edits)
    start = tomllib.loads(after)["tubes"]["a"].pop("start")
    wanted = {"at": [0, 0, 1], "on": ["b"]}
    for key, value in typed:
        wanted.pop(key, None)
        if value is not None:
            wanted[key] = value
    assert {key: pytest.approx(value) if isinstance(value, float) else value
            for key, value in wanted.items()} == start
    assert all(mark in after for mark in ("# top", "# c", "# s"))
    assert after.count("\r\n") == (after.count("\n") if ends == "\r\n" else 0)
