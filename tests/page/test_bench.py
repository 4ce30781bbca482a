"""The station Bench: rounds of readings at an end, kept and answered."""

import re
from html import unescape

import pytest

from coper.book.book import opened
from coper.book.entries import EndName
from tests.cli.run import run
from tests.page.pages import OWN, client, fields, part

SMALL = """
title = "Two tubes"
units = "{units}"
[shop]
process = "tig"
[tubes.post]
shape = "38.1mm x 1.5mm"
start = {{ at = [0, 0, 0] }}
end = {{ at = [0, 0, "300mm"] }}
[tubes.arm]
shape = "28.6mm x 0.9mm"
start = {{ at = [0, 0, "150mm"], on = ["post"] }}
end = {{ at = ["200mm", 0, "200mm"] }}
"""
HERE = "/two/bench/arm/centre/start"
ARM = EndName("arm", "centre", "start")
GAPS = ("0.5", "0.4", "0.3", "0.2", "0", "0.1", "0.3", "0.4")


@pytest.fixture
def path(tmp_path):
    path = tmp_path / "two.toml"
    path.write_text(SMALL.format(units="mm"))
    return path


@pytest.fixture
def one(path):
    return client(path.parent)


def read(one, gaps=GAPS):
    """Type the gaps in the order of the fields, and ask where to grind."""
    form = fields(one.get(HERE))
    names = [name for name in form if name.startswith("gap.")]
    form = {"as_of": form["as_of"], **dict(zip(names, gaps, strict=False))}
    return one.post(HERE, data=form, headers=OWN), form


def test_every_end_that_seats_on_a_main_has_its_card(one):
    page = one.get("/two/bench").text
    assert re.findall(r'href="(/two/bench/[^"]+)"', page) == [HERE]
    card = one.get(HERE)
    assert "Fit-up log: arm, start" in card.text and "0.30 mm (0.012 in)" in part(card, "about")
    assert sum(name.startswith("gap.") for name in fields(card)) == 8


def test_the_end_is_drawn_with_the_clocks_that_are_read_the_heel_up(one):
    card = one.get(HERE).text
    drawn = re.search(r'<figure class="drawing round".*?</figure>', card, re.DOTALL)[0]
    places = {words: float(y) for y, words in
              re.findall(r'<text[^>]* y="([\d.]+)"[^>]*>([^<]*)</text>', drawn)}
    assert len(places) == 8
    assert min(places, key=places.get).endswith("heel") and 'id="grind"' not in drawn
    assert max(places, key=places.get).endswith("toe")


def test_a_round_is_answered_in_the_words_of_the_command_line_and_kept(path, one, monkeypatch):
    page, form = read(one)
    assert page.status_code == 200 and 'id="grind"' in page.text
    typed = ",".join(f"{name.removeprefix('gap.')}={gap}" for name, gap in form.items()
                     if name.startswith("gap."))
    monkeypatch.chdir(path.parent)
    _, said, _ = run("regrind", "two.toml", "arm", "start", "--gaps", typed, "--no-book")
    shown = " ".join(unescape(re.sub(r"<[^>]+>", " ", page.text)).split())
    for line in said.splitlines()[1:]:
        words = line.split("  ")[-1].strip(" !")
        assert " ".join(words.split()) in shown, words
    with opened(path.with_suffix(".book")) as book:
        (kept,) = book.rounds(ARM)
    assert kept.readings.typed == typed and "kept" in shown


def test_a_round_that_was_kept_is_there_on_the_next_visit_and_those_before_it_are_greyed(
        path, one):
    read(one)
    read(one, ("0.2", "0.2", "0.1", "0.1", "0", "0.1", "0.1", "0.2"))
    card = client(path.parent).get(HERE).text
    rounds = re.findall(r"<li( class=\"before\")?>(.*?)</li>", card)
    rounds = [(grey, words) for grey, words in rounds if "largest" in words]
    assert [bool(grey) for grey, _ in rounds] == [False, True]
    assert "largest 0.20 mm" in rounds[0][1] and "largest 0.50 mm" in rounds[1][1]
    assert 'id="grind"' in card or "largest 0.20" in card


def test_the_same_round_sent_twice_by_a_phone_that_heard_no_answer_is_kept_once(path, one):
    _, form = read(one)
    assert one.post(HERE, data=form, headers=OWN).status_code == 200
    with opened(path.with_suffix(".book")) as book:
        assert len(book.rounds()) == 1


@pytest.mark.parametrize(("gaps", "words"), [
    ((), "no reading"), (("0.1", "0.2"), "3"), (("a", "0", "0.1"), "no number"),
    (("-1", "0", "0.1"), "gap")])
def test_readings_that_cannot_be_used_stay_in_their_fields_and_nothing_is_kept(
        path, one, gaps, words):
    page, form = read(one, gaps)
    assert page.status_code == 422 and words in part(page, "answer")
    assert all(fields(page)[name] == typed for name, typed in form.items() if name != "as_of")
    assert not path.with_suffix(".book").exists()


def test_in_a_job_in_inches_readings_are_inches(path, one):
    path.write_text(SMALL.format(units="in"))
    card = one.get(HERE).text
    assert 'data-by="0.002"' in card and "outside, in in;" in " ".join(card.split())
    read(one, ("0.02", "0.01", "0.01", "0.005", "0", "0.005", "0.01", "0.015"))
    with opened(path.with_suffix(".book")) as book:
        assert book.rounds()[0].readings.largest == pytest.approx(0.508)


def test_a_step_is_ticked_and_the_tick_taken_away(path, one):
    for done, count in (("yes", 1), ("", 0)):
        form = {"as_of": fields(one.get(HERE))["as_of"], "step": "cut", "done": done}
        page = one.post(HERE, data=form, headers=OWN)
        assert page.url.path == HERE and page.text.count('aria-pressed="true"') == count
        with opened(path.with_suffix(".book")) as book:
            assert len(book.ticks()) == count


def test_a_step_that_is_none_and_an_end_that_is_none_are_refused(path, one):
    form = {"as_of": fields(one.get(HERE))["as_of"], "step": "painted", "done": "yes"}
    assert one.post(HERE, data=form, headers=OWN).status_code == 422
    for way in ("arm/left/start", "arm/centre/end", "arm/centre/middle", "x/centre/start",
                "arm/up/start", "post/centre/start"):
        assert one.get(f"/two/bench/{way}").status_code in (404, 422)
    assert not path.with_suffix(".book").exists()


def test_a_round_of_a_file_that_changed_meanwhile_is_not_answered_and_stays_typed(path, one):
    form = fields(one.get(HERE))
    path.write_text(path.read_text() + "\n")
    names = [name for name in form if name.startswith("gap.")]
    page = one.post(HERE, data={**form, **dict(zip(names, GAPS, strict=True))}, headers=OWN)
    assert page.status_code == 409 and [fields(page)[name] for name in names] == list(GAPS)
    assert not path.with_suffix(".book").exists()


def test_targets_at_the_bench_are_56_px(one):
    style = one.get("/-/page.css").text
    assert re.search(r"\.big \{[^}]*min-height: 56px; min-width: 56px", style)
    buttons = re.findall(r"<button[^>]*>", one.get(HERE).text.split("<main")[1])
    assert len(buttons) == 4 + 16 + 1 and all("big" in button for button in buttons)
