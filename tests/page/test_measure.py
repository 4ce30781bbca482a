"""The station Measure: what is typed, what is said back, and what comes into the file."""

import pytest

from coper.bicycle.measured import KEYS
from coper.job.read import parse_job
from coper.page.answers.fields import FIELDS, shown_value, typed_value
from coper.page.answers.measure import changed, measuring
from tests.page.pages import DEMO

TEXT = (DEMO / "wagtail.toml").read_text()
INCHES = (DEMO.parent / "coper/job/starters/bicycle-in.toml").read_text()


def field(page, key):
    return next(one for _, fields in page.groups for one in fields if one.name == key)


def after(typed, text=TEXT):
    change = changed(text, typed)
    return change.text, measuring(change.text, change)


def lines_of(text, other):
    """The lines of one text that the other has not."""
    return [line for line in text.splitlines() if line not in other.splitlines()]


def test_every_key_of_a_bicycle_has_its_field():
    assert sorted(FIELDS) == sorted(KEYS)


def test_a_changed_number_changes_its_line_and_no_other_and_keeps_its_comment():
    text, page = after({"drop": "60"})
    assert lines_of(text, TEXT) == [
        "drop = 60                                               # rear axle above the bottom "
        "bracket"]
    assert field(page, "drop").kept and not page.refused


@pytest.mark.parametrize(("key", "typed", "line", "said"), [
    ("drop", "2-1/4in", '"2-1/4in"', "57.15 mm (2-1/4 in)"),
    ("drop", "58,5", "58.5", "58.50 mm (2-19/64 in)"),
    ("drop", "0,125 in", '"0.125 in"', "3.18 mm (1/8 in)"),
    ("head_angle", "69°30'", '"69°30\'"', "69.5°"),
    ("rear_wheel", "47-507", '"47-507"', "47-507, radius 300.50 mm (11-53/64 in), tyre 47 mm wide"),
    ("rear_wheel", "radius 293.5 tyre 40", "{ radius = 293.5, tyre = 40 }",
     "radius 293.50 mm (11-9/16 in), tyre 40 mm wide"),
])
def test_a_field_takes_what_the_grammar_takes_and_says_it_back_in_both_units(
        key, typed, line, said):
    text, page = after({key: typed})
    assert any(one.startswith(f"{key} = {line} ") or one == f"{key} = {line}"
               for one in text.splitlines())
    assert field(page, key).said == said and field(page, key).kept


def test_in_a_job_in_inches_a_bare_number_is_inches_and_inches_are_said_first():
    _, page = after({"chain_stay": "16.75"}, INCHES)
    assert page.units == "in" and field(page, "chain_stay").said == "16-3/4 in, 425.45 mm"


def test_every_field_of_a_starter_shows_what_its_file_has_and_is_no_change_when_sent_back():
    for text in (TEXT, INCHES):
        page = measuring(text)
        typed = {one.name: one.typed for _, fields in page.groups for one in fields}
        assert changed(text, typed).text == text and not page.refused


@pytest.mark.parametrize(("key", "typed", "words"), [
    ("drop", "abc", "abc: no number in this length"),
    ("drop", "1,200", "a comma is not a decimal point here"),
    ("chain_stay", "-5", "not a size"), ("head_angle", "7", "7° is not a bicycle's angle"),
    ("rear_wheel", "40", "is not a tyre size"), ("drop", "9" * 300, "300 characters"),
    ("wheelbase", "800", "give 963.69 mm"), ("head_angle", "", "missing, and reach needs it"),
    ("drop", "nan", "not a number"), ("drop", "]\n[shop]", "no number"), ("drop", "\x7f", ""),
    ("head_bottom", "1, 2, 3", "not a point in side view"),
    ("rear_wheel", "radius 10 tyre 40", "a tyre 40 mm wide on a wheel of 10 mm"),
])
def test_what_cannot_be_used_stays_in_its_field_with_the_command_lines_words(key, typed, words):
    text, page = after({key: typed})
    one = field(page, key)
    assert text == TEXT and one.typed == typed and one.wrong and words in one.wrong[0]
    assert page.refused and page.picture and page.numbers


def test_of_several_changes_those_that_can_be_used_are_written():
    text, page = after({"drop": "abc", "rake": "44", "fork_length": "351"})
    assert lines_of(text, TEXT) and "rake = 44" in text and "fork_length = 351" in text
    assert field(page, "drop").wrong and not field(page, "rake").wrong
    assert parse_job(text).measured.drop == 58


def test_numbers_that_need_each_other_are_written_together():
    text, page = after({"reach": "", "stack": "", "head_bottom": "382.6, 380.6"})
    assert not page.refused and "head_bottom = [382.6, 380.6]" in text
    assert parse_job(text).measured.place == "head_bottom"


def test_a_number_that_a_point_needs_is_not_taken_out_and_the_points_fault_is_said():
    text, page = after({"seat_angle": ""})
    assert text == TEXT and "points.seat-top" in page.wrong[0]
    assert field(page, "seat_angle").wrong == (
        "not written: see above what else would have to be different",)


EMPTY = "[bicycle]\n"


def test_a_number_that_waits_for_another_is_no_fault_and_is_written_with_it():
    text, page = after({"drop": "58"}, EMPTY)
    drop, stay = field(page, "drop"), field(page, "chain_stay")
    assert text == EMPTY and drop.typed == "58" and drop.wrong == () == stay.wrong
    assert drop.asked == ("not kept yet: it waits for chain stay",)
    assert "measure from the bracket's centre" in stay.asked[0] and field(page, "reach").asked == ()
    text, page = after({"drop": "58", "chain_stay": "419"}, EMPTY)
    assert parse_job(text).bicycle.points["axle"][2] == 58 and not page.refused
    _, page = after({"head_angle": "70"}, text)
    assert field(page, "head_angle").asked == (
        "not kept yet: it waits for the place of the head tube",)


def test_from_an_empty_bicycle_on_the_page_says_which_numbers_are_needed_for_what():
    needs = {one.name: one.words for one in measuring(EMPTY).needs}
    assert needs["rear axle"] == "drop, or height and rear wheel; chain stay, or axle back"
    assert needs["head tube"] == "head angle; reach and stack, or head bottom; head tube"
    assert needs["front axle"] == "the head tube first; fork length; rake"
    _, page = after({"drop": "58", "chain_stay": "419"}, EMPTY)
    assert page.needs[0].words == "" and page.needs[1].words
    assert measuring(TEXT).needs == ()


def test_a_new_job_says_which_numbers_are_still_the_examples_until_half_are_others():
    said = measuring(INCHES).examples
    assert {"reach", "chain stay", "fork length"} < set(said) and measuring(TEXT).examples == ()
    text, page = after({"reach": "13", "stack": "20"}, INCHES)
    assert set(said) - set(page.examples) == {"reach", "stack"}
    typed = {"chain_stay": "17", "drop": "2", "head_tube": "4", "fork_length": "14", "rake": "2",
             "rear_wheel": "47-507", "front_wheel": "47-507"}
    assert after(typed, text)[1].examples == ()


def test_a_number_that_no_frame_has_is_written_and_asked_about_beside_its_field():
    text, page = after({"fork_length": "800"})
    assert "fork_length = 800" in text
    assert field(page, "fork_length").asked == ("800 mm: frames have 150 mm to 700 mm; measure "
                                                "again.",)


def test_head_angle_trail_bracket_height_and_wheelbase_are_those_of_the_command_line():
    names = dict(measuring(TEXT).numbers)
    assert names["trail"].startswith("59.64 mm") and names["wheelbase"].startswith("963.69 mm")
    assert names["head angle on the ground"] == "69.87°"
    assert names["bottom bracket height"].startswith("236.42 mm")
    assert dict(after({"rake": "50"})[1].numbers)["trail"] != names["trail"]


def test_each_measured_length_has_a_dimension_line_by_its_fields_name():
    picture = measuring(TEXT).picture
    measured = parse_job(TEXT).measured
    for key in KEYS:
        assert (f'id="dim-{key}"' in picture) == measured.has(key), key


def test_a_file_that_an_editor_broke_shows_its_fields_and_faults_and_can_be_mended_in_them():
    broken = TEXT.replace("drop = 58 ", 'drop = "x" ').replace("rake = 45", 'rake = "y"')
    page = measuring(broken)
    assert field(page, "drop").wrong and field(page, "rake").typed == "y" and page.picture == ""
    text, page = after({"drop": "58", "rake": "45"}, broken)
    assert parse_job(text).measured.rake == 45 and not page.refused


def test_a_file_that_is_no_toml_says_so():
    page = measuring("[bicycle]\ndrop = ")
    assert page.wrong and page.groups == ()


def test_a_job_without_a_bicycle_has_no_fields():
    page = measuring((DEMO / "dipper.toml").read_text())
    assert page.groups == () and page.wrong == ()


def test_a_value_of_any_kind_is_shown_as_it_can_be_typed():
    assert shown_value([1.5, "2in"]) == "1.5, 2in" and shown_value(None) == ""
    assert shown_value({"radius": 300, "tyre": "2in"}) == "radius 300 tyre 2in"
    assert typed_value("front_wheel", shown_value({"radius": 300, "tyre": "2in"})) == {
        "radius": 300, "tyre": "2in"}
    assert typed_value("head_bottom", "[1, -2.5]") == [1, -2.5]
