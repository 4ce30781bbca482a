"""Starting and ending the page."""

import json
import re
import signal
import socket
import subprocess
import sys
import threading
import urllib.request
from contextlib import closing, contextmanager
from urllib.error import HTTPError
from urllib.parse import urlencode

import pytest
import uvicorn

from coper.page import address
from coper.page.serve import opened
from coper.page.visit import Visit
from coper.verbs.page import SERVER
from tests.cli.run import run
from tests.page.pages import wagtail


@contextmanager
def started(*words):
    """The command as a person starts it, and what it prints until it serves."""
    process = subprocess.Popen([sys.executable, "-m", "coper", "page", *map(str, words)],
                               stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)
    try:
        lines = []
        while not lines or not lines[-1].startswith(("stop it", "{")):
            line = process.stdout.readline()
            assert line, process.stderr.read()
            lines.append(line)
        yield process, lines
    finally:
        if process.poll() is None:
            process.kill()
        process.communicate()


def test_the_command_prints_its_address_serves_and_ends_with_ctrl_c(tmp_path):
    wagtail(tmp_path)
    with started(tmp_path, "--no-browser") as (process, lines):
        place = re.search(r"http://127\.0\.0\.1:\d+/", lines[0])[0]
        with urllib.request.urlopen(f"{place}wagtail/measure") as answer:
            assert b"Wagtail" in answer.read() and "server" not in answer.headers
        process.send_signal(signal.SIGINT)
        assert process.wait(10) == 0 and process.stderr.read() == ""


def test_as_json_the_address_is_one_object_and_with_lan_it_needs_its_key(tmp_path, monkeypatch):
    wagtail(tmp_path)
    with started(tmp_path, "--no-browser", "--lan", "--json") as (process, lines):
        place = json.loads(lines[0])["address"]
        found = re.fullmatch(r"http://[\d.]+:(\d+)/\?key=([\w-]{20,})", place)
        home = f"http://127.0.0.1:{found[1]}/"
        with pytest.raises(HTTPError, match="403"):
            urllib.request.urlopen(home)
        with urllib.request.urlopen(f"{home}?key={found[2]}") as answer:
            assert "HttpOnly" in answer.headers["Set-Cookie"]
        process.send_signal(signal.SIGINT)
        assert process.wait(10) == 0


def test_a_port_that_is_in_use_becomes_the_next_free_one_and_that_is_said(tmp_path):
    with closing(socket.socket()) as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        port = taken.getsockname()[1]
        page = opened(str(tmp_path), port, False, False)
        with closing(page.listening):
            found = page.listening.getsockname()[1]
            assert found > port and page.address == f"http://127.0.0.1:{found}/"
            assert page.notes == (f"port {port} is in use: it is {found}",)


def test_an_answer_never_waits_for_the_browser_to_own_to_the_last_one(tmp_path):
    with closing(opened(str(tmp_path), None, False, False).listening) as listening:
        listening.settimeout(20)
        with closing(socket.create_connection(listening.getsockname())):
            taken, _ = listening.accept()
            with closing(taken):  # by this asyncio knows which sockets are to send at once
                assert taken.proto == socket.IPPROTO_TCP


def test_only_this_computer_can_reach_it_unless_the_network_is_asked_for(tmp_path, monkeypatch):
    monkeypatch.setattr("coper.page.serve.network_host", lambda: "192.168.1.5")
    for lan, host in ((False, "127.0.0.1"), (True, "0.0.0.0")):
        page = opened(str(tmp_path), None, False, lan)
        with closing(page.listening):
            assert page.listening.getsockname()[0] == host
            assert bool(page.code) == lan == ("key=" in page.address)
    assert page.address.startswith("http://192.168.1.5:")


def test_each_start_has_another_key(tmp_path, monkeypatch):
    monkeypatch.setattr("coper.page.serve.network_host", lambda: "192.168.1.5")
    keys = set()
    for _ in range(3):
        page = opened(str(tmp_path), None, False, True)
        page.listening.close()
        keys.add(page.address.partition("key=")[2])
    assert len(keys) == 3


def test_without_a_display_no_browser_is_opened_and_that_is_said(tmp_path, monkeypatch):
    monkeypatch.setattr(address.sys, "platform", "linux")
    for name in ("DISPLAY", "WAYLAND_DISPLAY"):
        monkeypatch.delenv(name, raising=False)
    page = opened(str(tmp_path), None, True, False)
    page.listening.close()
    assert not page.browser and "no display here" in page.notes[0]
    monkeypatch.setenv("DISPLAY", ":0")
    page = opened(str(tmp_path), None, True, False)
    page.listening.close()
    assert page.browser and page.notes == ()


@pytest.mark.parametrize("library", ["starlette", "uvicorn", "jinja2", "segno"])
def test_without_its_libraries_one_line_says_how_to_install_them(library, tmp_path):
    code = (f"import sys; sys.modules['{library}'] = None; from coper.cli.main import main; "
            f"sys.exit(main(['page', {str(tmp_path)!r}], sys.stdout, sys.stderr))")
    said = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True,
                          check=False)
    assert said.returncode == 2 and said.stdout == "" and len(said.stderr.splitlines()) == 1
    assert library in said.stderr and "pip install 'coper[page]'" in said.stderr


@pytest.mark.parametrize(("words", "fault"), [
    (("nowhere",), "no such file or folder"), (("--port", "0"), "0 is not a port"),
    (("--port", "65536"), "not a port"), (("--port", "x"), "not a whole number"),
    (("a", "b"), "one word too many"), (("--lam",), "did you mean --lan?")])
def test_what_cannot_be_served_is_refused_in_one_line(words, fault, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    status, out, err = run("page", *words)
    assert status == 2 and out == "" and fault in err and len(err.splitlines()) == 1


def test_the_code_to_scan_is_square_and_lies_in_a_light_border():
    from coper.page.code import code_lines

    lines = code_lines("http://192.168.100.100:8731/?key=abcdefghijklmnopqrstuv")
    assert len({len(line) for line in lines}) == 1
    assert abs(len(lines[0]) - 2 * len(lines)) <= 1
    assert set(lines[0]) == {"█"} and all(line[:2] == line[-2:] == "██" for line in lines)
    assert all(len(line) < 60 for line in lines)


def test_a_command_that_answers_once_loads_nothing_of_the_page():
    code = ("import sys; from coper.cli.main import main; main(['saw', '28.6 x 0.9', '36', "
            "'--angle', '62'], None, None); "
            f"print([m for m in ('starlette', 'uvicorn', 'jinja2', '{SERVER}') "
            "if m in sys.modules])")
    said = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert said.stdout.strip() == "[]"


def test_a_long_answer_in_one_window_keeps_no_other_waiting(tmp_path, monkeypatch):
    wagtail(tmp_path)
    asked, done = threading.Event(), threading.Event()

    def slow(visit, template, key, **values):
        if key == "check":
            asked.set()
            assert done.wait(20)
        return page(visit, template, key, **values)

    page = Visit.page
    monkeypatch.setattr(Visit, "page", slow)
    site = opened(str(tmp_path), None, False, False)
    server = uvicorn.Server(uvicorn.Config(site.app, log_config=None, lifespan="off", ws="none"))
    serving = threading.Thread(target=server.run, args=([site.listening],))
    serving.start()
    waiting = threading.Thread(
        target=lambda: urllib.request.urlopen(f"{site.address}wagtail/check").close())
    waiting.start()
    try:
        assert asked.wait(20)
        with urllib.request.urlopen(f"{site.address}wagtail/measure", timeout=20) as answer:
            assert answer.status == 200
    finally:
        done.set()
        waiting.join(20)
        server.should_exit = True
        serving.join(20)


def test_what_was_said_to_be_kept_is_there_after_the_server_was_killed(tmp_path):
    path = wagtail(tmp_path)
    before = path.read_text()

    def asked(place, typed=None):
        body = None if typed is None else urlencode(typed).encode()
        with urllib.request.urlopen(place, body) as answer:
            return answer.read().decode()

    def as_of(text):
        return re.search(r'name="as_of" value="(\w+)"', text)[1]

    with started(tmp_path, "--no-browser") as (process, lines):
        place = re.search(r"http://127\.0\.0\.1:\d+/", lines[0])[0] + "wagtail/"
        shown = asked(f"{place}measure")
        page = asked(f"{place}measure", {"as_of": as_of(shown), "was.drop": "58", "drop": "61"})
        assert "61.00 mm" in page
        process.kill()
    assert "drop = 61 " in path.read_text()
    with started(tmp_path, "--no-browser") as (_, lines):
        place = re.search(r"http://127\.0\.0\.1:\d+/", lines[0])[0] + "wagtail/"
        shown = asked(f"{place}measure")
        asked(f"{place}undo", {"as_of": as_of(shown), "here": "measure"})
    assert path.read_text() == before
