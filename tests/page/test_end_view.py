"""A shaped end on the page: seen from where it is asked for, what is open of it asked about."""

import re
from html import unescape

import pytest

from coper.page.answers.end_view import end_view
from coper.page.answers.named import end_of
from coper.page.keeping import JobFile
from coper.page.templates import rendered
from coper.page.visit import Visit
from coper.page.visits.end_view import end_shown
from coper.sheets.end_view import FIRST
from coper.sheets.frame_view import Look
from tests.page.pages import client, wagtail

OPEN = '''
[tubes."main <b>"]
shape = "25.4 x 1"
start = { at = [7, -60, 300] }
end = { at = [7, 60, 300] }
[tubes.post]
shape = "38.1 x 1.2"
start = { at = [0, 0, 0] }
end = { at = [0, 0, 300], on = ["main <b>"] }
'''
"""An end that is wider than its main and open on one side."""


def test_an_end_alone_is_seen_from_where_it_is_asked_for_and_at_first_with_its_heel_up(tmp_path):
    wagtail(tmp_path)
    one = client(tmp_path)
    place = "/wagtail/end.svg/chain-stay/left/start"
    first, side = one.get(place), one.get(f"{place}?round=90&up=0")
    assert first.headers["Content-Type"].startswith("image/svg+xml")
    assert "into the end: heel ↑</text>" in first.text and "0 (heel)</text>" in first.text
    assert "from the side: ← heel</text>" in side.text
    assert one.get(f"{place}?round=0&up={FIRST.up}").text == first.text


@pytest.mark.parametrize(("place", "status"), [
    ("chain-stay/left/start?up=91", 422), ("chain-stay/left/start?round=x", 422),
    ("chain-stay/left/middle", 404), ("chain-stay/centre/start", 422), ("none/left/start", 422),
    ("shell/centre/start", 422)])
def test_what_cannot_be_shown_is_refused_in_a_line(tmp_path, place, status):
    wagtail(tmp_path)
    answer = client(tmp_path).get(f"/wagtail/end.svg/{place}")
    assert answer.status_code == status and answer.text.count('class="notice"') == 1


def test_an_open_stretch_is_asked_about_with_its_clocks_and_names_stay_text():
    end = end_of(OPEN, "post", "centre", "end")
    picture = end_view(end, Look(0, 90)).picture
    assert 'class="asked"' in re.search(r'<g[^>]*id="open-1"[^>]*>', picture)[0]
    assert "open 17.4 to 162.6</text>" in picture and "<b>" not in picture


def test_a_mitred_end_is_drawn_too():
    mitred = '''
[tubes.one]
shape = "30 x 2"
start = { at = [0, 0, 0], mitre = "two" }
end = { at = [200, 0, 0] }
[tubes.two]
shape = "30 x 2"
start = { at = [0, 0, 0] }
end = { at = [0, 0, 200] }
'''
    assert "(heel)</text>" in end_view(end_of(mitred, "two", "centre", "start"), FIRST).picture


def test_a_station_shows_the_view_with_links_to_its_sides(tmp_path):
    path = wagtail(tmp_path)
    job = JobFile(path, set())
    visit = Visit("wagtail", job, job.text(), query={"round": ("-50",), "up": ("20",), "a": ("b",)})
    end = end_of(visit.text, "chain-stay", "left", "start")
    page = rendered("end_view.html", end_shown=end_shown(visit, end, "/wagtail/ends/here"))
    assert 'data-turn="/wagtail/end.svg/chain-stay/left/start"' in page
    assert 'data-round="-50.0" data-up="20.0"' in page and page.count("<svg") == 1
    links = [unescape(link) for link in re.findall(r'<a href="([^"]*)"', page)]
    assert len(links) == 5 and "/wagtail/ends/here?a=b&round=90&up=0#end-view" in links
    assert "chain-stay left start as it is cut" in page
