"""``coper new``: the job that a person begins with."""

import json
import re
from pathlib import Path

import pytest

from coper import make_pieces, parse_job
from coper.bicycle.measured import KEYS
from coper.job.drive import DRIVE_KEYS
from coper.job.ends import END_KEYS
from coper.job.fitted import FITTED_KEYS
from coper.job.read import JOB_KEYS, SHOP_KEYS
from coper.job.starter import KINDS, STARTER_UNITS, starter_job
from coper.job.tubes import TUBE_KEYS
from tests.cli.run import run


def test_a_new_job_is_one_that_coper_can_shape_at_once(tmp_path):
    file = tmp_path / "frame.toml"
    status, out, err = run("new", str(file))
    assert (status, err) == (0, "") and f"coper job {file}" in out
    status, out, err = run("job", str(file), "--json")
    assert (status, err) == (0, "")
    tubes = json.loads(out)["tubes"]
    assert {"shell", "seat-tube", "chain-stay"} <= {tube["name"] for tube in tubes}
    assert not [caution for tube in tubes for caution in tube["cautions"] if "past" in caution]


@pytest.mark.parametrize("verb", ["bicycle", "layout", "clearance"])
def test_every_verb_that_reads_a_job_takes_a_new_one(tmp_path, verb):
    file = tmp_path / "frame.toml"
    run("new", str(file))
    status, _, err = run(verb, str(file), "--json")
    assert (status, err) == (0, "")


@pytest.mark.parametrize("key", sorted({*JOB_KEYS, *SHOP_KEYS, *KEYS, *DRIVE_KEYS, *TUBE_KEYS,
                                        *END_KEYS, *FITTED_KEYS}))
def test_every_key_of_a_job_is_in_a_new_one_and_explained(key):
    assert re.search(rf"\b{key}\b", starter_job())


@pytest.mark.parametrize("units", STARTER_UNITS)
def test_every_alternative_that_is_commented_out_is_a_line_that_could_stand(units):
    # Each alone, with the line that it replaces commented out.
    instead = {"height": "drop", "axle_back": "chain_stay", "head_bottom": "reach|stack",
               "front_centre": "reach|stack", "wheelbase": "reach|stack",
               "rear_wheel": "rear_wheel"}
    text = starter_job("bicycle", units)
    found = re.findall(r"(?m)^# (\w+) = .*$", text)
    assert set(instead) < set(found)
    for key in found:
        changed = text
        if key in instead:
            changed = re.sub(rf"(?m)^({instead[key]}) = ", r"# \1 = ", changed)
        taken = re.search(rf"(?m)^# ({key} = .*)$", text)[1]
        changed = changed.replace(f"# {taken}", taken)
        assert make_pieces(parse_job(changed)), key


def test_a_file_that_exists_is_kept(tmp_path):
    file = tmp_path / "frame.toml"
    file.write_text("mine")
    status, out, err = run("new", str(file))
    assert (status, out) == (2, "") and "--force" in err and err.count("\n") == 1
    assert file.read_text() == "mine"
    assert run("new", str(file), "--force")[0] == 0
    assert file.read_text() == starter_job()


@pytest.mark.parametrize("name", ["", "nowhere/frame.toml", "."])
def test_a_name_that_cannot_be_written_gets_one_line(tmp_path, monkeypatch, name):
    monkeypatch.chdir(tmp_path)
    status, out, err = run("new", name)
    assert (status, out) == (2, "") and err.count("\n") == 1
    assert list(Path().iterdir()) == []


@pytest.mark.parametrize("like", KINDS)
@pytest.mark.parametrize("units", STARTER_UNITS)
def test_every_starter_is_a_working_job_without_a_clash(tmp_path, like, units):
    file = tmp_path / "mine.toml"
    status, out, err = run("new", str(file), "--like", like, "--units", units)
    assert (status, err) == (0, "") and f"a {like} in {units}" in out
    status, out, err = run("job", str(file), "--json")
    assert (status, err) == (0, "")
    record = json.loads(out)
    assert record["clashes"] == []
    assert parse_job(file.read_text()).units == units
    assert not [stock for stock in record["cut_list"]["stocks"] if stock["shortages"]]
    said = [caution for tube in record["tubes"] for caution in tube["cautions"]]
    assert not [words for words in said if "past" in words or "Open from" in words]


@pytest.mark.parametrize("like", KINDS)
@pytest.mark.parametrize("units", STARTER_UNITS)
def test_every_starter_prints_its_packet_and_lies_on_the_table(tmp_path, like, units):
    file = tmp_path / "mine.toml"
    run("new", str(file), "--like", like, "--units", units)
    packet = ("--out", str(tmp_path / "out")) if units == "mm" else ("--json",)
    status, _, err = run("job", str(file), *packet)
    assert status == 0 and "coper:" not in err
    assert run("layout", str(file), "--json")[0] == 0


@pytest.mark.parametrize("like", KINDS)
def test_a_starter_is_about_the_same_thing_in_mm_and_in_inches(like):
    mm, inches = (make_pieces(parse_job(starter_job(like, units))) for units in STARTER_UNITS)
    assert [piece.label for piece in mm] == [piece.label for piece in inches]
    for one, other in zip(mm, inches, strict=True):
        assert one.shaped == pytest.approx(other.shaped, rel=0.1, abs=3)


@pytest.mark.parametrize(("words", "said"), [
    (("--like", "trailor"), "did you mean trailer?"), (("--like", "boat"), "rear-end"),
    (("--units", "ft"), "in")])
def test_a_starter_that_there_is_not_is_one_line_that_names_those_there_are(
        tmp_path, words, said):
    file = tmp_path / "mine.toml"
    status, out, err = run("new", str(file), *words)
    assert (status, out) == (2, "") and said in err and err.count("\n") == 1
    assert not file.exists()
