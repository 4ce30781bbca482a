"""What holds of every address of the page, of one that is added too."""

import json
import random
import re

import pytest

from coper.job.mends import HOWS
from coper.page.guard import HEADERS
from coper.page.serve import MOST_FIELDS
from tests.page.pages import OWN, client
from tests.page.places import GETS, PAIR, POSTS, filled, is_open
from tests.page.reading import Reading
from tests.profiles import times

FOREIGN = ({"Host": "evil.example"}, {"Sec-Fetch-Site": "cross-site"},
           {"Sec-Fetch-Site": "same-site"}, {"Origin": "http://evil.example"}, {"Origin": "null"})


@pytest.fixture
def folder(tmp_path):
    (tmp_path / "job.toml").write_text(PAIR)
    return tmp_path


def held(folder):
    """All that a folder holds, byte for byte."""
    return {path.name: path.read_bytes() for path in folder.rglob("*") if path.is_file()}


@pytest.mark.parametrize("headers", FOREIGN, ids=str)
def test_a_change_from_elsewhere_is_refused_at_every_address(folder, headers):
    before, one = held(folder), client(folder)
    form = {"as_of": one.get("/job/as-of").text, "here": "tubes", "title": "x", "step": "cut",
            "done": "yes"}
    for place in (*map(filled, POSTS), "/-/begin"):
        assert one.post(place, data=form, headers=headers).status_code == 403, place
    assert held(folder) == before


FREE = ("print/lay", "print/stop")
"""What changes nothing of the file, whatever that is by now."""


def test_a_change_to_what_another_window_changed_is_refused_at_every_address(folder):
    one, stale = client(folder), client(folder).get("/job/as-of").text
    (folder / "job.toml").write_text(PAIR + "# an editor's\n")
    before = held(folder)
    form = {"here": "tubes", "title": "x", "name": "x", "new-name": "x", "beside-name": "x",
            "bridge-name": "x", "step": "cut", "done": "yes", "tube": "branch", "which": "start",
            "how": HOWS[0], "other": "main", "listed": "yes", "sheet.0": "yes", "length": "300"}
    for path in POSTS:
        if path in FREE:
            continue
        for as_of in (stale, "", "x"):
            answer = one.post(filled(path), data={**form, "as_of": as_of}, headers=OWN)
            assert answer.status_code == 409 and notices(answer), path
    assert held(folder) == before


def test_looking_at_any_address_changes_nothing(folder):
    before, one = held(folder), client(folder)
    for place in (*map(filled, {*GETS, *POSTS}), "/", "/-/begin"):
        answer = one.get(place, params={"title": "x", "tube": "main", "first": "title"},
                         follow_redirects=False)
        assert answer.status_code in (200, 303, 404, 422), place
        assert held(folder) == before, place
    assert [path.name for path in folder.iterdir()] == ["job.toml"], "no book was begun"


def test_every_answer_of_every_address_allows_only_the_pages_own(folder):
    one = client(folder)
    asked = [one.get(filled(path), follow_redirects=False) for path in GETS]
    asked += [one.post(filled(path), headers=OWN, follow_redirects=False) for path in POSTS]
    asked += [one.get("/job/measure?" + "x=1&" * (MOST_FIELDS + 1)),
              one.post("/job/title", content=b"x" * (1 << 21), headers=OWN),
              one.post("/job/title", headers=FOREIGN[1])]
    assert {answer.status_code for answer in asked} == {200, 303, 403, 404, 409, 413, 422}
    for answer in asked:
        assert answer.status_code < 500, answer.url
        assert {name: answer.headers.get(name) for name in HEADERS} == HEADERS, answer.url


ODD = ("..", ".", "../..", "a/b", "\\", "..\\..\\x", "\0", "branch\0", "\r\nSet-Cookie: x=1",
       "\x7f", "x" * 3000, "🚲", "\u202e", "%2e", "%", "?", "#", ";", "&", '"', "'", "<put>",
       "{{ 7 * 7 }}", "{0}", "%s", "-", "0", " ", "", "branch ", "Branch")
"""What an open part of an address may be given."""


def test_open_parts_that_name_nothing_are_refused_in_a_sentence_and_never_a_fault(folder):
    before, one, chance = held(folder), client(folder), random.Random(5)
    as_of = one.get("/job/as-of").text
    for path in filter(is_open, sorted({*GETS, *POSTS})):
        for _ in range(6 * times()):
            wrong = chance.choice(re.findall(r"{(\w+)}", path))
            place = filled(path, chance.choice(("job", "job", "job", chance.choice(ODD))),
                           **{wrong: chance.choice(ODD)})
            for answer in (one.get(place, follow_redirects=False),
                           one.post(place, data={"as_of": as_of}, headers=OWN,
                                    follow_redirects=False)):
                assert answer.status_code in (200, 303, 404, 409, 422), (place, answer.text)
                assert "set-cookie" not in answer.headers
                assert answer.headers.get("location", "/job").startswith("/job"), place
                assert answer.status_code < 400 or notices(answer), place
    assert held(folder) == before


def test_markup_in_names_and_titles_stays_text_at_every_address(tmp_path):
    odd = """<odd onodd=1>'"&lt;"""
    text = PAIR
    for name in ("A pair", "main", "branch", "head"):
        text = re.sub(rf'"?\b{name}\b"?', lambda found: json.dumps(odd + found[0].strip('"')), text)
    (tmp_path / f"{odd}.toml").write_text(text)
    one = client(tmp_path)
    for path in GETS:
        answer = one.get(filled(path, odd, tube=odd + "branch", point=odd + "head"))
        assert answer.status_code in (200, 404, 422), path
        if "pdf" in answer.headers["content-type"]:
            continue
        assert not [has for tag, has in Reading(answer.text).elements
                    if "odd" in tag or any("odd" in name for name in has)], path


def notices(answer):
    """What a page says in a sentence: above it, or beside what is wrong."""
    return [has for _, has in Reading(answer.text).elements
            if has.get("class") in ("notice", "wrong")]
