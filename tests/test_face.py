"""The public face: the whole job from Python, in a line or two each."""

import pytest

import coper
from coper.joint.fit.face import cut_face

JOINT = coper.Joint(coper.Round(28.6, wall=0.9), coper.Round(38.1), angle=62, offset=3)
GAPS = [(0, 0.0), (90, 0.3), (180, 0.6), (270, 0.3)]
TUBE = coper.Tube(coper.Round(20, 1), (0, 0, 0), (0, 0, 100))
MAIN = coper.Tube(coper.Round(40), (-50, 0, 0), (50, 0, 0))


@pytest.fixture(scope="module")
def answers():
    job = coper.read_job("demo/wagtail.toml")
    rear = coper.RearEnd(31.8, 28.6, 570, 410, 130)
    read = coper.TrackingReadings(edge=coper.LeftRight(54.2, 47.9))
    return {
        "joint": coper.ask_joint(JOINT), "fit": coper.ask_fit(JOINT, cut="square"),
        "saw": coper.ask_saw(JOINT), "regrind": coper.ask_regrind(JOINT, GAPS),
        "tolerance": coper.ask_tolerance(JOINT), "job": coper.ask_job(job),
        "layout": coper.ask_layout(job), "clearance": coper.ask_clearance(job),
        "bicycle": coper.ask_bicycle(job), "tracking": coper.ask_tracking(rear, read),
    }


@pytest.mark.parametrize("verb", ["joint", "fit", "saw", "regrind", "tolerance", "job", "layout",
                                  "clearance", "bicycle", "tracking"])
def test_an_answer_and_its_result_are_shown_on_one_short_line(answers, verb):
    for value in (answers[verb], answers[verb].result):
        assert "\n" not in repr(value) and 20 < len(repr(value)) < 700
        assert repr(value).startswith(type(value).__name__)


@pytest.mark.parametrize("verb", ["joint", "fit", "saw", "regrind", "tolerance", "layout",
                                  "tracking"])
def test_paper_comes_as_bytes_and_as_svg(answers, verb):
    assert answers[verb].pdf().startswith(b"%PDF-")
    assert all(page.startswith("<?xml") or "<svg" in page[:200] for page in answers[verb].svg())
    assert answers[verb].record()["coper"] == coper.__version__


def test_a_whole_job_has_its_pieces_and_its_cut_list(answers):
    shaped = answers["job"].result
    assert len(shaped.pieces) == 12 and len(shaped.cut_list.stocks) == 7


def test_two_readings_half_an_inch_apart_are_a_rear_end_a_quarter_inch_out():
    # Common practice, no source: 12.6 mm between the readings, 6.3 mm off the middle.
    rear = coper.RearEnd(31.8, 28.6, 570, 410, 130)
    read = coper.TrackingReadings(edge=coper.LeftRight(54.2, 41.6))
    assert abs(coper.ask_tracking(rear, read).result.off) == pytest.approx(6.3)


@pytest.mark.parametrize("wrong", [
    lambda: coper.Round("28.6"),
    lambda: coper.shape_end(TUBE, "begin", [MAIN]),
    lambda: coper.plain_end(TUBE, "finish"),
    lambda: coper.shape_end(TUBE, "start", [MAIN], cut="mitre"),
    lambda: JOINT.cope().template(cut="mitre"),
    lambda: coper.ask_joint(JOINT, cut="mitre"),
    lambda: coper.ask_fit(JOINT, cut="mitre"),
    lambda: coper.ask_fit(JOINT, cut="saw"),
    lambda: coper.ask_regrind(JOINT, GAPS, cut="mitre"),
    lambda: coper.ask_tolerance(JOINT, cut="mitre"),
    lambda: cut_face(JOINT, "sqaure"),
    lambda: coper.parse_job("[tubes.a]\nshape = 1\n"),
])
def test_a_wrong_word_raises_and_is_a_value_error_too(wrong):
    with pytest.raises(coper.CoperError) as caught:
        wrong()
    assert isinstance(caught.value, ValueError)
