"""The station Tubes: tubes made, changed, seated, mended and taken out without seeing a file."""

import re
from html import unescape

import pytest

from coper.errors import WordsError
from coper.job.read import parse_job
from coper.job.shaped import shape_job
from coper.page.answers.change import Change
from coper.page.answers.tube_change import changed_tube
from coper.page.answers.tube_page import tube_shown
from coper.page.answers.typed import needed_point, point
from tests.page.pages import DEMO, OWN, beside, client, fields, part

POSTS = """\
title = "Posts"
units = "mm"

[points]
top = [0, 0, 300]

[tubes.post]                    # the first
shape = "40 x 3"
start = { at = [0, 0, 0] }
end = { at = "top" }
"""

RAIL = """
[tubes.rail]
shape = "25 x 2"
start = { at = [0, 0, 200] }
end = { at = [400, 0, 200] }
"""

TWINS = RAIL.replace(", 0, 200]", ", 100, 200]") + "mirror = true\n"


@pytest.fixture
def path(tmp_path):
    one = tmp_path / "posts.toml"
    one.write_text(POSTS + RAIL)
    return one


@pytest.fixture
def page(path):
    return client(path.parent)


def ticks(text):
    """The fields that are ticked or chosen on a page."""
    found = dict(re.findall(
        r'<input type="checkbox" id="[^"]*" name="([^"]*)" value="([^"]*)" checked', text))
    for name, body in re.findall(r'<select id="([^"]*)".*?>(.*?)</select>', text, re.DOTALL):
        chosen = re.search(r'<option value="([^"]*)" selected', body)
        found[unescape(name)] = unescape(chosen[1]) if chosen else ""
    return found


def form(page, at):
    """What the form of a tube holds, as a browser sends it."""
    seen = page.get(at)
    held = {name: value for name, value in fields(seen).items()
            if not re.search(rf'type="checkbox" id="{re.escape(name)}"', seen.text)}
    return {**held, **ticks(seen.text)}


def keep(page, tube="rail", name="posts", at="", drop=(), **typed):
    """Change fields of a tube."""
    held = form(page, f"/{name}/tubes/{tube}{at}")
    sent = {key: value for key, value in {**held, **typed}.items() if key not in drop}
    return page.post(f"/{name}/tubes/{tube}", data=sent, headers=OWN)


def press(page, place, name="posts", /, **typed):
    """Press the button of a form of its own."""
    as_of = page.get(f"/{name}/as-of").text
    return page.post(f"/{name}/{place}", data={"as_of": as_of, **typed}, headers=OWN,
                     follow_redirects=False)


def go(page, way, here="tubes", name="posts"):
    return press(page, way, name, here=here)


def made(path):
    """The pieces of a job by their labels."""
    return {piece.label: piece for piece in shape_job(parse_job(path.read_text())).pieces}


def test_every_tube_is_listed_with_its_words_its_blank_and_its_like(page, path):
    path.write_text(POSTS + TWINS)
    seen = page.get("/posts/tubes")
    assert part(seen, "tubes") == (
        "post 40 x 3; blank 300.00 mm rail 25 x 2; blank 400.00 mm, left and right")
    assert "2 x rail: rail left, rail right." in part(seen, "alike")
    assert "lengths along a tube" in page.get("/posts/said").text


def test_a_first_tube_and_one_on_it_come_about_by_numbers_only(tmp_path):
    one = client(tmp_path)
    begun = one.post("/-/begin", headers=OWN, data={
        "title": "Gate", "like": "another frame", "units": "in", "paper": "letter", "saws": "1in"})
    assert begun.status_code == 200
    first = part(one.get("/gate/tubes"), "alike")
    assert "give the first one a name, its size and its two points" in first
    assert "goes from 0, 0, 0 to 0, 0, 12." in first, "an example in the unit of the job"
    assert "no tube yet" in one.get("/").text and "frame.svg" not in one.get("/").text
    press(one, "tubes", "gate", **{"name": "post", "kind": "round", "size.": "1-1/2",
                                   "size.x": "16swg", "start.at": "0, 0, 0", "end.at": "0,0,40"})
    assert "a tube that ends at this one" in part(one.get("/gate/tubes"), "alike")
    added = press(one, "tubes", "gate", **{
        "name": "rail", "kind": "box", "size.box": "1", "size.by": "1", "size.corner": "1/8",
        "size.x": "0.083", "start.at": "0, 0, 20", "end.at": "30, 0, 20"})
    assert added.status_code == 303 and added.headers["location"] == "/gate/tubes/rail"
    answer = keep(one, "rail", "gate", **{"start.on.post": "yes"})
    assert answer.status_code == 200 and answer.url.path == "/gate/tubes/rail"
    assert "on post at 90°" in part(answer, "comes-to")
    text = (tmp_path / "gate.toml").read_text()
    assert 'shape = "1-1/2 x 16swg"' in text
    assert 'start = { at = [0, 0, 20], on = ["post"] }' in text
    assert 'saws = ["1in"]' in text


def test_a_new_tube_says_beside_each_field_what_is_wrong_and_nothing_is_written(page, path):
    before = path.read_text()
    answer = press(page, "tubes", kind="box", **{"size.box": "40", "start.at": "", "end.at": "9,9"})
    assert answer.status_code == 422 and path.read_text() == before
    assert "below" in part(answer, "notice")
    assert "give it one, such as rail" in beside(answer, "name")
    assert "give other side too" in beside(answer, "size.box")
    assert "no point" in beside(answer, "start.at")
    assert "9,9: not three numbers" in beside(answer, "end.at")
    answer = press(page, "tubes", name="bar", kind="round",
                   **{"size.": "4 0", "start.at": "nowhere", "end.at": "0, 0, 9"})
    assert "4 0: " in beside(answer, "size.") and "tubes" not in beside(answer, "size.")
    assert "'nowhere' is not known" in beside(answer, "start.at")
    assert fields(answer)["start.at"] == "nowhere" and path.read_text() == before
    again = press(page, "tubes", name="rail", kind="round",
                  **{"size.": "20", "start.at": "top", "end.at": "0, 50, 9"})
    assert "of that name" in beside(again, "name")


def test_a_new_tubes_points_may_be_picked_by_their_names(page, path):
    press(page, "tubes", name="stay", kind="round", **{
        "size.": "20", "size.x": "1,5", "start.at": "", "start.pick": "top",
        "end.at": "0, 200, 0", "end.pick": ""})
    text = path.read_text()
    assert 'shape = "20 x 1.5"\nstart = { at = "top" }\nend = { at = [0, 200, 0] }' in text
    assert text.startswith(POSTS)


def test_another_kind_of_a_new_tube_keeps_what_was_typed_of_it(page):
    seen = page.get("/posts/tubes?kind=round&kind=box&name=a+%3Cbar%3E&size.=9&start.at=0+0+20")
    assert fields(seen)["name"] == "a <bar>" and fields(seen)["start.at"] == "0 0 20"
    assert "size.box" in fields(seen) and "size." not in fields(seen)
    first = re.search(r"<form[^>]*/tubes[?\"].*?<button([^>]*)>", seen.text, re.DOTALL)
    assert first[1] == " hidden", "the first button is what Enter presses: it chooses no kind"


@pytest.mark.parametrize(("typed", "value"), [
    ("0 0 20", [0, 0, 20]), ("1-1/2 -3in 0.5", ["1-1/2", "-3in", 0.5]), ("1", "1"),
    ("left lug 2", "left lug 2"), ("1 1/2, 0, 3", ["1 1/2", 0, 3])])
def test_three_numbers_may_have_spaces_between_them(typed, value):
    assert point(typed) == value == needed_point(typed)


def test_two_numbers_are_no_point():
    with pytest.raises(WordsError, match="not three numbers"):
        needed_point("0 50")


def test_each_kind_has_its_numbers_and_they_make_the_words(page, path):
    seen = page.get("/posts/tubes/rail?kind=oval").text
    assert 'name="size.oval" value=""' in seen and "<strong>oval</strong>" in seen
    assert 'name="size." value="25"' in page.get("/posts/tubes/rail").text
    half = keep(page, at="?kind=oval", **{"size.oval": "30"})
    assert half.status_code == 422 and "give narrow too" in beside(half, "size.oval")
    assert 'value="30"' in half.text and "<strong>oval</strong>" in half.text
    assert keep(page, at="?kind=oval", **{
        "size.oval": "30", "size.by": "17", "size.x": "18bwg"}).status_code == 200
    assert 'shape = "oval 30 by 17 x 18bwg"' in path.read_text()
    other = keep(page, at="?kind=bent", **{"start.back": "1"})
    assert "<strong>bent</strong>" in other.text  # the numbers that are asked for stay
    assert 'name="size.oval" value="30"' in keep(page, **{"start.back": ""}).text
    keep(page, shape="22.2 to 14 over 390 x 0.8", shape_from="3")
    assert 'shape = "22.2 to 14 over 390 x 0.8"' in path.read_text()
    keep(page, shape_from="12")
    assert "shape_from = 12" in path.read_text()


def test_the_tubes_near_an_end_are_offered_with_what_the_cope_would_be(page, path):
    seen = part(page.get("/posts/tubes/rail"), "seats-start")
    assert "post at 90°, offset 0.00 mm; its point is 20.00 mm inside" in seen
    assert part(page.get("/posts/tubes/rail"), "seats-end") == ""
    path.write_text((POSTS + RAIL).replace("[0, 0, 200]", "[24, 35, 200]"))
    seen = part(page.get("/posts/tubes/rail"), "seats-start")
    assert re.search(r"post at 9\d\.\d+°.*its point is 22.\d+ mm away; ?|misses the main", seen)


def test_a_tick_seats_an_end_and_taking_it_away_makes_it_plain_again(page, path):
    keep(page, **{"start.back": "3"})
    assert "start = { at = [0, 0, 200], back = 3 }" in path.read_text()
    keep(page, **{"start.on.post": "yes"})
    assert 'start = { at = [0, 0, 200], on = ["post"] }' in path.read_text()
    keep(page, **{"start.cut": "square"})
    assert 'on = ["post"], cut = "square" }' in path.read_text()
    keep(page, drop=["start.on.post"])
    assert path.read_text() == POSTS + RAIL


def test_an_end_is_cut_in_every_other_way_too_each_in_the_place_of_the_last(page, path):
    path.write_text(POSTS + RAIL + RAIL.replace("rail", "tie").replace("[400, 0", "[0, 300"))
    for typed, written in (
            ({"start.mitre": "tie"}, 'mitre = "tie"'),
            ({"start.face": "1, 0, 1"}, "face = [1, 0, 1]"),
            ({"start.cap": "3"}, "face = [1, 0, 1], cap = 3"),
            ({"start.back": "25"}, "cap = 3, back = 25")):
        answer = keep(page, **typed)
        assert answer.status_code == 200, answer.text
        assert f"[tubes.rail]\nshape = \"25 x 2\"\nstart = {{ at = [0, 0, 200], {written} }}" in (
            path.read_text())


def test_what_cannot_be_made_stays_in_its_field_with_its_message_and_the_rest_is_kept(page, path):
    answer = keep(page, **{
        "start.at": "0, 0, 600", "start.on.post": "yes", "end.at": "400, 0, 210"})
    assert answer.status_code == 422
    text = path.read_text()
    assert "end = { at = [400, 0, 210] }" in text and "on =" not in text
    assert "start = { at = [0, 0, 600] }" in text
    said = beside(answer, "start.on.post")
    assert said.startswith("it lands wholly past the end of post")
    assert re.search(r'name="start.on.post" value="yes" checked', answer.text)
    answer = keep(page, shape="25 q 2")
    assert "unknown word" in beside(answer, "shape") and path.read_text() == text


def test_numbers_that_need_each_other_are_kept_together(page, path):
    keep(page, **{"start.on.post": "yes"})
    both = keep(page, **{"start.at": "0, 0, 100", "end.at": "0, 400, 100", "mirror": "yes"})
    assert both.status_code == 200 and "mirror = true" in path.read_text()
    assert list(made(path)) == ["post", "rail left", "rail right"]
    keep(page, drop=["mirror"])
    assert "# mirror = true" in path.read_text() and list(made(path)) == ["post", "rail"]
    keep(page, existing="yes", drop=["start.on.post"])
    assert "existing = true" in path.read_text()
    assert "seats-start" in page.get("/posts/tubes/rail").text
    assert "start.on.post" not in page.get("/posts/tubes/rail").text


def test_corners_and_their_bend_are_said_together(page, path):
    half = keep(page, **{"corner.0": "400, 0, 250"})
    assert half.status_code == 422 and "bend: missing" in beside(half, "corner.0")
    answer = keep(page, **{"end.at": "400, 0, 250", "corner.0": "200, 0, 200", "bend": "100"})
    assert answer.status_code == 200
    assert ("start = { at = [0, 0, 200] }\ncorners = [[200, 0, 200]]\nbend = 100\n"
            "end = { at = [400, 0, 250] }") in path.read_text()
    assert "corner.1" in answer.text and "bends" in part(answer, "comes-to")
    keep(page, **{"corner.0": "", "bend": ""})
    assert "# corners" in path.read_text() and not made(path)["rail"].tube.is_bent


def test_which_way_a_box_lies_is_said_in_one_way(page, path):
    keep(page, shape="box 40 by 20 x 2")
    answer = keep(page, tall="20")
    assert "lies 40 wide, 20 tall" in part(answer, "comes-to")
    keep(page, turn="30")
    text = path.read_text()
    assert "turn = 30" in text and "# tall = 20" in text


def test_tubes_that_run_through_each_other_are_mended_by_one_click_and_undo_brings_it_back(
        page, path):
    seen = page.get("/posts/tubes")
    assert "post and rail run through each other" in part(seen, "clashes")
    assert "Seat the start of rail on post" in part(seen, "mends")
    assert "on rail" not in part(seen, "mends")
    press(page, "mend", tube="rail", which="start", how="on", other="post")
    assert 'start = { at = [0, 0, 200], on = ["post"] }' in path.read_text()
    after = page.get("/posts/tubes")
    assert part(after, "mends") == part(after, "clashes") == ""
    go(page, "undo")
    assert path.read_text() == POSTS + RAIL
    back = press(page, "tubes/rail/mend", tube="rail", which="start", how="on", other="post")
    assert back.headers["location"] == "/posts/tubes/rail" and 'on = ["post"]' in path.read_text()
    refused = press(page, "mend", tube="rail", which="middle", how="on", other="post")
    assert refused.status_code >= 400


def test_two_ends_at_one_point_may_be_mitred_by_a_click_too(page, path):
    path.write_text(POSTS + RAIL.replace("[0, 0, 200]", '"top"'))
    assert part(page.get("/posts/tubes/rail"), "mends") == (
        "Mitre the end of post with rail Seat the end of post on rail "
        "Seat the start of rail on post")
    press(page, "mend", tube="post", which="end", how="mitre", other="rail")
    assert {end.cut for piece in made(path).values() for end in piece.ends} == {"plain", "flat"}


def test_a_seat_that_was_forgotten_where_an_end_stops_at_a_tubes_skin_is_offered(page, path):
    path.write_text(POSTS + RAIL.replace("[0, 0, 200]", "[20, 0, 200]"))
    seen = page.get("/posts/tubes/post")
    assert part(seen, "clashes") == ""
    assert part(seen, "mends") == ("The start of rail ends at post, and does not seat on it. "
                                   "Seat the start of rail on post")
    path.write_text(POSTS + RAIL.replace("[0, 0, 200]", "[21, 0, 200]"))
    assert part(page.get("/posts/tubes"), "mends") == ""


def test_a_tube_beside_another_has_its_points_measured_from_that_ones(page, path):
    keep(page, **{"start.on.post": "yes"})
    answer = press(page, "tubes/rail/beside", **{
        "beside-name": "low rail", "beside-by": "60", "way": "below"})
    assert answer.headers["location"] == "/posts/tubes/low%20rail"
    text = path.read_text()
    assert '"low rail-start" = { from = [0, 0, 200], by = [0, 0, -60] }' in text
    assert ('[tubes."low rail"]\nshape = "25 x 2"\n'
            'start = { at = "low rail-start", on = ["post"] }') in text
    assert made(path)["low rail"].tube.end.tolist() == [400, 0, 140]
    answer = press(page, "tubes/rail/beside", **{
        "beside-name": "high", "beside-by": "8in", "way": "above"})
    assert answer.status_code == 303  # too high for the post: it is cut off plain
    assert made(path)["high"].start.cut == "plain"
    assert made(path)["high"].tube.start[2] == pytest.approx(403.2)
    wrong = press(page, "tubes/rail/beside", **{
        "beside-name": "high", "beside-by": "x", "way": "above"})
    assert wrong.status_code == 422 and beside(wrong, "beside-by")


def test_a_bridge_between_twins_seats_on_both(page, path):
    assert "A bridge between the twins" not in page.get("/posts/tubes/rail").text
    path.write_text(POSTS + TWINS)
    assert "A bridge between the twins" in page.get("/posts/tubes/rail").text
    answer = press(page, "tubes/rail/bridge", **{
        "bridge-name": "bridge", "bridge-shape": "12 x 1", "bridge-at": "60", "place": "by"})
    assert answer.headers["location"] == "/posts/tubes/bridge"
    bridge = made(path)["bridge"]
    assert [main.label for end in bridge.ends for main in end.mains] == ["rail left", "rail right"]
    assert bridge.tube.start.tolist() == [60, 100, 200]
    wrong = press(page, "tubes/rail/bridge", **{
        "bridge-name": "b", "bridge-shape": "12 x 1", "bridge-at": "600", "place": "height"})
    assert wrong.status_code == 422 and "level" in beside(wrong, "bridge-at")


def test_a_tube_has_another_name_with_all_that_names_it_and_undo_finds_the_way_back(page, path):
    keep(page, **{"start.on.post": "yes"})
    before = path.read_text()
    answer = press(page, "tubes/post/rename", **{"new-name": "mast <b>"})
    assert answer.headers["location"] == "/posts/tubes/mast%20%3Cb%3E"
    assert path.read_text() == before.replace("tubes.post", 'tubes."mast <b>"').replace(
        '["post"]', '["mast <b>"]')
    seen = page.get(answer.headers["location"]).text
    assert "<b>" not in seen and "mast &lt;b&gt;" in seen
    gone = page.get(go(page, "undo", "tubes/mast%20%3Cb%3E").headers["location"])
    assert gone.status_code == 404 and "no tube of this name now" in gone.text
    assert path.read_text() == before
    taken = press(page, "tubes/post/rename", **{"new-name": "rail"})
    assert taken.status_code == 422 and "of that name" in beside(taken, "new-name")


def test_a_tube_is_taken_out_unless_another_names_it_and_comes_back(page, path):
    keep(page, **{"start.on.post": "yes"})
    before = path.read_text()
    refused = press(page, "tubes/post/remove")
    assert refused.status_code == 422 and path.read_text() == before
    assert page.get("/posts/tubes/post/remove").status_code == 200  # its page loaded anew
    assert 'href="/posts/measure/top">Where top is' in page.get("/posts/tubes/post").text
    assert "it is needed by the start of rail" in part(refused, "wrong")
    assert press(page, "tubes/rail/remove").headers["location"] == "/posts/tubes"
    assert list(made(path)) == ["post"]
    go(page, "undo")
    assert path.read_text() == before


def test_what_another_window_changed_is_not_written_over(page, path):
    held = form(page, "/posts/tubes/rail")
    path.write_text(POSTS.replace("40 x 3", "50 x 3") + RAIL)
    now = path.read_text()
    for place, typed in (("tubes/rail", {**held, "shape": "30 x 2"}), ("tubes", {"name": "x"}),
                         ("tubes/rail/remove", {}), ("mend", {
                             "tube": "rail", "which": "start", "how": "on", "other": "post"})):
        answer = page.post(f"/posts/{place}", data={**typed, "as_of": held["as_of"]}, headers=OWN)
        assert answer.status_code == 409, place
    assert path.read_text() == now


def test_a_job_that_an_editor_broke_shows_its_faults_and_its_fields(page, path):
    path.write_text((POSTS + RAIL).replace('"25 x 2"', '"25 y 2"'))
    answer = page.get("/posts/tubes/rail")
    assert "unknown word y" in part(answer, "wrong") and 'value="25 y 2"' in answer.text
    assert keep(page, shape="25 x 2").status_code == 200
    assert path.read_text() == POSTS + RAIL
    path.write_text("[tubes\n")
    assert page.get("/posts/tubes/rail").status_code == 404
    assert "not closed" in part(page.get("/posts/tubes"), "wrong")


@pytest.mark.parametrize(("name", "tubes"), [
    ("wagtail", ("seat-stay", "down-tube", "rack-hoop")),
    ("dipper", ("rail", "hoop", "cross-rear", "stake", "drawbar", "tongue"))])
def test_every_field_as_it_is_shown_is_what_the_file_has_byte_for_byte(name, tubes):
    text = (DEMO / f"{name}.toml").read_text()
    for tube in tubes:
        shown = tube_shown(text, tube)
        boxes = [*shown.sizes, shown.shape, *shown.own, *shown.course]
        for end in shown.ends:
            boxes += [end.at, *(seat.tick for seat in end.seats), *end.ways]
        held = {box.name: box.was for box in boxes}
        said = {key: value for key, value in held.items() if value}
        assert len(said) > 5
        assert changed_tube(text, tube, said, {**held, "kind": shown.kind}) == Change(text, {})
