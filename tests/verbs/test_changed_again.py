"""What was worked out is kept by its own inputs: with it answers are what they are without."""

import gc
import inspect
import json
from dataclasses import replace
from weakref import ref

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coper import make_pieces, parse_job
from coper.bicycle.clearance.clearance import make_clearances
from coper.errors import CoperError
from coper.frame import clash
from coper.frame.pairs import Pairs
from coper.job.layout import job_layout
from coper.job.shaped import shape_job
from coper.telling.records.clearance import clearance_record
from coper.telling.records.job import clash_record
from coper.telling.records.layout import layout_record
from coper.telling.records.piece import piece_record
from coper.units import lengths_in
from tests.profiles import examples
from tests.remembered import forget, kept

NUMBERS = {"stay": "419", "drop": "58", "head": "310", "out": "18", "back": "0", "crank": "150",
           "turn": "0", "face": "0", "thick": "25.4", "units": "mm"}
CHOICES = {"stay": ("419", "423.5"), "drop": ("58", "61"), "head": ("310", "0", "-0"),
           "out": ("18", "22"), "back": ("0", "-0.0", "12"), "crank": ("150", "175"),
           "turn": ("0", "30", "-0.0"), "face": ("0", "-0.0", "0.4"), "thick": ("25.4", "28.6"),
           "units": ("mm", "in")}
JOB = """\
units = "{units}"
[bicycle]
drop = "{drop}mm"
chain_stay = "{stay}mm"
rear_wheel = "40-507"
[drive]
crank = "{crank}mm"
crank_inside = "60mm"
[tubes.shell]
shape = "40mm x 3mm"
start = {{ at = ["0mm", "-34mm", "0mm"] }}
end = {{ at = ["0mm", "34mm", "0mm"] }}
[tubes.post]
shape = "{thick}mm x 1mm"
start = {{ at = ["0mm", "0mm", "0mm"], on = ["shell"] }}
end = {{ at = ["-60mm", "0mm", "400mm"], face = [{face}, 0, 1] }}
[tubes.stay]
shape = "box 20mm by 12mm x 1mm"
turn = "{turn}"
start = {{ at = ["-4mm", "{out}mm", "0mm"], on = ["shell"] }}
end = {{ at = ["-390mm", "62mm", "60mm"], back = "{back}mm" }}
mirror = true
[tubes.brace]
shape = "16mm x 1mm"
start = {{ at = ["-46mm", "0mm", "{head}mm"], on = ["post"], cut = "square" }}
end = {{ at = ["-300mm", "0mm", "330mm"] }}
[tubes.forgotten]
shape = "12mm x 1mm"
start = {{ at = ["-80mm", "1mm", "250mm"] }}
end = {{ at = ["60mm", "2mm", "290mm"] }}
"""


def answers(text):
    """All that is said of what is kept, or why there is nothing."""
    job = parse_job(text)
    with lengths_in(job.units):
        try:
            shaped = shape_job(job)
            return json.dumps([
                list(map(piece_record, shaped.pieces)), list(map(clash_record, shaped.clashes)),
                layout_record(job_layout(job, shaped.pieces)),
                clearance_record(make_clearances(shaped.pieces, job.bicycle, job.drive))])
        except CoperError as error:
            return str(error)


@examples(2)
@given(st.lists(st.sampled_from(sorted(CHOICES)).flatmap(
    lambda key: st.tuples(st.just(key), st.sampled_from(CHOICES[key]))), min_size=2, max_size=4))
def test_after_any_changes_a_job_is_answered_as_from_nothing(changes):
    numbers = dict(NUMBERS)
    for key, value in changes:
        answers(JOB.format(**numbers))
        numbers[key] = value
    after = answers(JOB.format(**numbers))
    forget()
    assert answers(JOB.format(**numbers)) == after


@pytest.mark.parametrize(("change", "moved"), [
    ({"out": "22"}, {"stay left", "stay right"}), ({"head": "312"}, {"brace"}),
    ({"thick": "28.6"}, {"post", "brace"}), ({"crank": "160"}, set()),
    ({"units": "in"}, {"shell", "post", "stay left", "stay right", "brace", "forgotten"})])
def test_a_change_makes_the_pieces_anew_that_it_moves_and_those_that_seat_on_them(change, moved):
    before = make_pieces(parse_job(JOB.format(**NUMBERS)))
    with lengths_in("in" if "units" in change else "mm"):
        after = make_pieces(parse_job(JOB.format(**{**NUMBERS, **change})))
    assert {new.label for old, new in zip(before, after, strict=True) if old is not new} == moved


def test_only_pairs_that_hold_a_piece_which_moved_are_looked_at_for_clashes_again(monkeypatch):
    looked = []

    def deepest(one, other):
        looked.append({one.label, other.label})
        return found(one, other)

    found = clash._deepest
    monkeypatch.setattr(clash, "_deepest", deepest)
    forget()
    for change, again in (({}, True), ({"crank": "160"}, False), ({"thick": "28.6"}, True)):
        looked.clear()
        assert len(shape_job(parse_job(JOB.format(**{**NUMBERS, **change}))).clashes) == 1
        assert bool(looked) == again
        assert all(not change or "post" in pair for pair in looked)


def test_what_is_known_of_two_pieces_goes_with_either_of_them():
    one, other = (make_pieces(parse_job(JOB.format(**NUMBERS)))[at] for at in (0, 1))
    one, other = replace(one), replace(other)
    pairs, asked = Pairs(), []

    def work(*pair):
        asked.append(pair[0].label)
        return len(asked)

    assert pairs.of(one, other, work) == pairs.of(one, other, work) == 1
    assert pairs.of(other, one, work) == 2
    del other
    gc.collect()
    assert sum(map(len, pairs._known.values())) == 0


def test_nothing_holds_a_piece_but_what_has_a_bound():
    text = JOB.format(**NUMBERS)
    answers(text)
    with lengths_in("mm"):
        pieces = list(map(ref, make_pieces(parse_job(text))))
    assert all(piece() is not None for piece in pieces)
    forget()
    gc.collect()
    assert [piece() for piece in pieces] == [None] * len(pieces)


def test_whatever_is_kept_by_what_was_asked_has_a_bound():
    unbound = {name for name, one in kept() if one.cache_parameters()["maxsize"] is None
               and inspect.signature(one).parameters}
    assert unbound == set()
