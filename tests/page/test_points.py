"""Points at the station Measure: each way to give one, as fields, and back into the file."""

import math
import re
from urllib.parse import quote

import pytest

from coper.errors import CoperError
from coper.job.point_ways import around
from coper.job.read import job_tables, parse_job
from coper.job.starter import starter_job
from coper.page.answers.point_changes import added, changed
from coper.page.answers.point_fields import fields_of, value_in, value_typed
from coper.page.answers.points import how_words, points
from coper.telling.words.place import place_words
from coper.units import lengths_in
from tests.page.pages import DEMO, OWN, beside, client, fields, go, part, wagtail

DIPPER = (DEMO / "dipper.toml").read_text()

WAGTAIL = (DEMO / "wagtail.toml").read_text()

LEAN = """\
title = "Lean"

[points]
foot = [-100, 20, 50]
step = { from = "foot", by = [12, -60.5, 4] }
knee = { along = "post", by = 40 }
high = { along = "leg", height = 249, side = "right" }

[tubes.post]
shape = "25 x 2"
start = { at = [0, 0, 0] }
end = { at = [30, 0, 400] }

[tubes.leg]
shape = "20 x 2"
start = { at = "foot" }
end = { at = [-80, 60, 450] }
mirror = true
"""
"""A frame of two tubes that lean, one with a twin, and a point in each way but on a wheel."""


@pytest.fixture
def path(tmp_path):
    found = tmp_path / "lean.toml"
    found.write_text(LEAN)
    return found


@pytest.fixture
def one(path):
    return client(path.parent)


def in_hand(page):
    """The fields of the point in hand, as the browser would send them."""
    names = fields(page)
    for select in re.findall(r'<select id="(\w+)".*?</select>', page.text, re.DOTALL):
        block = page.text.split(f'<select id="{select}"')[1].split("</select>")[0]
        chosen = re.search(r'<option value="([^"]*)" selected', block)
        names[select] = chosen[1] if chosen else ""
    return names


def give(one, point, first="", at=None, **typed):
    """Change fields of a point, as its form does."""
    before = one.get(f"/lean/measure/{point}") if at is None else at
    data = {**in_hand(before), **typed, **({"first": first} if first else {})}
    return one.post(f"/lean/measure/{point}", data=data, headers=OWN)


def after(point, first="", text=LEAN, **typed):
    """What comes of fields that are changed, without a page."""
    group = points(text, point).hand.group
    was = {f"was.{key}": words for key, words in group.was.items()}
    return changed(text, point, {**group.typed, **was, **typed}, first)


def place(text, point):
    return parse_job(text).points[point]


def written(text, point):
    return job_tables(text)["points"][point]


@pytest.mark.parametrize(("at", "words"), [
    ((-420, 0, 65), "420.00 mm (16-17/32 in) behind, 65.00 mm (2-9/16 in) above, in the middle"),
    ((1, 2, -3), "1.00 mm (3/64 in) ahead, 3.00 mm (1/8 in) below, 2.00 mm (5/64 in) left"),
    ((0, -34, 0), "34.00 mm (1-11/32 in) right"), ((0, 0, 0), "at the origin"),
    ((0.004, -0.004, 7), "7.00 mm (9/32 in) above, in the middle"),
])
def test_where_a_point_is_takes_no_knowledge_of_axes(at, words):
    assert place_words(at) == words


def test_inches_are_said_first_in_a_job_in_inches():
    with lengths_in("in"):
        assert place_words((-254, 25.4, 0)) == "10 in behind, 1 in left"


@pytest.mark.parametrize(("point", "words"), [
    ("foot", "by three numbers"), ("step", "from foot: 12 ahead, 4 above, 60.5 right"),
    ("knee", "on post, 40 from its start"), ("high", "on leg, right, at the height of 249 above"),
])
def test_the_list_says_of_each_point_how_it_is_given_and_where_it_is(one, point, words):
    page = one.get("/lean/measure")
    entry = next(found for found in re.findall(r"<li><a href.*?</li>", page.text, re.DOTALL)
                 if f"<strong>{point}</strong>" in found)
    assert how_words(job_tables(LEAN)["points"][point]) == words
    assert f">{words}</span>" in entry
    assert place_words(parse_job(LEAN).points[point]) in entry


def test_a_place_on_a_wheel_and_the_place_of_another_are_said_too():
    assert how_words({"along": "stay", "clear_of": "rear-wheel", "gap": 15}) == (
        "on stay, 15 clear of the rear-wheel")
    assert how_words("axle") == "where axle is"


@pytest.mark.parametrize(("typed", "value"), [
    ({"x": "420", "x_way": "behind"}, [-420, 20, 50]),
    ({"x": "420", "x_way": "ahead"}, [420, 20, 50]),
    ({"x": "-420", "x_way": "behind"}, [420, 20, 50]),
    ({"y_way": "right"}, [-100, -20, 50]), ({"z_way": "below"}, [-100, 20, -50]),
    ({"z": "1-1/8in", "z_way": "below"}, [-100, 20, "-1-1/8in"]),
    ({"y": "20,5"}, [-100, 20.5, 50]), ({"y": "0", "y_way": "right"}, [-100, 0, 50]),
])
def test_three_numbers_have_their_signs_by_words(typed, value):
    change = after("foot", **typed)
    assert not change.typed and written(change.text, "foot") == value
    again = points(change.text, "foot").hand
    assert again.group.typed["x"] in ("420", "100")
    assert again.group.typed["x_way"] == ("ahead" if value[0] > 0 else "behind")
    assert again.where == place_words(place(change.text, "foot"))


@pytest.mark.parametrize(("typed", "by"), [
    ({"dx": "7"}, [7, -60.5, 4]), ({"dx_way": "behind"}, [-12, -60.5, 4]),
    ({"dy_way": "left"}, [12, 60.5, 4]), ({"dz_way": "below"}, [12, -60.5, -4]),
    ({"dz": ""}, [12, -60.5, 0]),
])
def test_a_step_from_another_point_has_its_signs_by_words(typed, by):
    assert points(LEAN, "step").hand.group.typed["dy_way"] == "right"
    assert written(after("step", **typed).text, "step") == {"from": "foot", "by": by}


@pytest.mark.parametrize(("point", "typed", "value"), [
    ("knee", {"by": "55,5"}, {"along": "post", "by": 55.5}),
    ("high", {"h": "300"}, {"along": "leg", "side": "right", "height": 300}),
    ("high", {"h": "3", "h_way": "below"}, {"along": "leg", "side": "right", "height": -3}),
    ("high", {"tube": "left|leg", "h": "10in"}, {"along": "leg", "height": "10in"}),
])
def test_a_place_on_a_tube_is_written_as_it_is_said(point, typed, value):
    assert written(after(point, **typed).text, point) == value


def test_the_right_twin_is_on_the_right_and_no_side_means_the_left_one():
    about = around(parse_job(LEAN), job_tables(LEAN))
    (_, left, _), (_, right, _) = (about.axes[("leg", side)].at(100) for side in ("left", "right"))
    assert left > 0 > right and place(LEAN, "high")[1] < 0
    assert fields_of({"along": "leg", "by": 3}, None, about)["tube"] == "left|leg"


def test_a_place_clear_of_a_wheel_is_written_and_only_offered_where_there_is_one():
    change, name = added(WAGTAIL, {
        "new-name": "bridge", "new-way": "clear_of", "new-tube": "right|seat-stay",
        "new-gap": "15", "new-wheel": "rear-wheel"})
    value = {"along": "seat-stay", "side": "right", "clear_of": "rear-wheel", "gap": 15}
    assert name == "bridge" and written(change.text, "bridge") == value
    job, tables = parse_job(change.text), job_tables(change.text)
    x, y, z = job.points["bridge"]
    axle, wheel = job.bicycle.points["axle"], job.bicycle.standing("rear")[0].wheel
    assert y < 0 and math.hypot(x - axle[0], z - axle[2]) == pytest.approx(wheel.radius + 15)
    assert value_in("clear_of", (x, y, z), around(job, tables, "bridge")) == value
    assert "clear_of" in dict(points(change.text, "bridge").hand.group.choices.ways)
    assert "clear_of" not in dict(points(LEAN, "knee").hand.group.choices.ways)


@pytest.mark.parametrize(("point", "way", "value"), [
    ("step", "numbers", [-88, -40.5, 54]),
    ("knee", "height", {"along": "post", "height": 39.888}),
    ("knee", "from", {"from": "step", "by": [90.992, 40.5, -14.112]}),
    ("foot", "from", {"from": "knee", "by": [-102.992, 20, 10.112]}),
])
def test_another_way_keeps_the_place(point, way, value):
    change = after(point, first="way", way=way)
    assert not change.typed and written(change.text, point) == value
    assert place(change.text, point) == pytest.approx(place(LEAN, point), abs=0.01)


def test_another_point_to_start_from_keeps_the_place():
    change = after("step", first="base", base="knee")
    assert written(change.text, "step")["from"] == "knee"
    assert place(change.text, "step") == pytest.approx(place(LEAN, "step"), abs=0.01)


def test_a_way_that_cannot_keep_the_place_asks_before_it_moves_the_point(one, path):
    page = give(one, "step", first="way", way="by")
    assert page.status_code == 422 and path.read_text() == LEAN
    assert "not written yet: so it would stand" in beside(page, "way")
    shown = in_hand(page)
    assert (shown["way"], shown["was.way"], shown["tube"]) == ("by", "from", "right|leg")
    assert give(one, "step", at=page).status_code == 200
    assert written(path.read_text(), "step")["along"] == "leg"


@pytest.mark.parametrize(("point", "typed", "field", "words"), [
    ("foot", {"x": "abc"}, "x", "abc: no number in this length"),
    ("foot", {"z": "1,200"}, "z", "a comma is not a decimal point here"),
    ("foot", {"y": ""}, "y", "no length"), ("foot", {"x": "9" * 300}, "x", "300 characters"),
    ("step", {"dy": "4 furlong"}, "dy", "unknown unit furlong"),
    ("step", {"base": "fot", "dx": "3"}, "base", "'fot' is not known"),
    ("knee", {"by": "nan"}, "by", "not a number"),
    ("knee", {"tube": "|pots"}, "tube", "'pots' is not known"),
    ("high", {"h": "]\n[shop]"}, "h", "no number in this length"),
    ("knee", {"way": "sideways"}, "way", "no way to say a point"),
])
def test_what_cannot_be_used_stays_in_its_field_with_the_command_lines_words(
        point, typed, field, words):
    change = after(point, **typed)
    group = points(change.text, point, change).hand.group
    assert change.text == LEAN and words in group.wrong[field][0]
    assert all(group.typed[key] == value for key, value in typed.items())


def test_a_number_is_undone_and_done_again_at_its_point(one, path):
    give(one, "foot", x="77")
    page = go(one, "undo", "lean", "measure/foot")
    assert page.url.path == "/lean/measure/foot" and path.read_text() == LEAN
    assert in_hand(go(one, "redo", "lean", "measure/foot"))["x"] == "77"


def test_a_point_or_a_tube_that_is_measured_from_the_point_in_hand_is_not_offered(one):
    about = around(parse_job(LEAN), job_tables(LEAN), "foot")
    assert set(about.points) == {"knee"} and set(about.axes) == {("post", "")}
    page = one.get("/lean/measure/foot")
    assert '<option value="step"' not in page.text.split('id="fields"')[1].split("</form>")[0]


def test_what_is_measured_from_a_point_is_named_and_leads_there(one):
    page = one.get("/lean/measure/foot")
    assert part(page, "users") == "Measured from it: step , start of leg ."
    assert 'href="/lean/tubes/leg"' in page.text and 'href="/lean/measure/step"' in page.text


def add(one, **typed):
    """Add a point, as its form does."""
    page = one.get("/lean/measure")
    data = {**fields(page), **{f"new-{key}": words for key, words in typed.items()}}
    return one.post("/lean/points", data=data, headers=OWN)


@pytest.mark.parametrize(("typed", "value"), [
    ({"way": "numbers", "x": "5", "x_way": "behind", "y": "6", "y_way": "right", "z": "7"},
     [-5, -6, 7]),
    ({"way": "from", "base": "foot", "dz": "8", "dz_way": "below"},
     {"from": "foot", "by": [0, 0, -8]}),
    ({"way": "by", "tube": "|post", "by": "9"}, {"along": "post", "by": 9}),
    ({"way": "height", "tube": "right|leg", "h": "90"},
     {"along": "leg", "side": "right", "height": 90}),
])
def test_a_new_point_is_given_in_any_way(typed, value):
    change, name = added(LEAN, {"new-name": "  a  new one ", **{
        f"new-{key}": words for key, words in typed.items()}})
    assert name == "a new one" and written(change.text, name) == value


@pytest.mark.parametrize(("name", "words"), [
    ("", "no name"), ("foot", "there is a point of that name"),
    ("post", "there is a tube of that name"), ("axle", "the name of a place of the bicycle"),
])
def test_a_new_point_needs_a_name_that_is_free(name, words):
    change, _ = added(LEAN, {"new-name": name, "new-way": "numbers", "new-x": "1", "new-y": "2",
                             "new-z": "3"})
    assert change.text == LEAN and words in points(LEAN, "", change).new.wrong["name"][0]


def test_a_wrong_number_of_a_new_point_is_said_beside_it_and_the_rest_stays(one, path):
    page = add(one, name="lug", way="numbers", x="1", y="abc", z="3", z_way="below")
    assert page.status_code == 422 and "no number in this length" in beside(page, "new-y")
    assert not beside(page, "new-x") and path.read_text() == LEAN
    assert (fields(page)["new-y"], fields(page)["new-z_way"]) == ("abc", "below")
    page = add(one, name="lug", way="numbers", x="1", y="2", z="3", z_way="below")
    assert page.url.path == "/lean/measure/lug" and in_hand(page)["z_way"] == "below"


def post(one, where, **typed):
    data = {"as_of": fields(one.get("/lean/measure"))["as_of"], **typed}
    return one.post(f"/lean/{where}", data=data, headers=OWN)


def test_another_name_goes_with_all_that_refers_to_the_point(one, path):
    page = post(one, "measure/foot/name", name="sole")
    assert page.url.path == "/lean/measure/sole"
    assert written(path.read_text(), "step")["from"] == "sole"
    assert job_tables(path.read_text())["tubes"]["leg"]["start"]["at"] == "sole"
    page = post(one, "measure/sole/name", name="knee")
    assert page.status_code == 422 and "a point of that name" in beside(page, "name")
    assert fields(page)["name"] == "knee"


def test_after_the_undo_of_a_name_the_list_is_shown(one):
    post(one, "measure/foot/name", name="sole")
    assert go(one, "undo", "lean", "measure/sole").url.path == "/lean/measure"


def test_a_point_that_is_used_is_not_taken_out_and_one_that_is_not_becomes_a_comment(one, path):
    page = post(one, "measure/foot/remove")
    assert page.status_code == 422 and path.read_text() == LEAN
    assert "needed by step, the start of leg" in part(page, "wrong")
    page = post(one, "measure/step/remove")
    assert page.url.path == "/lean/measure"
    assert '# step = { from = "foot", by = [12, -60.5, 4] }\n' in path.read_text()


def test_a_job_gets_another_title(one, path):
    page = post(one, "title", title="  Lean <b>on</b> ")
    assert page.status_code == 200 and parse_job(path.read_text()).title == "Lean <b>on</b>"
    assert "<b>on" not in page.text
    page = post(one, "title", title="x" * 201)
    assert page.status_code == 422 and "201 characters" in beside(page, "title")


def test_markup_in_a_points_name_stays_text_on_the_page_and_in_the_picture(one, path):
    name = '<script>"&\''
    add(one, name=name, way="numbers", x="1", y="2", z="3")
    assert written(path.read_text(), name) == [1, 2, 3]
    for where in ("measure", "measure/foot", "measure/%3Cscript%3E%22&'", "points.svg"):
        page = one.get(f"/lean/{where}")
        assert page.status_code == 200 and "<script>\"" not in page.text, where
    assert "&lt;script&gt;" in one.get("/lean/points.svg").text


def test_the_point_in_hand_is_marked_in_the_picture_and_each_dot_leads_to_its_point(one):
    page = one.get("/lean/measure/knee?round=30&up=20")
    picture = page.text.split('id="view"')[1].split("</figure>")[0]
    dot = re.search(r"<g[^>]*id=\"point-knee\"[^>]*>", picture)[0]
    assert 'class="in-hand"' in dot
    assert 'class="in-hand"' not in re.search(r"<g[^>]*id=\"point-foot\"[^>]*>", picture)[0]
    assert 'href="/lean/measure/foot?round=30&amp;up=20"' in picture
    assert 'data-turn="/lean/points.svg?point=knee"' in page.text
    alone = one.get("/lean/points.svg?point=knee&round=30&up=20")
    assert alone.headers["Content-Type"].startswith("image/svg+xml")
    assert alone.text.strip() in picture


def test_of_a_bicycle_the_points_that_it_gives_are_listed_and_only_its_own_are_changed(tmp_path):
    wagtail(tmp_path)
    one = client(tmp_path)
    page = one.get("/wagtail/measure")
    assert "414.97 mm (16-11/32 in) behind, 58.00 mm (2-9/32 in) above, in the middle" in part(
        page, "given-points")
    assert "Points of your own" in page.text and 'href="/wagtail/measure/lug"' in page.text
    axle = one.get("/wagtail/measure/axle")
    assert axle.status_code == 200 and 'id="fields"' not in axle.text
    page = one.post("/wagtail/measure/axle", headers=OWN, data={
        **in_hand(one.get("/wagtail/measure/lug")), "x": "3", "was.x": "4", "way": "numbers"})
    assert page.status_code == 422


def test_a_point_whose_start_has_no_name_keeps_it():
    text = LEAN.replace('from = "foot"', "from = [1, 2, 3]")
    assert points(text, "step").hand.group.typed["base"] == "="
    change = after("step", text=text, dx="9")
    assert written(change.text, "step") == {"from": [1, 2, 3], "by": [9, -60.5, 4]}


def test_a_job_without_points_says_what_they_are_for_and_one_with_nothing_what_to_do_first(
        tmp_path):
    path = tmp_path / "lean.toml"
    path.write_text(re.sub(r"\[points\].*?\n\n", "", LEAN, flags=re.DOTALL).replace(
        '"foot"', "[1, 2, 3]"))
    one = client(tmp_path)
    assert "None yet" in part(one.get("/lean/measure"), "points")
    assert add(one, name="lug", way="numbers", x="1", y="2", z="3").status_code == 200
    path.write_text('title = "Nothing"\n\n[tubes]\n')
    page = one.get("/lean/measure")
    assert page.status_code == 200 and "First add a tube" in part(page, "points")


def test_a_file_that_does_not_load_shows_its_point_and_can_be_mended(one, path):
    path.write_text(LEAN.replace("[12, -60.5, 4]", '[12, "wide", 4]'))
    page = one.get("/lean/measure/step")
    assert page.status_code == 200 and "no number in this length" in beside(page, "dy")
    assert give(one, "step", dy="60.5", dy_way="right").status_code == 200
    assert path.read_text() == LEAN


@pytest.mark.parametrize("text", [DIPPER, LEAN, WAGTAIL, *(
    starter_job(kind, unit) for kind in ("trailer", "rack", "rear-end") for unit in ("in", "mm"))])
def test_the_fields_of_every_point_give_what_the_file_has_and_each_way_the_same_place(text):
    job, tables = parse_job(text), job_tables(text)
    for name, value in tables["points"].items():
        about = around(job, tables, name)
        shown = fields_of(value, job.points[name], about)
        assert value_typed(shown, value) == value or value.get("side") == "left"
        for way in ("numbers", "from"):
            found = value_in(way, job.points[name], about)
            assert found is None or value_typed({**shown, **fields_of(found, None, about)}) == found


def test_a_field_longer_than_any_value_is_refused():
    with pytest.raises(CoperError, match="201 characters"):
        value_typed({"way": "by", "tube": "|post", "by": "1" * 201})


def test_a_page_that_said_what_is_wrong_can_be_loaded_again(one):
    for where in ("points", "title", "measure/foot/name", "measure/foot/remove"):
        assert one.get(f"/lean/{where}").status_code == 200


@pytest.mark.parametrize("name", ["room", "keep", "name", "points.svg", "a/b"])
def test_a_point_may_be_called_like_a_place_of_the_page(one, path, name):
    add(one, name=name, way="numbers", x="1", y="2", z="3")
    assert give(one, quote(name, safe=""), x="8").status_code == 200
    assert written(path.read_text(), name) == [8, 2, 3]
