"""The verbs about a job, asked as functions: what a page or another program calls."""

import json
from pathlib import Path

import pytest

from coper import CoperError, parse_job, read_job
from coper.bicycle.change import Change
from coper.bicycle.tracking.rear_end import LeftRight, RearEnd
from coper.bicycle.tracking.tracking import TrackingReadings, own_limit
from coper.pages.paper import page_letter
from coper.verbs.bends import bends
from coper.verbs.bicycle import bicycle
from coper.verbs.clearance import clearance
from coper.verbs.job import job
from coper.verbs.layout import layout
from coper.verbs.new import new
from coper.verbs.tracking import tracking
from tests.cli.run import run
from tests.drawing.readback import pdf_size, svg_texts

DEMO = Path(__file__).parents[2] / "demo" / "wagtail.toml"
REAR = RearEnd(31.8, 28.6, 570, 410, 130)
READ = TrackingReadings(edge=LeftRight(54.2, 47.9))
RAIL = """\
[tubes.rail]
shape = "19 x 1.5"
start = { at = [0, 0, 0] }
end = { at = [400, 0, 0] }
"""


@pytest.fixture(scope="module")
def demo():
    return read_job(DEMO)


@pytest.mark.parametrize(("verb", "ask"), [
    ("job", job), ("bicycle", bicycle), ("clearance", clearance), ("layout", layout),
    ("bends", bends)])
def test_a_verb_of_a_job_answers_with_the_record_that_the_command_prints(verb, ask, demo):
    status, out, _ = run(verb, str(DEMO), "--json")
    assert status == 0 and json.loads(json.dumps(ask(demo).record())) == json.loads(out)


def test_a_layout_is_drawn_as_it_is_asked_for(demo):
    answer = layout(demo, origin=(950.0, 300.0), plane=100.0, paper="a3", printer=(99.5, 100.0))
    assert answer.record()["table"]["plane"] == 100.0
    assert answer.title in " ".join(words for words, _ in svg_texts(answer.svg()[0]))
    assert sorted(pdf_size(answer.pdf())) == pytest.approx([297, 420], abs=0.01)


def test_a_jobs_pages_are_its_packet_and_each_step_is_heard_of():
    steps = []
    pages = job(parse_job(RAIL)).pages(steps.append)
    assert steps[0] == "cut list" and steps[-1] == f"{len(pages)} pages"


def test_a_page_of_a_packet_is_drawn_when_its_turn_comes():
    steps = []
    pages = job(parse_job(RAIL)).pages(steps.append)
    counted = len(steps)
    each = iter(pages)
    assert [next(each).letter, steps[counted:]] == ["A", [f"page A, 1 of {len(pages)}"]]
    assert [page.letter for page in each][-1] == page_letter(len(pages) - 1)
    assert len(steps) > counted + 1 and len(list(pages)) == len(pages)


def test_a_change_answers_with_before_and_after(demo):
    both = bicycle(demo, Change(rake=30.0)).result
    assert both.after.measures.trail > both.before.measures.trail
    assert both.differences["trail"] == pytest.approx(
        both.after.measures.trail - both.before.measures.trail)
    assert list(both.moved) == ["front-axle", "front-axle-left", "front-axle-right"]


def test_an_answer_is_good_until_a_limit_is_asked_for_and_not_held(demo):
    least = min(gap.spot.gap for gap in clearance(demo).result.gaps)
    assert clearance(demo).ok and clearance(demo, least).ok and not clearance(demo, least + 1).ok
    assert tracking(REAR, READ).ok and not tracking(REAR, READ, limit=own_limit(3)).ok
    assert tracking(REAR, READ, limit=own_limit(3.2)).ok


def test_a_rear_end_of_which_nothing_was_read_still_has_a_log():
    answer = tracking(REAR)
    assert answer.record()["tracking"]["ok"] is None and len(answer.svg()) >= 1


def test_a_new_job_is_text_that_can_be_read_and_nothing_is_written(tmp_path):
    answer = new(tmp_path / "frame.toml")
    assert parse_job(answer.result).tubes and list(tmp_path.iterdir()) == []


def test_a_fault_found_without_a_file_names_no_file():
    with pytest.raises(CoperError) as caught:
        bicycle(parse_job(RAIL))
    assert str(caught.value).startswith("bicycle: missing; ")
    with pytest.raises(CoperError) as caught:
        layout(parse_job(RAIL), full=True, origin=(9000.0, 9000.0)).svg()
    assert str(caught.value).startswith("full-size: at full size the drawing needs about ")
