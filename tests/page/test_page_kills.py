"""What a page said to be kept is there, whenever the page is killed."""

import random
import re
import threading
import time
import urllib.request
from http.client import HTTPException
from urllib.error import HTTPError
from urllib.parse import urlencode

from coper.book.book import opened
from coper.job.read import parse_job
from tests.page.pages import OWN, client
from tests.page.places import PAIR
from tests.page.reading import Reading
from tests.page.test_start import started
from tests.profiles import times

KILLS = 1
CARD = "bench/branch/centre/start"


def asked(place, typed=None):
    """What a page answers, as text; whatever it sends on to is looked at as well."""
    body = None if typed is None else urlencode(typed).encode()
    with urllib.request.urlopen(place, body, timeout=20) as answer:
        return answer.read().decode()


def works(place, first, titles, rounds):
    """Another title and another round, again and again, each noted once it was answered."""
    number = first
    try:
        while True:
            number += 1
            as_of = asked(f"{place}as-of")
            asked(f"{place}title", {"as_of": as_of, "title": f"No {number}"})
            titles.append(number)
            form = next(form for form in Reading(asked(f"{place}{CARD}")).forms
                        if "cut" in form.fields)
            gaps = {one.name: f"{number / 100:.2f}" for one in form.open if one.kind == "text"}
            asked(f"{place}{CARD}", {**form.own, **gaps})
            rounds.append(number)
    except HTTPError:  # an answer that was none of the above
        raise
    except (OSError, HTTPException):
        return  # it was killed


def test_every_change_and_every_round_that_was_answered_is_there_after_kills(tmp_path):
    path, chance, number = tmp_path / "job.toml", random.Random(7), 0
    path.write_text(PAIR)
    for _ in range(KILLS * times()):
        titles, rounds = [], []
        with started(tmp_path, "--no-browser") as (process, lines):
            place = re.search(r"http://127\.0\.0\.1:\d+/", lines[0])[0] + "job/"
            work = threading.Thread(target=works, args=(place, number, titles, rounds))
            work.start()
            while work.is_alive() and not rounds:
                time.sleep(0.01)
            time.sleep(chance.uniform(0, 0.2))
            process.kill()
            work.join(20)
        assert rounds, "it was at work"
        one, number = client(tmp_path), titles[-1]
        assert parse_job(path.read_text()).title in (f"No {number}", f"No {number + 1}")
        with opened(path.with_suffix(".book")) as book:
            assert book.notes == ()
            kept = {round(100 * one.readings.largest) for one in book.rounds()}
        assert set(rounds) <= kept
        assert one.post("/job/title", headers=OWN, data={
            "as_of": one.get("/job/as-of").text, "title": "After"}).status_code in (200, 409)
        text = path.read_text()
        one.post("/job/title", headers=OWN,
                 data={"as_of": one.get("/job/as-of").text, "title": "Then"})
        one.post("/job/undo", headers=OWN,
                 data={"as_of": one.get("/job/as-of").text, "here": "tubes"})
        assert path.read_text() == text
        assert {one.name for one in tmp_path.iterdir()} <= {
            "job.toml", "job.book", "job.book-wal", "job.book-shm", ".coper.lock"}
