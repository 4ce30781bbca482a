"""The station Check: whether the frame is straight, and what came out."""

import re

import pytest

from coper.bicycle.tracking.rear_end import LeftRight, RearEnd
from coper.bicycle.tracking.tracking import TrackingReadings
from coper.errors import CoperError
from coper.job.read import parse_job
from coper.job.tracking import job_measures
from coper.page.answers.made import made_answer, made_page
from coper.page.answers.tracking import FIELD_OF, NAMES, PAIRS, log_pdf, tracked
from coper.verbs.answer import in_unit
from coper.verbs.made import made_in_words
from coper.verbs.tracking import OPTION_OF, SIZES, tracking
from tests.page.jobs import DIPPER, INCHES, SMALL
from tests.page.pages import OWN, client, fields, go, part, wagtail
from tests.sheets.groups import group_strokes

LEFT_OUT = {"straight-edge-left": "54.2", "straight-edge-right": "47.9"}
SWAPPED = {"straight-edge-left": "47.9", "straight-edge-right": "54.2"}


def field(page, name):
    every = (*(one for _, both in page.pairs for one in both), *page.alone, *page.measures,
             *page.extra)
    return next(one for one in every if one.name == name)


def said(page):
    return [line for block in page.blocks for line in block.items]


def terminal(text, readings):
    job = parse_job(text)
    rear = RearEnd(**job_measures(job))
    return list(in_unit(job.units, lambda: tracking(rear, readings)).lines())


def test_readings_are_answered_in_the_words_of_coper_tracking():
    assert said(tracked(SMALL, LEFT_OUT)) == terminal(
        SMALL, TrackingReadings(edge=LeftRight(54.2, 47.9)))
    typed = {"straight-edge-left": "52", "straight-edge-right": "51,5", "stays-left": "412.5",
             "stays-right": "412", "width": "131"}
    assert said(tracked(SMALL, typed)) == terminal(SMALL, TrackingReadings(
        LeftRight(52, 51.5), None, 131, LeftRight(412.5, 412)))


def test_half_an_inch_between_the_readings_is_a_quarter_of_an_inch_out_to_the_side_of_the_larger():
    for left, right, side in (("2-1/2", "2", "left"), ("2", "2-1/2", "right")):
        page = tracked(INCHES, {"straight-edge-left": left, "straight-edge-right": right,
                              "seat_diameter": "1-1/8", "head_diameter": "1.25",
                              "head_to_seat": "20", "seat_to_dropout": "15", "hub": "5"})
        off = next(words for words in page.verdict if words.startswith("off"))
        assert f"1/4 in to the {side}" in off and not page.ok
        assert page.verdict[0].startswith("OUT")


@pytest.mark.parametrize(("typed", "side", "other", "way"), [
    (LEFT_OUT, "left", "right", 1), (SWAPPED, "right", "left", -1)], ids=["left", "right"])
def test_with_left_and_right_swapped_it_is_out_to_the_other_side_in_words_and_in_the_picture(
        typed, side, other, way):
    page = tracked(SMALL, typed)
    assert any(f"to the {side}" in words for words in page.verdict if words.startswith("off"))
    moves = next(words for words in page.verdict if words.startswith("to be true"))
    assert moves.count(f"to the {other}") == 2
    stands, true = (group_strokes(page.picture, f"{what}-left")[0] for what in ("dropout", "true"))
    assert (stands.mean(axis=0) - true.mean(axis=0))[1] * way > 0


def test_a_rear_end_within_the_limit_is_good_and_a_limit_of_ones_own_counts():
    even = {"straight-edge-left": "50.9", "straight-edge-right": "50.5"}
    assert tracked(SMALL, even).ok and tracked(SMALL, even).verdict[0].startswith("GOOD")
    assert not tracked(SMALL, {**even, "limit": "0.1"}).ok


def test_what_the_job_says_is_shown_and_a_number_that_is_typed_counts_before_it():
    known = job_measures(parse_job(SMALL))
    page = tracked(SMALL)
    assert field(page, "hub").said.startswith("130.00 mm") and not page.refused
    assert {one.name for one in page.measures if one.said} == set(known) and page.picture == ""
    wider = tracked(SMALL, {**LEFT_OUT, "hub": "135"})
    assert "hub 135.00 mm" in said(wider)[0] and field(wider, "hub").typed == "135"


@pytest.mark.parametrize(("typed", "name", "words"), [
    ({"straight-edge-left": "x", "straight-edge-right": "5"}, "straight-edge-left", "no number"),
    ({"straight-edge-left": "50"}, "straight-edge-right", "both sides"),
    ({"straight-edge-left": "-5", "straight-edge-right": "5"}, "straight-edge-left",
     "cannot be a reading"),
    ({"string-left": "40", "string-right": "40"}, "thickness", "missing"),
    ({"width": "500"}, "width", "for a hub of"), ({"width": "0"}, "width", "not a size"),
    ({**LEFT_OUT, "limit": "90"}, "limit", "cannot be a limit"),
    ({**LEFT_OUT, "spacer": "3"}, "", ""),
    ({"spacer": "52", **LEFT_OUT, "thickness": "5"}, "spacer", "run into the dropout"),
])
def test_a_reading_that_cannot_be_used_has_its_fault_beside_it(typed, name, words):
    page = tracked(SMALL, typed)
    assert page.refused == bool(name) and bool(page.picture) != bool(name)
    if name:
        assert words in field(page, name).wrong and page.wrong == ()


def test_measures_that_no_job_says_are_asked_for_beside_their_fields():
    page = tracked(INCHES, {"straight-edge-left": "2", "straight-edge-right": "2"})
    assert field(page, "seat_diameter").wrong == "" or "missing" in field(
        page, "seat_diameter").wrong
    assert "missing" in field(page, "head_diameter").wrong and not page.has_log


def test_every_option_of_the_readings_and_every_measure_has_its_field():
    pairs = {pair.key for pair in PAIRS}
    assert {FIELD_OF[where] for where in OPTION_OF} <= {*NAMES, *pairs} and set(SIZES) <= set(NAMES)


def test_two_rear_wheels_say_what_to_measure_instead_and_a_trailer_where_it_is_checked():
    trike = re.sub(r"(?m)^rear_hub = .*", "rear_hub = 130\nrear_track = 600", SMALL)
    assert "rim to rim" in tracked(trike).wrong[0] and tracked(trike).pairs == ()
    assert "diagonals" in tracked(DIPPER).sentence and tracked(DIPPER).pairs == ()


def test_the_log_is_a_pdf_and_refused_where_the_job_does_not_say_enough():
    assert log_pdf(SMALL, "wagtail.toml").startswith(b"%PDF")
    with pytest.raises(CoperError, match="head_diameter"):
        log_pdf(INCHES, "a.toml")


def test_the_page_answers_without_script_and_keeps_what_stands_in_its_fields(tmp_path):
    path = wagtail(tmp_path)
    path.write_text(SMALL)
    one = client(tmp_path)
    form = fields(one.get("/wagtail/check/tracking"))
    answer = one.post("/wagtail/check/tracking", data={**form, **LEFT_OUT}, headers=OWN)
    assert answer.status_code == 200 and "OUT: above the limit" in part(answer, "answer")
    assert fields(answer)["straight-edge-left"] == "54.2" and path.read_text() == SMALL
    wrong = one.post("/wagtail/check/tracking", data={**form, "width": "x"}, headers=OWN)
    assert wrong.status_code == 422 and 'value="x"' in wrong.text
    assert one.get("/wagtail/check/nothing").status_code == 404
    assert one.get("/wagtail/check/tracking/log.pdf").headers["Content-Type"] == "application/pdf"


def test_undo_from_the_tracking_comes_back_to_it(tmp_path):
    path = wagtail(tmp_path)
    path.write_text(SMALL)
    one = client(tmp_path, follow_redirects=False)
    form = fields(one.get("/wagtail/check"))
    one.post("/wagtail/check", data={**form, "drive-crank": "150"}, headers=OWN)
    here = go(one, "undo", here="check/tracking").headers["Location"]
    assert here == "/wagtail/check/tracking" and path.read_text() == SMALL


def test_what_came_out_is_answered_in_the_terminals_words_and_kept_in_the_book(tmp_path):
    path = wagtail(tmp_path)
    path.write_text(SMALL)
    one = client(tmp_path)
    page = one.get("/wagtail/check/made")
    assert "chain-stay left" in page.text and "Measured so far" not in page.text
    typed = {"tube": "chain-stay left", "length": "385,1", "angle": "", "at": "angle"}
    answer = one.post("/wagtail/check/made", data={**fields(page), **typed}, headers=OWN)
    assert "2.64 mm too long" in part(answer, "answer")
    assert "chain-stay left: length=385.1 (" in part(answer, "kept")
    other = one.post("/wagtail/check/made", data={
        **fields(page), **typed, "tube": "chain-stay right", "length": "384"}, headers=OWN)
    assert "its twin" in other.text, "the left one is in the book"
    assert path.read_text() == SMALL


def test_a_length_and_an_angle_are_those_of_the_command_line():
    typed = {"tube": "chain-stay right", "length": "380", "angle": "84", "at": "angle-start"}
    job = parse_job(SMALL)
    assert list(made_answer(SMALL, typed, "no.toml").lines()) == list(made_in_words(
        job, "no.toml", ["chain-stay", "right", "length=380", "angle-start=84"]).lines())


@pytest.mark.parametrize(("typed", "words"), [
    ({"tube": "chain-stay left"}, "nothing was measured"),
    ({"tube": "chain-stay left", "length": "x"}, "no number"),
    ({"tube": "no such", "length": "5"}, "no tube"),
    ({"tube": "shell", "length": "70", "at": "side"}, ""),
])
def test_what_came_out_and_cannot_be_used_is_said(typed, words):
    if words:
        with pytest.raises(CoperError, match=words):
            made_answer(SMALL, typed, "no.toml")
    else:
        assert made_answer(SMALL, typed, "no.toml").result.made.longer is not None


def test_a_broken_job_says_its_faults_on_both_pages():
    broken = SMALL.replace("rake = 45", "rake = []")
    assert "bicycle.rake" in tracked(broken).wrong[0]
    assert "bicycle.rake" in made_page(broken, ()).wrong[0]
