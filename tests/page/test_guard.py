"""Who may come in."""

import pytest

from coper.page.guard import COOKIE, HEADERS, Asked, Guard
from tests.page.pages import HOST, OWN, client, fields, wagtail

GUARD = Guard({HOST})


@pytest.mark.parametrize("host", [
    "evil.example", "evil.example:8731", "127.0.0.1:8732", "127.0.0.1", "", None,
    "127.0.0.1:8731.evil.example", "127.0.0.1:8731 "])
def test_a_name_that_was_made_to_lead_here_is_refused(tmp_path, host):
    assert GUARD.refusal(Asked("GET", host)).status == 403
    if host is not None:
        assert client(tmp_path).get("/", headers={"Host": host}).status_code == 403


def test_the_address_that_it_serves_is_let_in(tmp_path):
    assert GUARD.refusal(Asked("GET", HOST)) is None
    assert client(tmp_path).get("/").status_code == 200


@pytest.mark.parametrize("headers", [
    {"Sec-Fetch-Site": "cross-site"}, {"Sec-Fetch-Site": "same-site"}, {"Sec-Fetch-Site": ""},
    {"Sec-Fetch-Site": "cross-site", "Origin": f"http://{HOST}"},
    {"Origin": "http://evil.example"}, {"Origin": "null"}, {"Origin": f"https://{HOST}"},
    {"Origin": "http://127.0.0.1:9999"}], ids=str)
def test_a_change_from_another_site_is_refused_and_not_made(tmp_path, headers):
    path = wagtail(tmp_path)
    one = client(tmp_path)
    form = {**fields(one.get("/wagtail/measure")), "drop": "61"}
    assert one.post("/wagtail/measure", data=form, headers=headers).status_code == 403
    for way in ("undo", "redo"):
        assert one.post(f"/wagtail/{way}", data=form, headers=headers).status_code == 403
    assert one.post("/-/begin", data={"title": "x"}, headers=headers).status_code == 403
    assert "drop = 58" in path.read_text() and len(list(tmp_path.iterdir())) == 1


@pytest.mark.parametrize("headers", [
    OWN, {"Sec-Fetch-Site": "none"}, {"Origin": f"http://{HOST}"}, {}], ids=str)
def test_a_change_from_the_page_itself_is_made(tmp_path, headers):
    path = wagtail(tmp_path)
    one = client(tmp_path)
    form = {**fields(one.get("/wagtail/measure")), "drop": "61"}
    assert one.post("/wagtail/measure", data=form, headers=headers).status_code == 200
    assert "drop = 61" in path.read_text()


@pytest.mark.parametrize("address", ["/wagtail/measure", "/wagtail/undo", "/-/begin", "/"])
@pytest.mark.parametrize("method", ["PUT", "DELETE", "PATCH", "OPTIONS", "TRACE"])
def test_nothing_is_changed_but_by_a_post(tmp_path, address, method):
    path = wagtail(tmp_path)
    before = path.read_text()
    assert client(tmp_path).request(method, address).status_code == 405
    assert path.read_text() == before


def test_reading_an_address_that_changes_something_changes_nothing(tmp_path):
    wagtail(tmp_path)
    assert client(tmp_path).get("/wagtail/undo").status_code == 404
    assert client(tmp_path).get("/wagtail/measure?drop=61").status_code == 200
    assert [one.name for one in tmp_path.iterdir()] == ["wagtail.toml"]


def test_every_answer_allows_only_the_pages_own_and_no_inline_script_or_style(tmp_path):
    wagtail(tmp_path)
    one = client(tmp_path)
    for answer in (one.get("/"), one.get("/wagtail/measure"), one.get("/-/page.js"),
                   one.get("/wagtail/frame.svg"), one.get("/nowhere/at/all"),
                   one.get("/", headers={"Host": "evil.example"}), one.put("/")):
        assert {name: answer.headers[name] for name in HEADERS} == HEADERS
        rules = answer.headers["Content-Security-Policy"]
        assert "default-src 'none'" in rules and "frame-ancestors 'none'" in rules
        assert "unsafe" not in rules and "http" not in rules and "*" not in rules


@pytest.mark.parametrize("length", [(1 << 20) + 1, 10 << 20])
def test_a_body_above_1_mib_is_refused_by_its_length_and_where_it_says_none(tmp_path, length):
    wagtail(tmp_path)
    one = client(tmp_path)
    body = b"drop=" + b"6" * (length - 5)
    kind = {"Content-Type": "application/x-www-form-urlencoded"}
    assert one.post("/wagtail/measure", content=body, headers=kind).status_code == 413

    def pieces():
        for start in range(0, length, 1 << 16):
            yield body[start:start + (1 << 16)]

    assert one.post("/wagtail/measure", content=pieces(), headers=kind).status_code == 413


@pytest.mark.parametrize("length", ["-1", "1e3", "x", "٣", "9" * 5000])
def test_a_length_that_is_none_is_refused(length):
    assert GUARD.refusal(Asked("POST", HOST, length=length)).status == 413


KEY = "k-ey_0"


@pytest.mark.parametrize("key", ["", "wrong", KEY[:-1], KEY + "x", "k-ey\u20ac"])
def test_on_a_network_nothing_is_shown_without_the_key(tmp_path, key):
    path = wagtail(tmp_path)
    one = client(tmp_path, KEY)
    for address in ("/", "/wagtail/measure", "/-/page.css", "/wagtail/frame.svg"):
        answer = one.get(address, params={"key": key})
        assert answer.status_code == 403 and "Wagtail" not in answer.text
    cookie = {**OWN, "Cookie": f"{COOKIE}={key}".encode()}
    assert one.post("/wagtail/measure", data={"drop": "61"}, headers=cookie).status_code == 403
    assert "drop = 58" in path.read_text()


def test_the_key_lets_in_once_by_the_address_and_then_by_its_cookie(tmp_path):
    wagtail(tmp_path)
    one = client(tmp_path, KEY)
    first = one.get("/", params={"key": KEY})
    cookie = first.headers["Set-Cookie"].lower()
    assert "httponly" in cookie and "samesite=strict" in cookie and "path=/" in cookie
    assert KEY not in first.text and 'content="0; url=/"' in first.text
    assert "Wagtail" in one.get("/").text
    assert "network without a password" in " ".join(one.get("/wagtail/measure").text.split())


@pytest.mark.parametrize(("place", "own"), [
    ("//evil.example/x", "/evil.example/x"), ("/\\\\evil.example", "/%5C%5Cevil.example"),
    ("/a%20b/measure", "/a%20b/measure"), ('/">;url=x', "/%22%3E%3Burl%3Dx")])
def test_the_address_with_the_key_leads_on_to_this_page_and_nowhere_else(tmp_path, place, own):
    found = client(tmp_path, KEY).get(f"http://{HOST}{place}?key={KEY}")
    assert found.status_code == 200 and f'content="0; url={own}"' in found.text


def test_on_this_computer_alone_no_word_of_a_network_is_said(tmp_path):
    assert "network" not in client(tmp_path).get("/").text
