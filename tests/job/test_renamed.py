"""Tables added, taken out and called otherwise: all that names them follows, the rest stays."""

import re
import tomllib
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coper.errors import CoperError
from coper.job.edit import Edit, edited
from coper.job.new_table import with_point, with_tube
from coper.job.read import parse_job
from coper.job.references import references
from coper.job.renamed import removed, renamed, users_of
from coper.job.toml_value import toml_key, toml_text
from tests.profiles import examples

DEMO = Path(__file__).parents[2] / "demo"
JOBS = {name: (DEMO / f"{name}.toml").read_text() for name in ("wagtail", "dipper")}

SMALL = """\
title = "rail" # rail
[points]
post = [0, 0, 300]              # "post"
foot = { from = "post", by = [0, 0, -300] }
mid = { along = "rail", by = 20 }
[tubes.rail] # the rail
shape = "25 x 2"
start = { at = [0, 0, 0], on = [
  "upright",                    # "rail"
] }
end = { at = "post" }
[ 'tubes'.upright ]
shape = '20 x 1'
start = { at = [0, -50, 0] }
end.at = [0, 50, 0]
[drive]
rear_brake = { bolt = "rail", reach = [47, 57] }
""".replace("[\n  \"upright\",                    # \"rail\"\n]", '["upright"]')

NAMES = st.text("ab-é 'x.\"\\", min_size=1, max_size=8).filter(lambda name: name.strip() == name)

FORMS = ("{0} = {{ shape = 'x', start = {{ at = {1} }} }}",
         "{0}.shape = 'x'\n{0}.start = {{ at = {1} }}")


def plan_of(job):
    """What a job says, without the names of its tubes and points, nor its text."""
    tubes = [replace(tube, name="", start=replace(tube.start, on=(), mitre=""),
                     end=replace(tube.end, on=(), mitre="")) for tube in job.tubes]
    seats = [(len(end.on), bool(end.mitre)) for tube in job.tubes for end in (tube.start, tube.end)]
    return tubes, seats, list(job.points.values()), job.drive, job.rack, job.table


@pytest.mark.parametrize("which", JOBS)
@pytest.mark.parametrize("named", ["tubes", "points"])
def test_every_name_of_a_job_can_be_another_and_the_job_is_the_same(which, named):
    text = JOBS[which]
    before = parse_job(text)
    for name in tomllib.loads(text)[named]:
        text = renamed(text, named, name, f"{name} é.2")
    after = parse_job(text)
    assert plan_of(after) == plan_of(before)
    seats = {(tube.name, end.on, end.mitre) for tube in before.tubes
             for end in (tube.start, tube.end)}

    def new(name):
        return f"{name} é.2" if name and named == "tubes" else name

    assert {(tube.name, end.on, end.mitre) for tube in after.tubes
            for end in (tube.start, tube.end)} == {
                (new(name), tuple(map(new, on)), new(mitre)) for name, on, mitre in seats}
    assert re.sub(r"\s+#.*", "", text).count("é.2") >= len(tomllib.loads(text)[named])
    assert re.findall("#.*", text) == re.findall("#.*", JOBS[which])


def test_only_what_means_the_tube_is_written_anew_byte_for_byte():
    assert renamed(SMALL, "tubes", "rail", "bar") == (
        SMALL.replace("[tubes.rail]", "[tubes.bar]").replace('along = "rail"', 'along = "bar"')
        .replace('bolt = "rail"', 'bolt = "bar"'))
    windows = SMALL.replace("\n", "\r\n")
    assert renamed(f"\ufeff{windows}", "points", "post", "top") == "\ufeff" + (
        windows.replace("post = [", "top = [").replace('at = "post"', 'at = "top"')
        .replace('from = "post"', 'from = "top"'))
    assert renamed(SMALL, "tubes", "upright", "a b") == (
        SMALL.replace("'tubes'.upright", "'tubes'.\"a b\"").replace('["upright"]', '["a b"]'))


@examples(60)
@given(st.lists(NAMES, min_size=2, max_size=2, unique=True), st.sampled_from(FORMS),
       st.sampled_from(["\n", "\r\n"]))
def test_whatever_the_names_are_a_tube_and_its_point_are_renamed_there_and_back(
        names, form, ends):
    old, new = names
    body = form.format(toml_key(old), toml_text(old))
    text = f"[points]\nq = {toml_text(old)} # {old!r}\n[tubes]\n{body}\n".replace("\n", ends)
    once = renamed(text, "tubes", old, new)
    found = tomllib.loads(once)
    assert found["tubes"][new]["start"]["at"] == old and found["points"]["q"] == old
    assert tomllib.loads(renamed(once, "tubes", new, old)) == tomllib.loads(text)
    assert once.count(ends) == text.count(ends)


@pytest.mark.parametrize(("named", "new"), [
    ("tubes", "upright"), ("points", "foot"), ("tubes", "foot"), ("points", "upright"),
    ("points", "axle"), ("tubes", "seat-axis")])
def test_a_name_that_is_taken_is_refused(named, new):
    with pytest.raises(CoperError, match="another name"):
        renamed(SMALL, named, "rail" if named == "tubes" else "post", new)
    with pytest.raises(CoperError, match="choose one"):
        renamed(SMALL, named, "nobody", "x")


def test_what_is_needed_elsewhere_is_not_taken_out_and_by_whom_is_said():
    with pytest.raises(CoperError, match=r"tubes\.upright: it is needed by tubes\.rail\.start\.on"):
        removed(SMALL, "tubes", "upright")
    with pytest.raises(CoperError, match=r"points\.mid\.along, drive\.rear_brake\.bolt"):
        removed(SMALL, "tubes", "rail")
    with pytest.raises(CoperError, match=r"points\.foot\.from, tubes\.rail\.end\.at"):
        removed(SMALL, "points", "post")


def test_a_tube_that_is_taken_out_stays_as_a_comment_and_the_rest_as_it_was():
    text = JOBS["wagtail"]
    after = removed(text, "tubes", "rack-rail")
    assert [tube.name for tube in parse_job(after).tubes] == [
        tube.name for tube in parse_job(text).tubes if tube.name != "rack-rail"]
    assert after.replace("# [tubes.rack-rail]", "[tubes.rack-rail]").count("\n") == text.count("\n")
    assert "\n# [tubes.rack-rail]\n# shape" in after
    table = text[text.index("[tubes.rack-rail]"):].split("\n\n")[0].rstrip()
    assert "# " + table.replace("\n", "\n# ") in after, "its ends too, whole"


def test_without_its_only_tube_a_job_is_one_that_is_begun():
    text = 'title = "t"\n[tubes.a]\nshape = "20"\nstart = { at = [0, 0, 0] } # y\n'
    after = removed(text, "tubes", "a")
    assert tomllib.loads(after) == {"title": "t", "tubes": {}} and "# y" in after
    assert tomllib.loads(with_tube(after, "b", {"shape": "x"}))["tubes"] == {"b": {"shape": "x"}}


def test_a_new_tube_stands_behind_the_last_one_whatever_comes_after_it():
    keys = {"shape": "20 x 1", "start": {"at": [0, 0, 1.5], "on": ["upright"]}, "mirror": True}
    after = with_tube(SMALL, "bar 2", keys)
    assert after == SMALL.replace("[drive]", '\n[tubes."bar 2"]\nshape = "20 x 1"\n'
                                  'start = { at = [0, 0, 1.5], on = ["upright"] }\nmirror = true\n'
                                  '\n[drive]')
    assert tomllib.loads(after)["tubes"]["bar 2"] == keys
    for bare in ("", 'title = "x"', "tubes = { }\n", "tubes.a.shape = 'x'\ntitle = 'y'\n",
                 "[tubes]\na = { shape = 'x' }\n[points]\n", "\ufeff[shop]\r\nkerf = 1\r\n"):
        found = with_tube(bare, "b", keys)
        assert tomllib.loads(found.lstrip("\ufeff"))["tubes"]["b"] == keys, bare
        assert found.count("\r\n") == (found.count("\n") if "\r" in bare else 0)
    with pytest.raises(CoperError, match="of that name"):
        with_tube(SMALL, "rail", keys)


def test_the_first_point_stands_before_the_tubes_and_others_under_it():
    text = '[shop]\nkerf = 1\n\n# mine\n[tubes.a]\nshape = "x"\n'
    after = with_point(text, "p", [0, 0, 1])
    assert after == text.replace("kerf = 1\n", "kerf = 1\n\n[points]\np = [0, 0, 1]\n")
    assert tomllib.loads(with_point(after, "q", "p"))["points"] == {"p": [0, 0, 1], "q": "p"}
    assert with_point('[tubes.a]\nshape = "x"\n', "p", "q").startswith('[points]\np = "q"\n\n[tub')


def test_the_keys_of_a_table_in_braces_are_edited_one_by_one():
    text = SMALL
    for where, edits, old, new in (
            (("tubes", "rail", "start"), [Edit("on", None)], ', on = ["upright"] }', " }"),
            (("tubes", "rail", "end"), [Edit("back", 5)], '"post" }', '"post", back = 5 }'),
            (("tubes", "upright", "end"), [Edit("back", 5)], "end.at = [0, 50, 0]\n",
             "end.at = [0, 50, 0]\nend.back = 5\n"),
            (("tubes", "rail"), [Edit("mirror", value=True, after="shape")], '"25 x 2"\n',
             '"25 x 2"\nmirror = true\n')):
        assert edited(text, where, edits) == text.replace(old, new)


def test_every_reference_of_the_demos_is_found():
    found = [one.name for text in JOBS.values() for one in references(tomllib.loads(text))]
    named = r'(?:at|on|mitre|along|from|bolt|corners) = (?:"(?!.*-axis)|\[")'
    quoted = sum(len(re.findall(named, text)) for text in JOBS.values())
    assert len(found) >= quoted
    assert {"hoop-left", "seat-stay", "tongue", "stay-bridge", "stays-meet", "kink"} <= set(found)
    assert list(users_of(tomllib.loads(JOBS["dipper"]), "points", "hoop-right")) == [
        "tubes.hoop.corners"]
