"""The second column of Measure: what another fork, other wheels or another rear end would do."""

import json
import re
from html import unescape

import numpy as np
import pytest

from coper.bicycle.change import Change, changed
from coper.job.read import parse_job
from coper.page.answers.measure import measuring
from coper.page.answers.trying import FIELDS, NAMES, kept_text, trying
from coper.units import format_angle, format_short
from coper.verbs.changes import READERS
from tests.cli.run import run
from tests.page.pages import DEMO, OWN, beside, client, fields, go, part, send, wagtail

TEXT = (DEMO / "wagtail.toml").read_text()
INCHES = (DEMO.parent / "coper/job/starters/bicycle-in.toml").read_text()
STAY = """[tubes.stay]
shape = "16 x 0.8"
start = { at = [-40, 30, 20] }
end = { at = { from = "axle-left", by = [20, 0, 0] } }
mirror = true
"""
FORK = {"try.fork_length": "395", "try.front_wheel": "47-507"}


def column(typed, text=TEXT, **more):
    return trying(text, "wagtail.toml", typed, **more)


def field(typed, key, text=TEXT):
    return next(one for one in column(typed, text).fields if one.key == f"try.{key}")


@pytest.fixture
def one(tmp_path):
    wagtail(tmp_path)
    return client(tmp_path)


def keep(one, **typed):
    before = fields(one.get("/wagtail/measure"))
    return one.post("/wagtail/what-if/keep", headers=OWN,
                    data={"as_of": before["as_of"], **{f"try.{key}": words
                                                       for key, words in typed.items()}})


def test_everything_that_the_command_line_can_change_has_its_field():
    assert set(NAMES) == set(READERS) == set(Change.__dataclass_fields__)
    assert [one.key for one in column({}).fields] == list(FIELDS) and column({}).rows == ()


def test_the_measures_before_and_after_are_those_of_the_command_line(tmp_path):
    path = wagtail(tmp_path)
    status, out, _ = run("bicycle", str(path), "--fork-length", "395", "--front-wheel", "47-507",
                         "--json")
    record = json.loads(out)["change"]
    rows = {row[0]: row[1:] for row in column(FORK).rows}
    assert status == 0
    for name, key, words in (("trail", "trail", format_short), ("wheelbase", "wheelbase",
                             format_short), ("bottom bracket height", "bracket_height",
                             format_short), ("head angle on the ground", "head_angle",
                             format_angle), ("seat angle on the ground", "seat_angle",
                                             format_angle)):
        assert rows[name][:2] == (words(record["before"][key]), words(record["after"][key]))
        assert rows[name][0] != rows[name][1]
        assert rows[name][2].lstrip("+") == words(record["difference"][key])


def test_the_page_says_all_that_the_command_line_says_of_a_change_that_it_writes(tmp_path):
    path = wagtail(tmp_path)
    _, out, _ = run("bicycle", str(path), "--drop", "70", "--write", str(tmp_path / "new.toml"))
    found = column({"try.drop": "70"})
    facts = {fact.name: fact.words for fact in found.facts}
    assert "seat-stay, its end" in facts["tubes that move"]
    for words in (*facts.values(), "points that move"):
        assert words.split(";")[0] in " ".join(out.split())
    assert any(block.kind == "grid" and block.items[0].head.startswith("[bicycle] in")
               for block in found.blocks)


def test_keep_leaves_the_head_tubes_points_where_they_are_and_undo_brings_all_back(one, tmp_path):
    """A wheelbase that was measured with the old fork would move the head tube."""
    path = tmp_path / "wagtail.toml"
    text = re.sub(r"(?m)^(reach|stack) = .*\n", "", TEXT).replace(
        "[bicycle]", "[bicycle]\nwheelbase = 963.7")
    path.write_text(text)
    before = parse_job(text).bicycle.points
    answer = keep(one, fork_length="395", drop="60")
    assert answer.status_code == 200 and fields(answer)["try.fork_length"] == ""
    after = parse_job(path.read_text())
    for name in ("head-bottom", "head-top"):
        assert after.bicycle.points[name] == pytest.approx(before[name], abs=1e-4)
    assert after.measured.fork_length == 395 and after.measured.drop == 60
    assert after.measured.wheelbase is None
    assert np.linalg.norm(np.subtract(after.bicycle.points["front-axle"],
                                      before["front-axle"])) > 40
    go(one, "undo")
    assert path.read_text() == text


def test_the_text_that_is_kept_is_the_one_that_the_command_line_writes(tmp_path):
    path, new = wagtail(tmp_path), tmp_path / "new.toml"
    run("bicycle", str(path), "--fork-length", "395", "--front-wheel", "47-507", "--write",
        str(new))
    assert kept_text(TEXT, FORK).text == new.read_text()


@pytest.mark.parametrize(("key", "typed", "words"), [
    ("fork_length", "abc", "abc: no number in this length"),
    ("fork_length", "-5", "cannot be the length of a fork"),
    ("rear_wheel", "40", "is not a tyre size"), ("drop", "500", "the chain_stay is 419 mm long"),
    ("head_angle", "40", "below the ground"), ("head_angle", "7", "not a bicycle's angle"),
    ("rake", "9" * 300, "300 characters"), ("front_wheel", "57-622", "THE WHEEL DOES NOT GO IN"),
    ("drop", "\x7f", "no number")])
def test_what_cannot_be_stands_beside_its_field_in_the_command_lines_words(key, typed, words):
    one = field({f"try.{key}": typed}, key)
    assert one.typed == typed and words in " ".join(one.wrong)
    assert all(other.wrong == () for other in column({f"try.{key}": typed}).fields
               if other.key != one.key)


def test_a_number_that_no_frame_has_is_asked_about_beside_the_one_that_is_tried():
    one = field({"try.rake": "118"}, "rake")
    assert "with it the trail is" in " ".join(one.asked) and one.wrong == ()


def test_a_bare_number_is_in_the_jobs_unit_and_a_comma_is_its_point():
    assert field({"try.fork_length": "15.5"}, "fork_length", INCHES).said.startswith("15-1/2 in")
    assert field({"try.rake": "43,5"}, "rake").said.startswith("43.50 mm")


def test_what_a_change_needs_and_the_bicycle_has_not_is_said():
    text = '[bicycle]\ndrop = 60\nchain_stay = 420\nrear_wheel = "40-507"\n'
    assert "no fork to change" in field({"try.rake": "43"}, "rake", text).wrong[0]
    assert column({"try.drop": "70"}, text).rows


def test_a_job_without_a_bicycle_or_that_does_not_load_has_no_second_column():
    for text in ((DEMO / "dipper.toml").read_text(), "[bicycle]\ndrop = "):
        assert column(FORK, text).fields == ()


def test_the_tyres_room_is_that_of_the_command_line_before_and_after(tmp_path):
    typed, path = {"try.rear_wheel": "64-507"}, tmp_path / "small.toml"
    text = STAY + TEXT[TEXT.index("[bicycle]"):TEXT.index("[drive]")]
    path.write_text(text)
    _, before, _ = run("clearance", str(path))
    _, out, _ = run("clearance", str(path), "--rear-wheel", "64-507")
    assert column(typed, text).rooms is None
    found = column(typed, text, with_rooms=True).rooms
    name, was, now = found.rows[0]
    assert name == "rear tyre's least room" and was.split(",")[0] in before
    assert now.split(",")[0] in out and now.startswith("fouls by") and "rear tyre" in found.wrong[0]


def drawn(typed):
    """The dashed lines of the picture, as (points of it)."""
    picture = measuring(TEXT, None, column(typed).after).picture
    found = re.search(r'<g id="tried">(.*?)</g>', picture)
    return [] if found is None else [
        line.strip() for element in re.findall(r' d="([^"]*)"', found[1])
        for line in element.split("M")[1:]]


def test_what_is_tried_is_dashed_over_the_bicycle_and_what_stays_is_not():
    assert drawn({}) == [] and drawn({"try.fork_length": "350"}) == []
    picture = measuring(TEXT, None, column({"try.fork_length": "395"}).after).picture
    group = re.search(r'<g id="tried">(.*?)</g>', picture)[1]
    assert group.count("<path") == group.count("stroke-dasharray")
    fork, drop = drawn({"try.fork_length": "395"}), drawn({"try.drop": "20"})
    middle = [np.mean([[float(part) for part in point.split(",")]
                       for point in line.rstrip("Z").split()], axis=0)[0]
              for line in (fork[0], drop[0])]
    assert middle[0] > 110 > middle[1]  # the fork is at the right, the chain stay at the left


def test_what_is_tried_stays_behind_the_question_mark_and_out_of_the_file(one, tmp_path):
    path = tmp_path / "wagtail.toml"
    page = one.get("/wagtail/measure", params=FORK)
    assert fields(page)["try.fork_length"] == "395" and "→ 66.99°" in part(page, "numbers")
    assert path.read_text() == TEXT
    action = unescape(re.search(r'action="(/wagtail/measure\?[^"]*)"', page.text)[1])
    kept = one.post(action, headers=OWN, data={**fields(page), "rake": "50"})
    assert fields(kept)["try.fork_length"] == "395" and "rake = 50" in path.read_text()
    undone = one.post("/wagtail/undo?try.rake=43", headers=OWN,
                      data={"as_of": fields(kept)["as_of"], "here": "measure"})
    assert path.read_text() == TEXT and fields(undone)["try.rake"] == "43"


def test_what_cannot_be_kept_stays_in_its_field_and_nothing_is_written(one, tmp_path):
    page = keep(one, fork_length="abc", drop="60")
    assert page.status_code == 422 and fields(page)["try.drop"] == "60"
    assert "no number" in beside(page, "try.fork_length")
    assert "nothing is to be different" in part(keep(one), "try-wrong")
    assert (tmp_path / "wagtail.toml").read_text() == TEXT


def test_keep_writes_over_no_change_of_another_window(one, tmp_path):
    at = one.get("/wagtail/measure")
    send(one, drop="61")
    page = one.post("/wagtail/what-if/keep", headers=OWN, data={
        "as_of": fields(at)["as_of"], "try.rake": "43"})
    assert page.status_code == 409 and fields(page)["try.rake"] == "43"
    assert "rake = 45" in (tmp_path / "wagtail.toml").read_text()


def test_markup_that_is_tried_stays_text(one):
    page = one.get("/wagtail/measure", params={"try.rake": '"><script>x</script>'})
    assert "<script>x" not in page.text


def test_the_change_is_made_as_the_verb_makes_it():
    job = parse_job(TEXT)
    assert column(FORK).after.points == changed(job.bicycle, Change(
        395.0, front_wheel=READERS["front_wheel"]("47-507"))).points
