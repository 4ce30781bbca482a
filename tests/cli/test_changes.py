"""A change of the bicycle as a person keeps it, or looks at it in other verbs."""

import json
import tomllib
from pathlib import Path

import pytest

from tests.cli.run import run

DEMO = Path(__file__).parents[2] / "demo" / "wagtail.toml"
LOOK = ("--fork-length", "365", "--rake", "40", "--front-wheel", "47-507", "--rear-wheel",
        "47-507", "--drop", "50", "--chain-stay", "425")


@pytest.fixture
def donor(tmp_path):
    """The demo with its head tube placed by the old fork, its lines ended another way."""
    file = tmp_path / "donor.toml"
    lines = [line for line in DEMO.read_text().splitlines() if not line.startswith("stack")]
    file.write_bytes("\r\n".join(
        "front_centre = 551   # over the old fork" if line.startswith("reach") else line
        for line in lines).encode())
    return file


@pytest.fixture
def small(tmp_path):
    """The demo's bicycle with two tubes."""
    file = tmp_path / "small.toml"
    file.write_text(DEMO.read_text().partition("[drive]")[0] + """
[tubes.shell]
shape = "40 x 3"
start = { at = "shell-right" }
end = { at = "shell-left" }
[tubes.chain-stay]
shape = "19 to 14 over 410 x 0.8"
start = { at = [-4, 22, 0], on = ["shell"] }
end = { at = { from = "axle-left", by = [7, 0, 3] }, back = 15 }
mirror = true
""")
    return file


def answer(*words):
    status, out, err = run(*map(str, words), "--json")
    assert (status, err) == (0, "")
    return json.loads(out)


def test_a_written_change_leaves_the_head_tube_where_it_was_and_every_other_line(donor):
    new = donor.with_name("new.toml")
    change = ("--fork-length", "434", "--front-wheel", "40-559", "--write", new)
    before = answer("bicycle", donor)["bicycle"]
    said = answer("bicycle", donor, *change)
    after = answer("bicycle", new)["bicycle"]
    for name in ("bottom-bracket", "head-top", "head-bottom", "crown"):
        assert after["points"][name] == pytest.approx(before["points"][name], abs=1e-6)
    assert said["written"]["head_angle"] == {"before": before["ground"]["head_angle"],
                                             "after": after["ground"]["head_angle"]}
    assert said["change"]["after"] == after["ground"]
    keys = {one["key"]: (one["old"], one["new"]) for one in said["written"]["keys"]}
    assert keys.pop("bicycle.head_bottom")[0] is None
    assert keys == {"bicycle.fork_length": ("350", "434"), "bicycle.front_centre": ("551", None),
                    "bicycle.front_wheel": ('"40-507"', '"40-559"')}
    old_lines, new_lines = (file.read_bytes().split(b"\r\n") for file in (donor, new))
    different = [line for line in new_lines if line not in old_lines]
    assert [line.split(b"=")[0].strip() for line in different] == [
        b"# front_centre", b"head_bottom", b"fork_length", b"front_wheel"]
    assert [line for line in old_lines if line in new_lines] == [
        line for line in new_lines if line in old_lines]


def test_the_answer_names_the_keys_the_tubes_that_move_and_the_head_angle(tmp_path):
    new = tmp_path / "new.toml"
    status, out, err = run("bicycle", str(DEMO), *LOOK, "--write", str(new))
    assert (status, err) == (0, "") and out.endswith(f"wrote {new}\n")
    for said in ("fork_length  350", "365", "tubes that move chain-stay, its end; seat-stay, its e",
                 "cut anew     stay-bridge", "head angle   on the ground 69.87° before"):
        assert said in out, said
    record = answer("bicycle", DEMO, *LOOK, "--write", new, "--force")["written"]
    assert record["file"] == str(new) and record["units"] == "mm"
    assert record["moved"] == [{"name": "chain-stay", "points": ["end"]},
                               {"name": "seat-stay", "points": ["end"]}]
    assert record["cut_anew"] == ["stay-bridge"]


def test_an_inch_job_is_written_in_inches_that_read_as_what_was_given(tmp_path):
    job, new = tmp_path / "in.toml", tmp_path / "new.toml"
    assert run("new", str(job), "--units", "in")[0] == 0
    record = answer("bicycle", job, "--fork-length", "14-1/8", "--rake", "43mm", "--write", new)
    table = tomllib.loads(new.read_text())["bicycle"]
    assert table["fork_length"] == 14.125 and table["rake"] == "43mm"
    assert record["change"]["asked"] == {"fork_length": 358.775, "rake": 43}
    assert record["written"]["units"] == "in"


def test_a_file_is_replaced_only_with_force_even_the_job_itself(donor):
    text = donor.read_bytes()
    words = ("bicycle", str(donor), "--rake", "40", "--write", str(donor))
    status, out, err = run(*words)
    assert (status, out, donor.read_bytes()) == (2, "", text)
    assert "exists already" in err and err.count("\n") == 1
    assert run(*words, "--force")[0] == 0
    assert tomllib.loads(donor.read_text())["bicycle"]["rake"] == 40


@pytest.mark.parametrize(("words", "said"), [
    (("--write", "new.toml"), "--write: nothing is to be different; "),
    (("--rake", "40", "--write", ""), "--write: no name"),
    (("--rake", "40", "--write", "none/new.toml"), "there is no folder"),
    (("--chain-stay", "30", "--write", "new.toml"), "--chain-stay: puts the rear axle 58 mm above"),
    (("--chain-stay", "0"), "--chain-stay: 0 cannot be"),
    (("--chain-stay", "5000", "--rear-wheel", "47-507", "--write", "new.toml", "--drop", "-4000"),
     "with this change: ")])
def test_what_cannot_be_kept_is_refused_in_one_line_and_nothing_is_written(
        words, said, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    status, out, err = run("bicycle", str(DEMO), *words)
    assert (status, out) == (2, "") and said in err and err.count("\n") == 1
    assert not list(tmp_path.iterdir())


@pytest.mark.parametrize("verb", ["clearance", "layout"])
def test_a_look_is_what_the_written_job_answers_and_its_title_says_so(verb, small):
    new = small.with_name("new.toml")
    answer("bicycle", small, *LOOK, "--write", new)
    look, kept, plain = answer(verb, small, *LOOK), answer(verb, new), answer(verb, small)
    assert look.pop("title") == ("Wagtail, a small town bike, with fork length 365 mm, rake 40 mm, "
                                 "front wheel 47-507, rear wheel 47-507, drop 50 mm, "
                                 "chain stay 425 mm")
    assert set(look.pop("change")) == {"fork_length", "rake", "front_wheel", "rear_wheel", "drop",
                                       "chain_stay"}
    if verb == "layout":  # whose drawing has no room for so long a title
        assert look["cautions"].pop(0).startswith("This is with fork length 365 mm, rake 40 mm, ")
    assert kept.pop("change") is None and plain.pop("change") is None
    assert look == {key: value for key, value in kept.items() if key != "title"}
    assert look != {key: value for key, value in plain.items() if key != "title"}
    out = run(verb, str(small), *LOOK)[1]
    assert "with fork length 365 mm, rake 40 mm, front wheel 47-507" in out


def test_a_look_at_an_inch_job_is_titled_in_inches_and_its_json_in_mm(tmp_path):
    job = tmp_path / "in.toml"
    job.write_text("""units = "in"
[bicycle]
drop = 2.5
chain_stay = 16.5
rear_wheel = "40-507"
[tubes.stay]
shape = "3/4 x 0.035"
start = { at = [0, 2, 0] }
end = { at = { from = "axle", by = [0, 2.6, 0] } }
""")
    assert "The job, with drop 2.25 in" in run("clearance", str(job), "--drop", "2-1/4")[1]
    assert answer("clearance", job, "--drop", "2-1/4")["title"] == "The job, with drop 57.15 mm"


@pytest.mark.parametrize("verb", ["clearance", "layout"])
@pytest.mark.parametrize(("words", "said"), [
    (("--drop", "600"), "--drop: puts the rear axle"), (("--rake", "x"), "--rake: "),
    (("--rear-wheel", "26in"), "--rear-wheel: "),
    (("--front-wheel", "radius 700 tyre 40"), "with this change: the two wheels overlap"),
    (("--head-angle", "70"), "--head-angle is not an option")])
def test_a_look_at_what_cannot_be_is_refused_in_one_line(verb, words, said):
    status, out, err = run(verb, str(DEMO), *words)
    assert (status, out) == (2, "") and said in err and err.count("\n") == 1


@pytest.mark.parametrize("verb", ["clearance", "layout", "bicycle"])
def test_a_change_of_a_job_without_a_bicycle_is_refused_in_one_line(verb, tmp_path):
    job = tmp_path / "rack.toml"
    assert run("new", str(job), "--like", "rack")[0] == 0
    status, out, err = run(verb, str(job), "--drop", "50")
    assert (status, out) == (2, "") and "bicycle: missing" in err and err.count("\n") == 1
