"""What a reader of screens finds on every page of a job, of one that is added too."""

import pytest

from tests.page.hearing import Hearing, stumbles
from tests.page.jobs import INCHES
from tests.page.pages import client
from tests.page.places import GETS, PAIR, filled

PAGES = [one for one in GETS if not one.endswith((".pdf", ".svg", "as-of"))]
SAME = ("mend", "points", "title", "/room", "/name", "/remove", "/rename", "/beside",
        "/bridge", "/mend", "/saws")
"""Ends of addresses that show the page of another address."""
BROKEN = "[tubes.post\n"
SPACED = PAIR.replace("main", "main tube").replace("[tubes.main tube]", '[tubes."main tube"]')
SHORT = PAIR.replace("300, 0, 260", "10, 0, 200")


@pytest.fixture
def folder(tmp_path):
    (tmp_path / "job.toml").write_text(PAIR)
    return tmp_path


def shown(one, path, **how):
    """A page; ``None`` where an address shows none."""
    answer = one.get(filled(path), **how)
    return answer.text if "text/html" in answer.headers["content-type"] else None


def test_what_one_would_stumble_over_is_found():
    assert stumbles('<html lang="en-GB"><title>a</title><main><h1 id="a">b</h1></main>') == []
    found = stumbles(
        '<html lang="fr"><title>a</title><h1 id="a">b</h1><h3 id="a">c</h3><input id="b">'
        '<table><th></th></table><a href="#c"> </a><figure><svg></svg></figure><svg></svg>'
        '<label for="d">e</label>')
    kinds = ("2 of the id a", "main: not 1", "no language", "h3 {'id': 'a'} after h1", "no label",
             "no scope", "no words: a", "no figcaption", "no caption", "a picture in no figure",
             "a {'href': '#c'} leads nowhere", "label {'for': 'd'} names no d")
    for one in kinds:
        assert any(said.startswith(one) for said in found), one
    assert len(found) == len(kinds)


@pytest.mark.parametrize("text", [PAIR, INCHES, BROKEN, SHORT, SPACED],
                         ids=["pair", "bicycle", "broken", "cannot be made", "blanks"])
def test_every_page_has_its_heads_in_order_and_names_its_fields_pictures_and_tables(folder, text):
    (folder / "job.toml").write_text(text)
    one = client(folder)
    assert stumbles(one.get("/").text) == []
    for path in PAGES:
        page = shown(one, path)
        assert page is None or stumbles(page) == [], path


def test_what_is_answered_on_a_page_is_named_as_well(folder):
    one = client(folder)
    place = filled("check/made")
    asked = [one.get(filled("tubes/{tube}"), params={"kind": kind})
             for kind in ("tapered", "bent", "plate", "box")]
    asked += [one.get(filled("print"), params={"tick": "all"}), one.get(place)]
    for answer in asked:
        assert answer.status_code == 200 and stumbles(answer.text) == []


def test_the_title_of_every_page_is_its_own(folder):
    one = client(folder)
    pages = {path: shown(one, path) for path in PAGES if not path.endswith(SAME)}
    titles = {path: Hearing(page).of("title")[0].words for path, page in pages.items() if page}
    assert len(set(titles.values())) == len(titles), titles
    assert titles["ends/{tube}/{side}/{end}"].startswith("branch start: A pair")
    other = shown(one, "ends/{tube}/{side}/{end}".replace("{end}", "end"))
    assert Hearing(other).of("title")[0].words.startswith("branch end")


def test_the_links_of_a_picture_are_behind_a_link_past_them(folder):
    one = client(folder)
    for path in ("tubes", "tubes/{tube}", "check", "measure"):
        page = Hearing(shown(one, path))
        links = [one for one in page.of("a") if one.stands_in("svg")]
        past = [one.words for one in page.elements if one.has.get("href") == "#clashes"]
        assert links and past == ["past the picture"], path
