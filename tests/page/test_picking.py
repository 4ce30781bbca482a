"""Points picked from the picture of the station Tubes: for a tube in hand, and for a new one."""

import re
from html import unescape

import pytest

from tests.page.pages import OWN, client, fields, part, wagtail

JOB = """\
title = "Posts"
units = "mm"

[points]
foot = [0, 0, 0]
top = [0, 0, 300]
"far <b>" = [400, -20, 300]
knee = [200, 0, 320]

[tubes.post]
shape = "40 x 3"
start = { at = "foot" }
end = { at = "top" }

[tubes.rail]
shape = "25 x 2"
start = { at = [0, 0, 200] }
end = { at = [400, 0, 200] }

[tubes.hoop]
shape = "20 x 2"
start = { at = [0, 200, 200] }
corners = [[200, 200, 200]]
bend = 60
end = { at = [300, 200, 100] }
"""


@pytest.fixture
def path(tmp_path):
    one = tmp_path / "posts.toml"
    one.write_text(JOB)
    return one


@pytest.fixture
def page(path):
    return client(path.parent)


def dots(text):
    """The words and the address of every dot of a picture."""
    return {name: (unescape(words), unescape(to)) for words, to, name in re.findall(
        r'<a aria-label="([^"]*)" target="_self" xlink:href="([^"]*)">'
        r'(?:<g class="reach">(?:<path[^>]*>)*</g>)?'
        r'<g id="point-([^"]*)"', text)}


def buttons(text):
    """The fields of each form at the picture, by the words of its button."""
    found = {}
    for form in re.findall(r"<form.*?</form>", text.split('id="pick"')[1], re.DOTALL):
        words = re.search(r"<button>(.*?)</button>", form)
        if words and words[1].startswith("Make it"):
            pairs = re.findall(r'name="([^"]*)" value="([^"]*)"', form)
            found[unescape(words[1])] = {key: unescape(value) for key, value in pairs}
    return found


def press(page, at, words):
    """Press a button at the picture."""
    return page.post(at, data=buttons(page.get(at).text)[words], headers=OWN)


def test_every_dot_picks_its_point_on_the_page_that_it_is_on_and_keeps_the_view(page):
    seen = page.get("/posts/tubes/rail?round=-90&up=20&kind=oval").text
    assert dots(seen)["top"] == (
        "top, 300.00 mm (11-13/16 in) above, in the middle",
        "/posts/tubes/rail?round=-90&up=20&kind=oval&point=top")
    turn = unescape(re.search(r'data-turn="([^"]*)"', seen)[1])
    turned = page.get(f"{turn}&round=30&up=10").text
    assert dots(turned)["foot"][1] == (
        "/posts/tubes/rail?kind=oval&round=30&up=10&point=foot")
    assert dots(page.get("/posts/tubes").text)["foot"][1] == "/posts/tubes?point=foot"


def test_the_point_is_named_and_where_it_is_and_what_it_may_be_made_is_a_button_each(page):
    seen = page.get("/posts/tubes/post?point=foot")
    assert part(seen, "pick").startswith(
        "foot at the origin ✓ It is the start of post. Make it the end of post Move foot")
    assert list(buttons(seen.text)) == ["Make it the end of post"]
    assert 'href="/posts/measure/foot"' in seen.text
    assert "foot, picked, at the origin" in seen.text
    assert part(page.get("/posts/tubes/post"), "pick").startswith("A click on a dot")
    assert part(page.get("/posts/tubes/post?point=nowhere"), "pick").startswith("A click on a dot")


def test_the_end_that_is_pressed_is_written_and_no_other_and_undo_brings_it_back(page, path):
    at = "/posts/tubes/rail?round=30&point=far+%3Cb%3E"
    answer = press(page, at, "Make it the end of rail")
    assert answer.status_code == 200 and str(answer.url).endswith("round=30&point=far+%3Cb%3E")
    assert path.read_text() == JOB.replace("[400, 0, 200]", '"far <b>"')
    assert "✓ It is the end of rail." in part(answer, "pick") and "<b>" not in answer.text
    as_of = page.get("/posts/as-of").text
    page.post("/posts/undo", data={"as_of": as_of, "here": "tubes/rail"}, headers=OWN)
    assert path.read_text() == JOB
    press(page, at, "Make it the start of rail")
    assert path.read_text() == JOB.replace("[0, 0, 200] }\nend = { at = [400",
                                           '"far <b>" }\nend = { at = [400')


def test_why_a_point_cannot_be_an_end_stands_at_the_picture_and_at_the_field(page, path):
    answer = press(page, "/posts/tubes/post?point=top", "Make it the start of post")
    assert answer.status_code == 422 and path.read_text() == JOB
    said = "start and end are the same point; move one of them"
    assert said in part(answer, "pick")
    assert said in re.search(r'id="said-start.pick".*?</div>', answer.text, re.DOTALL)[0]


def test_of_a_tube_with_corners_it_may_be_any_of_them_or_one_more(page, path):
    words = list(buttons(page.get("/posts/tubes/hoop?point=knee").text))
    assert words[2:] == ["Make it corner 1 of hoop", "Make it one more corner of hoop"]
    assert len(buttons(page.get("/posts/tubes/rail?point=knee").text)) == 2
    press(page, "/posts/tubes/hoop?point=knee", words[2])
    assert path.read_text() == JOB.replace("[[200, 200, 200]]", '["knee"]')
    path.write_text(JOB.replace("knee = [200, 0, 320]", "knee = [200, 200, 20]").replace(
        "at = [300, 200, 100]", "at = [400, 200, 20]"))
    press(page, "/posts/tubes/hoop?point=knee", words[3])
    assert 'corners = [[200, 200, 200], "knee"]\nbend = 60\n' in path.read_text()


def test_another_windows_change_is_not_written_over(page, path):
    at = "/posts/tubes/rail?point=top"
    held = buttons(page.get(at).text)["Make it the end of rail"]
    path.write_text(JOB.replace("40 x 3", "50 x 3"))
    answer = page.post(at, data=held, headers=OWN)
    assert answer.status_code == 409 and "50 x 3" in path.read_text()
    assert '"25 x 2"\nstart = { at = [0, 0, 200] }\nend = { at = [400' in path.read_text()


def test_without_a_tube_in_hand_the_dots_are_for_a_new_one_and_lead_to_the_point(page):
    seen = page.get("/posts/tubes?point=top&end.pick=foot&kind=box")
    links = dict(re.findall(r'href="([^"]*)">Make it the (\w+) of the new tube', seen.text))
    assert {unescape(to): which for to, which in links.items()} == {
        "/posts/tubes?point=top&end.pick=foot&kind=box&start.pick=top": "start",
        "/posts/tubes?point=top&kind=box&end.pick=top": "end"}
    to = unescape(next(to for to, which in links.items() if which == "start"))
    both = page.get(to)
    assert "✓ It is the start of the new tube." in part(both, "pick")
    chosen = re.findall(r'<option value="([^"]+)" selected', both.text)
    assert chosen == ["top", "foot"]
    assert re.search(r'value="box"[^>]*aria-pressed="true"', both.text)
    assert 'href="/posts/measure/top"' in seen.text


def test_a_new_tube_that_was_refused_keeps_what_was_typed_when_a_dot_is_clicked_next(page):
    as_of = page.get("/posts/as-of").text
    refused = page.post("/posts/tubes?point=top", headers=OWN, data={
        "as_of": as_of, "name": "a <b>", "kind": "round", "size.": "abc", "end.pick": "foot"})
    assert refused.status_code == 422
    clicked = page.get(dots(refused.text)["knee"][1])
    held = fields(clicked)
    assert (held["name"], held["size."]) == ("a <b>", "abc") and "<b>" not in clicked.text
    assert re.findall(r'<option value="([^"]+)" selected', clicked.text) == ["foot"]


def test_a_point_that_the_bicycle_gives_says_so_and_may_be_picked_too(tmp_path):
    path = wagtail(tmp_path)
    one = client(tmp_path)
    seen = one.get("/wagtail/tubes?point=axle")
    assert "The bicycle's numbers give it" in part(seen, "pick") and "behind" in part(seen, "pick")
    press(one, "/wagtail/tubes/top-tube?point=head-top", "Make it the end of top-tube")
    assert path.read_text().count('at = "head-top"') > (
        wagtail(tmp_path, "again").read_text().count('at = "head-top"'))
