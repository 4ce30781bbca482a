"""The station Check: the room round what moves, and where it is least."""

import re

import pytest

from coper.bicycle.clearance.clearance import make_clearances
from coper.bicycle.clearance.fitted import Crown
from coper.bicycle.clearance.wheel_room import crown_place, crown_reach
from coper.bicycle.measured import Measured
from coper.job.drive import DRIVE_KEYS
from coper.job.fitted import FITTED_KEYS
from coper.job.frame import make_pieces
from coper.job.read import parse_job
from coper.page.answers.check import changed, checking, marked
from coper.page.answers.drive import SETTINGS
from coper.page.answers.near import near_places
from coper.page.answers.settings import Parts
from coper.telling.records.clearance import clearance_record
from coper.verbs.clearance import clearance
from tests.page.jobs import DIPPER, INCHES, SHELL, STAYS
from tests.page.pages import OWN, beside, client, fields, go, part, wagtail


def found(text):
    job = parse_job(text)
    return job, make_clearances(make_pieces(job), job.bicycle, job.drive)


def record(text):
    return clearance_record(found(text)[1])


def shown(page, key):
    return next(one for group in page.groups for one in group.fields
                if one.name == f"drive-{key}")


def after(typed, text=SHELL):
    made = changed(text, {f"drive-{key}": words for key, words in typed.items()})
    return made.text, checking(made.text, "", made)


def test_every_word_and_table_is_what_coper_clearance_says():
    page = checking(STAYS)
    assert [line for block in page.blocks for line in block.items] == [
        line for line in clearance(parse_job(STAYS)).lines() if line != ""]


def test_the_nearest_place_to_each_thing_that_moves_is_marked_where_the_verb_says():
    said, places = record(STAYS), {one.words: one for one in checking(STAYS).marked}
    for name, gaps in (("rear tyre", said["clearance"]), ("crank", said["crank"]),
                       ("heel", said["heel"])):
        least = gaps[0]["gap"]
        left = next(gap for gap in gaps if gap["side"] in ("left", "centre")
                    and gap["gap"] == pytest.approx(least, abs=1e-6))
        one = places[f"{name} {least:.2f} mm"]
        assert one.kind == "" and one.at == (tuple(left["at"][axis] for axis in "xyz"),)


def test_a_tyre_that_was_measured_to_the_left_is_marked_on_the_left_stay_and_fouls():
    for off, way in (("9", 1), ("-9", -1)):
        text, page = after({"rear_rim_off": off}, STAYS)
        one = next(one for one in page.marked if one.words.startswith("rear tyre fouls by"))
        assert one.kind == "wrong" and one.at[0][1] * way > 0
        assert page.fouls == ("fouls: chain-stay",) and not page.good
        least = record(text)["clearance"][0]
        assert one.words == f"rear tyre fouls by {-least['gap']:.2f} mm"


def test_a_gap_below_the_limit_is_asked_about_and_one_that_cannot_be_used_is_said():
    page = checking(STAYS, "10")
    assert page.fouls == ("limit: 10.00 mm: TOO CLOSE  chain-stay",) and not page.good
    assert next(one.kind for one in page.marked if one.words.startswith("rear tyre")) == "asked"
    assert "no number" in checking(STAYS, "x").limit_wrong and checking(STAYS, "x").good


def test_a_brake_is_marked_from_its_bolt_to_its_pads_and_one_that_is_too_short_is_wrong():
    text, page = after({"rear_brake": "bolt stays-meet reach 40, 50"})
    job, known = found(text)
    one = next(one for one in page.marked if one.words.startswith("rear brake"))
    drawn = next(one for one in known.brakes if one.axle == "drawn")
    assert one.kind == "wrong" and "TOO" in one.words and one.at[0] == job.points["stays-meet"]
    x, _, z = job.bicycle.points["axle"]
    assert (one.at[1][0] - x) ** 2 + (one.at[1][2] - z) ** 2 == pytest.approx(drawn.track ** 2)
    assert any(words.startswith("rear brake: ") for words in page.fouls) and not page.good


def test_the_crowns_place_is_as_far_from_the_axle_as_the_crown_reaches():
    job, known = found(STAYS)
    head, fork = job.bicycle.parts.head, job.bicycle.parts.fork
    x, z = fork.axle(head)
    for crown in (Crown(), Crown(24, 36), Crown(24, 120)):
        at = crown_place(head, fork, crown)
        assert ((at[0] - x) ** 2 + (at[1] - z) ** 2) ** 0.5 == pytest.approx(
            crown_reach(fork, crown))
    one = next(one for one in near_places(known, job.bicycle, None) if "crown" in one.words)
    tread, crown = one.at
    assert tread[2] < crown[2]
    assert sum((a - b) ** 2 for a, b in zip(tread, crown, strict=True)) ** 0.5 == pytest.approx(
        next(room.gap for room in known.rooms if room.to == "crown race"))


def test_each_tyre_is_a_ring_of_its_tread_and_two_of_its_flanks_where_its_rim_was_measured():
    _, page = after({"rear_rim_off": "5"})
    axle = parse_job(SHELL).bicycle.points["axle"]
    tread, left, right = (one for one in page.marked if len(one.at) > 2 and one.at[0][0] < 0)
    radii = [((one.at[0][0] - axle[0]) ** 2 + (one.at[0][2] - axle[2]) ** 2) ** 0.5
             for one in (tread, left, right)]
    assert radii == pytest.approx([293.5, 273.5, 273.5])
    assert [one.at[0][1] for one in (tread, left, right)] == [5, 25, -15]


def test_every_key_of_the_drive_has_its_field_and_is_no_change_when_sent_back():
    assert set(DRIVE_KEYS) | set(FITTED_KEYS) == {one.key for one in SETTINGS}
    page = checking(SHELL)
    typed = {one.name: one.typed for group in page.groups for one in group.fields}
    assert changed(SHELL, typed).text == SHELL


@pytest.mark.parametrize(("key", "typed", "line", "said"), [
    ("heel", "back 180 out 90", "{ back = 180, out = 90 }",
     "180.00 mm (7-3/32 in) behind the pedal's axle"),
    ("fork_crown", "under 1in length 36", '{ under = "1in", length = 36 }', "25.40 mm (1 in)"),
    ("front_brake", "hole 12 ahead 25 reach 70, 90", "{ hole = 12, ahead = 25, reach = [70, 90] }",
     "70.00 mm (2-3/4 in) the shortest reach"),
    ("rear_guard", "{ width = 50, gap = 12 }", "{ width = 50, gap = 12 }", "50.00 mm"),
    ("rear_rim_off", "-1,5", "-1.5", "1.50 mm (1/16 in) to the right"),
    ("front_rim_off", "1.5", "1.5", "1.50 mm (1/16 in) to the left"),
    ("crank", "6-1/2in", '"6-1/2in"', "165.10 mm (6-1/2 in)"),
])
def test_a_value_of_several_parts_is_typed_by_their_names_and_said_back(key, typed, line, said):
    text, page = after({key: typed})
    assert any(one.startswith(f"{key} = {line}") for one in text.splitlines())
    assert shown(page, key).said.startswith(said) and shown(page, key).kept


def test_a_name_within_another_word_parts_nothing():
    assert Parts(("bolt", "reach", "pad"))("bolt pad-bridge reach 55, 73") == {
        "bolt": "pad-bridge", "reach": [55, 73]}
    assert Parts(("back", "out"))("170, 88") == "170, 88"


@pytest.mark.parametrize(("key", "typed", "words"), [
    ("heel", "170, 88", "back"), ("heel", "back 170", "out: missing"), ("ring", "44.5", "teeth"),
    ("rear_brake", "bolt nowhere reach 55, 73", "nowhere"), ("crank", "abc", "no number"),
    ("slot_at", "900", "from the front end of a slot"), ("fork_blades", "0", "size"),
    ("rear_rim_off", "90", "more than the tyre is wide"), ("crank", "9" * 300, "characters"),
    ("rear_guard", "50, 12", "write { width"),
])
def test_what_cannot_be_used_stays_in_its_field_with_its_fault_and_the_file_as_it_was(
        key, typed, words):
    text, page = after({key: typed})
    assert text == SHELL and shown(page, key).typed == typed
    assert words in " ".join(shown(page, key).wrong) and page.blocks


def test_two_numbers_that_need_each_other_are_written_together():
    bare = re.sub(r"(?m)^(ring|sprocket|crank\w*|heel|pedal) = .*\n", "", SHELL)
    text, page = after({"ring": "44"}, bare)
    assert text == bare and "missing" in shown(page, "sprocket").wrong[0]
    text, page = after({"ring": "44", "sprocket": "18", "crank": "x"}, bare)
    assert "ring = 44" in text and "sprocket = 18" in text and shown(page, "crank").wrong


def test_what_is_not_measured_is_said_with_what_it_would_give_and_leads_to_its_field():
    page = checking(re.sub(r"(?m)^(ring|pedal) = .*\n", "", SHELL).replace("sprocket = 18\n", ""))
    wants = {one.what: [key for key, _ in one.fields] for one in page.wanted}
    assert wants["the chain's links"] == ["drive-ring", "drive-sprocket"]
    assert wants["the lean until a pedal touches"] == ["drive-pedal"]
    assert "the room beside the heel" not in wants
    assert "the front brake's reach" in wants


def test_a_job_without_a_drive_gets_one():
    bare = re.sub(r"(?ms)^\[drive\].*?(?=^\[points\])", "", SHELL)
    text, page = after({"crank": "152", "crank_inside": "62"}, bare)
    assert text == bare.replace("[points]", "[drive]\ncrank = 152\ncrank_inside = 62\n\n[points]")
    assert parse_job(text).drive.crank == 152 and any(
        one.words.startswith("crank ") for one in page.marked)


def test_in_inches_the_numbers_in_the_picture_and_beside_the_fields_are_inches_first():
    _, page = after({"crank": "6.5", "crank_inside": "2-1/2"}, INCHES)
    assert shown(page, "crank").said.startswith("6-1/2 in")
    assert page.units == "in" and any(re.fullmatch(r"crank [\d.]+ in", one.words)
                                      for one in page.marked)


def test_a_frame_that_is_no_bicycle_has_a_sentence_and_its_diagonals_and_no_fields(tmp_path):
    page = checking(DIPPER)
    assert "no wheels" in page.sentence and "diagonals" in page.sentence and page.groups == ()
    assert [block.items[0].head for block in page.blocks] == ["Diagonals"]
    assert page.marked == () and marked("x = ") == ()


def test_a_bicycle_of_which_nothing_is_known_says_what_to_give():
    text = SHELL[:SHELL.index("[bicycle]")] + "[bicycle]\nshell = 68\n" + (
        '[tubes.bar]\nshape = "20 x 1"\nstart = { at = [0, 0, 0] }\nend = { at = [200, 0, 0] }\n')
    page = checking(text)
    assert "no wheel is known" in page.wrong[0] and page.groups and not page.good
    assert parse_job(text).measured == Measured(shell=68)


def test_the_page_marks_keeps_the_limit_and_is_undone(tmp_path):
    path = wagtail(tmp_path)
    path.write_text(STAYS)
    one = client(tmp_path, follow_redirects=False)
    page = one.get("/wagtail/check?limit=10")
    assert 'id="place-1"' in page.text and "TOO CLOSE" in part(page, "wrong")
    assert 'action="/wagtail/check?limit=10"' in page.text
    form = fields(page)
    answer = one.post("/wagtail/check?limit=10", data={**form, "drive-fork_blades": "70"},
                      headers=OWN)
    assert answer.status_code == 303 and answer.headers["Location"] == "/wagtail/check?limit=10"
    assert "fork_blades = 70" in path.read_text()
    assert go(one, "undo", here="check").headers["Location"] == "/wagtail/check"
    assert path.read_text() == STAYS
    assert 'class="asked"' in one.get("/wagtail/check/view.svg?limit=10&round=30&up=20").text


def test_a_broken_job_shows_its_faults_beside_its_fields(tmp_path):
    path = wagtail(tmp_path)
    path.write_text(SHELL.replace("ring = 44", 'ring = "x"').replace("rake = 45", "rake = []"))
    page = client(tmp_path).get("/wagtail/check")
    assert "teeth" in beside(page, "drive-ring")
    assert "rake : [] is not a number" in part(page, "wrong")


def test_a_change_to_a_file_that_changed_meanwhile_is_not_written(tmp_path):
    path = wagtail(tmp_path)
    path.write_text(SHELL)
    one = client(tmp_path)
    form = fields(one.get("/wagtail/check"))
    path.write_text(f"{SHELL}\n# another\n")
    answer = one.post("/wagtail/check", data={**form, "drive-crank": "150"}, headers=OWN)
    assert answer.status_code == 409 and 'value="150"' in answer.text
    assert "crank = 150" not in path.read_text()


def test_the_example_of_every_value_of_several_parts_can_be_typed_in_a_job_of_any_unit():
    for text in (SHELL, INCHES):
        for setting in SETTINGS:
            example = setting.how.rpartition(": ")[2]
            if "mm" in example and setting.key != "rear_brake":
                made = changed(text, {f"drive-{setting.key}": example})
                assert made.typed == {} and f"{setting.key} = {{" in made.text
