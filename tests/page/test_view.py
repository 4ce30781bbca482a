"""The frame on the page: its tubes lead on, what is in hand is heavy, what is wrong is marked."""

import re
from html import unescape
from urllib.parse import quote

import pytest

from coper.drawing.svg import Dress
from coper.errors import CoperError
from coper.page.answers.frame_view import Look, Marked, frame_view, look_from
from tests.page.pages import client, wagtail

CROSSED = '''
units = "mm"
[tubes."bar <i>"]
shape = "30 x 1"
start = { at = [0, 0, 0] }
end = { at = [400, 0, 0] }
[tubes.post]
shape = "30 x 1"
start = { at = [250, 10, -150] }
end = { at = [250, 10, 200] }
'''
"""Two tubes that run through each other, one's name with markup."""


def element(text, group):
    """The opening tag of a group."""
    return re.search(rf'<g[^>]*id="{group}"[^>]*>', text)[0]


def to(tube):
    return f"/job/tubes/{quote(tube, safe='')}"


def test_every_tube_leads_to_its_place_and_the_one_in_hand_is_heavy(tmp_path):
    wagtail(tmp_path)
    one = client(tmp_path)
    text = one.get("/wagtail/view.svg?tube=top-tube").text
    links = re.findall(r'<a aria-label="([^"]*)"[^>]*xlink:href="([^"]*)"', text)
    assert dict(links)["seat-tube"] == "/wagtail/tubes/seat-tube"
    assert dict(links)["top-tube, in hand"] == "/wagtail/tubes/top-tube"
    tubes = [to for _, to in links if "?" not in to]
    assert len(tubes) == len(set(tubes)) == 10
    assert 'class="in-hand"' in element(text, "tube-top-tube")
    assert text.count("in-hand") == 1
    assert 'id="at-start"' in text and 'id="at-end"' in text
    assert "at-start" not in one.get("/wagtail/view.svg").text


def test_the_station_has_the_view_that_its_address_asks_for_and_links_to_every_side(tmp_path):
    wagtail(tmp_path)
    one = client(tmp_path)
    page = one.get("/wagtail/tubes?round=-90&up=0").text
    assert 'data-round="-90.0" data-up="0.0"' in page and 'data-turn="/wagtail/view.svg"' in page
    assert "from the front: its left →</text>" in page and ">from above</a>" in page
    sides = re.findall(r'<a href="(/wagtail/tubes\?round[^"]*)" data-side', page)
    assert len(sides) == 4
    asks = [re.search(r"\?(.*)#view", unescape(side))[1] for side in sides]
    assert len({one.get(f"/wagtail/view.svg?{ask}").text for ask in asks}) == 4
    alone = one.get("/wagtail/view.svg?round=-90&up=0")
    assert alone.headers["Content-Type"].startswith("image/svg+xml")
    assert alone.text in page


@pytest.mark.parametrize(("ask", "said"), [
    ("round=x", "round: x: no number"), ("up=91", "up: 91 is too far; give -90 to 90"),
    ("up=-90.5", "up: -90.5 is too far"), ("round=1e9", "round: "), ("round=361", "is too far"),
    ("round=nan", "round: nan"), ("up=%3Cb%3E", "up: <b>")])
def test_a_wrong_number_is_refused_in_a_line(tmp_path, ask, said):
    wagtail(tmp_path)
    answer = client(tmp_path).get(f"/wagtail/view.svg?{ask}")
    assert answer.status_code == 422
    words = unescape(re.search(r'class="notice">(.*?)</p>', answer.text)[1])
    assert said in words and "<b>" not in answer.text


def test_turned_by_numbers_as_people_write_them():
    assert look_from("", "") == Look(0, 0)
    assert look_from("-30.5", "12") == Look(-30.5, 12)
    assert look_from("-180", "0") == look_from("180", "0") == Look(180, 0)
    assert look_from("350", "0") == Look(-10, 0)
    with pytest.raises(CoperError):
        look_from("0", "90.01")


def test_where_two_tubes_run_through_each_other_the_place_is_marked_with_both_names():
    view = frame_view(CROSSED, Look(), to)
    assert view.clashes[0].startswith("bar <i> and post run through each other, 15.00 mm deep")
    assert 'class="wrong"' in element(view.picture, "place-1")
    group = view.picture[view.picture.index('id="place-1"'):]
    assert "bar &lt;i&gt; in post, 15.00 mm deep</text>" in group
    place = re.search(r'd="M([^"]*)Z"', group)[1]
    ring = [tuple(map(float, pair.split(","))) for pair in place.split()]
    at = [sum(part) / len(ring) for part in zip(*ring, strict=True)]
    # at [250, 10, 11.2]; the middle is that of x 0 to 400, z -150 to 200 and the skin's 15
    wide, high = (float(part) for part in re.search(
        r'viewBox="0 0 ([\d.]+) ([\d.]+)"', view.picture).groups())
    across = (200**2 + 15**2) ** 0.5
    assert at[0] == pytest.approx(wide / 2 + 50 * 53 / across, abs=0.2)
    assert at[1] == pytest.approx(high / 2 + (25 - 11.2) * 53 / across, abs=0.2)


def test_markup_in_a_name_stays_text_in_the_picture_its_links_and_its_words():
    picture = frame_view(CROSSED, Look(), to, "bar <i>").picture
    assert "<i>" not in picture
    assert 'aria-label="bar &lt;i&gt;, in hand"' in picture
    assert 'xlink:href="/job/tubes/bar%20%3Ci%3E"' in picture


def test_a_station_marks_places_and_makes_points_links(tmp_path):
    text = wagtail(tmp_path).read_text()
    view = frame_view(text, Look(), to, marked=[
        Marked(((0.0, 0.0, 0.0), (-100.0, 0.0, 50.0)), "4.0 mm", "asked")],
        dressed={"point-axle": Dress(to="/pick?at=axle", words="axle")})
    assert 'class="asked"' in element(view.picture, "place-1") and "4.0 mm</text>" in view.picture
    assert 'xlink:href="/pick?at=axle"' in view.picture
    assert "point-tip" not in frame_view(text, Look(), to, points=False).picture


def test_a_tube_that_cannot_be_cut_is_drawn_uncut_and_a_job_that_does_not_load_says_why(tmp_path):
    away = CROSSED + '''
[tubes.far]
shape = "20 x 1"
start = { at = [0, 500, 0], on = ["post"] }
end = { at = [0, 500, 90] }
'''
    view = frame_view(away, Look(), to)
    assert view.wrong and 'id="tube-far"' in view.picture
    broken = frame_view(CROSSED + "x = [", Look(), to)
    assert broken.wrong and not broken.picture
    points = 'units = "mm"\n[bicycle]\ndrop = 60\nchain_stay = 420\n'
    assert 'id="point-axle"' in frame_view(points, Look(), to).picture
    (tmp_path / "broken.toml").write_text(CROSSED + "x = [")
    page = client(tmp_path).get("/broken/tubes")
    assert page.status_code == 200 and "Nothing to draw yet" in page.text


def test_the_front_axle_is_drawn_only_where_a_tube_goes_there(tmp_path):
    text = wagtail(tmp_path).read_text()
    assert "point-front-axle" not in frame_view(text, Look(), to).picture
    fork = '\n[tubes.blade]\nshape = "25 x 1"\nstart = { at = "crown" }\n' \
           'end = { at = "front-axle" }\n'
    assert 'id="point-front-axle"' in frame_view(text + fork, Look(), to).picture


@pytest.mark.parametrize(("headers", "least"), [
    ({}, 0.0), ({"User-Agent": "a phone's, Mobi"}, 16.0), ({"Sec-CH-UA-Mobile": "?1"}, 16.0)])
def test_on_a_phone_the_letters_of_a_frame_are_16_px_and_it_turns_in_the_same_size(
        tmp_path, headers, least):
    wagtail(tmp_path)
    one = client(tmp_path)
    sizes = set()
    for address in ("/wagtail/tubes", "/wagtail/view.svg?round=30&up=20"):
        picture = re.search(r"<svg.*?</svg>", one.get(address, headers=headers).text, re.DOTALL)[0]
        wide, high = map(float, re.search(r'viewBox="0 0 ([\d.]+) ([\d.]+)"', picture).groups())
        sizes.add((wide, high))
        letters = [float(size) for size in re.findall(r'font-size="([\d.]+)"', picture)]
        assert letters and min(letters) * 340 / wide >= least
    assert len(sizes) == 1 and (wide < 100) == bool(least)
