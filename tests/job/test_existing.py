"""Tubes that stand already: seated on and drawn, never cut."""

import json

import pytest

from coper import make_pieces, parse_job
from coper.drawing.bounds import leaves
from coper.drawing.marks import FINE, Path
from coper.frame.clash import find_clashes
from coper.job.faults import JobError
from coper.job.layout import job_layout
from coper.job.shaped import shape_job
from coper.sheets.frame_picture import frame_marks
from coper.verbs.job import job
from tests.cli.run import run

SHELL = """\
[tubes.shell]
shape = "40"
start = { at = [0, -34, 0] }
end = { at = [0, 34, 0] }
existing = true
"""
STAY = """\
[tubes.stay]
shape = "14 x 1"
start = { at = [0, 0, 0], on = ["shell"] }
end = { at = [-400, 60, 60] }
"""
SEAT = """\
[tubes.seat-tube]
shape = "28.6 x 0.9"
start = { at = [0, 0, 0] }
end = { at = [-150, 0, 450] }
"""
PRESENT = "existing = true\n"


def test_a_tube_that_stands_already_is_seated_on_as_if_it_were_new():
    new = make_pieces(parse_job(SHELL.replace(PRESENT, "") + STAY))
    standing = make_pieces(parse_job("[shop]\nallowance = 2\n" + SHELL + STAY))
    assert standing[1].start.outer == pytest.approx(new[1].start.outer, abs=0)
    assert standing[0].tube.existing and not standing[1].tube.existing
    assert standing[0].blank == standing[0].tube.length


def test_it_is_in_no_bar_and_no_sheet_of_its_own_is_printed():
    answer = job(parse_job(SHELL + STAY))
    cuts = answer.result.cut_list
    assert [blank.label for stock in cuts.stocks for blank in stock.blanks] == ["stay"]
    assert cuts.existing == ("shell",)
    record = answer.record()
    shell, stay = record["tubes"]
    assert shell["existing"] and shell["blank"] is None and shell["blank_ends"] is None
    assert not stay["existing"] and stay["blank"] > 0
    assert record["cut_list"]["existing"] == ["shell"]


def test_the_terminal_says_which_tubes_stand_already(tmp_path):
    file = tmp_path / "rack.toml"
    file.write_text(SHELL + STAY)
    status, out, err = run("job", str(file), "--out", str(tmp_path / "out"))
    assert status == 0 and "coper:" not in err
    assert "shell: 40, stands already: not cut" in out
    assert "stands already, not cut: shell" in out
    assert "plain, cut straight across at 68" not in out
    assert not list((tmp_path / "out").glob("*shell*"))


def test_it_is_drawn_thin_and_laid_out():
    shaped = shape_job(parse_job(SHELL + STAY))

    def thin(pieces):
        return sum(isinstance(mark, Path) and mark.pen == FINE
                   for mark in leaves(frame_marks(pieces)))

    new = shape_job(parse_job(SHELL.replace(PRESENT, "") + STAY))
    assert thin(shaped.pieces) > 2 * thin(new.pieces)  # a name has one thin line
    assert {tube.name for tube in job_layout(shaped.job, shaped.pieces).tubes} == {"shell", "stay"}


def test_a_new_tube_that_runs_through_it_is_a_clash_and_two_that_stand_are_not():
    def found(text):
        return [(clash.one.label, clash.other.label)
                for clash in find_clashes(make_pieces(parse_job(text)))]

    assert found(SHELL + SEAT) == [("shell", "seat-tube")]
    assert found(SHELL + SEAT + PRESENT) == []


@pytest.mark.parametrize("which", ["start", "end"])
def test_its_end_cannot_seat_on_another(which):
    text = SHELL + SEAT.replace(f"{which} = {{ ", f'{which} = {{ on = ["shell"], ') + PRESENT
    with pytest.raises(JobError) as caught:
        parse_job(text)
    fault, = caught.value.faults
    assert fault.where == f"tubes.seat-tube.{which}.on" and "never cut" in str(fault)


def test_existing_is_true_or_false():
    with pytest.raises(JobError, match="neither true nor false"):
        parse_job(SHELL.replace("true", '"yes"'))


def test_a_footprint_that_runs_past_it_does_not_ask_for_a_longer_one():
    text = SHELL + STAY.replace("[0, 0, 0]", "[0, 30, 0]")
    said, = [caution for caution in make_pieces(parse_job(text))[1].cautions if "past" in caution]
    assert "stands already" in said and "longer" not in said


def test_its_twin_stands_already_too():
    pieces = make_pieces(parse_job(SEAT.replace("0, 0, 0", "0, 9, 0") + PRESENT + "mirror = true"))
    assert [piece.tube.existing for piece in pieces] == [True, True]
    assert json.dumps(job(parse_job(SHELL)).record())
