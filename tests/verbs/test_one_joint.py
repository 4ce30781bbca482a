"""The verbs about one joint as a program asks them: the answer without a command line."""

import json

import pytest

from coper import CoperError, Joint, Round
from coper.verbs.joint import joint
from coper.verbs.regrind import regrind
from coper.verbs.saw import saw
from coper.verbs.tolerance import tolerance
from tests.cli.run import run
from tests.drawing.readback import pdf_texts, svg_texts

PLAIN = Joint(Round(28.6, 0.9), Round(38.1), 62, 3)
WORDS = ("28.6 x 0.9", "38.1", "--angle", "62", "--offset", "3")
GAPS = ((0, 0.2), (120, 0), (240, 0.35))
ASKED = {
    "joint": (lambda: joint(PLAIN, points=48), ("--points", "48")),
    "saw": (lambda: saw(PLAIN, (35.0, 38.1)), ("--kit", "35,38.1")),
    "regrind": (lambda: regrind(PLAIN, GAPS), ("--gaps", "0=0.2,120=0,240=0.35")),
    "tolerance": (lambda: tolerance(PLAIN), ()),
}


@pytest.mark.parametrize("verb", ASKED)
def test_an_answers_record_is_what_the_command_prints(verb, monkeypatch):
    monkeypatch.setattr("coper.verbs.tolerance.JOINTS", 300)
    ask, more = ASKED[verb]
    status, out, _ = run(verb, *WORDS, *more, "--json")
    assert status == 0 and json.loads(out) == json.loads(json.dumps(ask().record()))


@pytest.mark.parametrize("verb", ASKED)
def test_an_answer_draws_its_own_pages(verb, monkeypatch):
    monkeypatch.setattr("coper.verbs.tolerance.JOINTS", 300)
    answer = ASKED[verb][0]()
    assert answer.title == "28.6 x 0.9 on 38.1 at 62°, offset 3"
    for texts in (svg_texts(answer.svg()[0]), pdf_texts(answer.pdf())):
        assert any("28.6 x 0.9 on 38.1" in words for words, _ in texts)


@pytest.mark.parametrize("ask", [
    lambda: joint(PLAIN, "mitre"),
    lambda: regrind(PLAIN, GAPS, "mitre"),
    lambda: tolerance(PLAIN, "mitre"),
], ids=["joint", "regrind", "tolerance"])
def test_a_word_that_is_no_cut_is_refused_by_name(ask):
    with pytest.raises(CoperError, match=r"cut: 'mitre'"):
        ask()


def test_a_joints_table_is_a_file_of_its_answer():
    rows = joint(PLAIN, steps=24).files["table"]().decode().splitlines()
    assert len(rows) == 1 + 24 and rows[0].startswith("clock_deg,")


def test_only_what_was_asked_for_can_fall_short():
    assert saw(PLAIN, (50.0,)).ok and not saw(PLAIN, (50.0,), depth=5.0).ok
