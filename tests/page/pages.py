"""A page as a browser has it, without a socket."""

import re
import threading
from contextlib import contextmanager
from html import unescape
from html.parser import HTMLParser
from pathlib import Path

import uvicorn
from starlette.testclient import TestClient

from coper.page.guard import Guard
from coper.page.serve import make_app, opened
from coper.page.shelf import Shelf
from coper.page.site import Site

DEMO = Path(__file__).parents[2] / "demo"
HOST = "127.0.0.1:8731"
OWN = {"Sec-Fetch-Site": "same-origin"}


def client(folder, key="", only=None, **how):
    """Whoever opens the page of a folder."""
    app = make_app(Site(Shelf(folder.resolve(), only), bool(key)), Guard({HOST}, key))
    return TestClient(app, base_url=f"http://{HOST}", raise_server_exceptions=True, **how)


@contextmanager
def served(folder):
    """The address of a page that is served on a port of its own."""
    page = opened(str(folder), None, False, False)
    server = uvicorn.Server(uvicorn.Config(page.app, log_config=None, lifespan="off", ws="none"))
    serving = threading.Thread(target=server.run, args=([page.listening],))
    serving.start()
    try:
        yield page.address
    finally:
        server.should_exit = True
        serving.join(20)


TWO_TUBES = """
title = "Two tubes"
[shop]
paper = "a4"     # of the office's printer
[tubes.post]
shape = "38.1 x 1.5"
start = { at = [0, 0, 0] }
end = { at = [0, 0, 300] }
[tubes.arm]
shape = "28.6 x 0.9"
start = { at = [0, 0, 150], on = ["post"] }
end = { at = [200, 0, 200] }
"""


def two_tubes(folder):
    """A job of two tubes in a folder."""
    path = folder / "two.toml"
    path.write_text(TWO_TUBES)
    return path


def wagtail(folder, name="wagtail"):
    """The demo bicycle in a folder."""
    path = folder / f"{name}.toml"
    path.write_text((DEMO / "wagtail.toml").read_text())
    return path


def fields(page):
    """What a form on a page holds, by the names of its fields."""
    found = {}
    for tag in re.findall(r"<input\b[^>]*>", page.text):
        parts = dict(re.findall(r'([\w-]+)="([^"]*)"', tag))
        if "name" in parts and (parts.get("type") != "radio" or " checked" in tag):
            found[parts["name"]] = unescape(parts.get("value", ""))
    return found


def send(one, name="wagtail", at=None, **typed):
    """Change fields of the station Measure, as the page's form does."""
    before = one.get(f"/{name}/measure") if at is None else at
    return one.post(f"/{name}/measure", data={**fields(before), **typed}, headers=OWN)


def go(one, way, name="wagtail", here="measure"):
    """Press Undo or Redo."""
    as_of = fields(one.get(f"/{name}/measure"))["as_of"]
    return one.post(f"/{name}/{way}", data={"as_of": as_of, "here": here}, headers=OWN)


class Part(HTMLParser):
    """The words in the element that has an id, whatever is in it."""

    def __init__(self, page, name):
        super().__init__()
        self.name, self.depth, self.words = name, 0, []
        self.feed(page.text)

    def handle_starttag(self, tag, attrs):
        if tag not in ("input", "br", "meta", "link", "img"):
            self.depth += bool(self.depth) or dict(attrs).get("id") == self.name

    def handle_endtag(self, tag):
        self.depth -= bool(self.depth)

    def handle_data(self, data):
        self.words += data.split() if self.depth else []


def part(page, name):
    """A part of the page as text."""
    return " ".join(Part(page, name).words)


def beside(page, key):
    """What stands beside a field, as text."""
    return part(page, f"said-{key}")
