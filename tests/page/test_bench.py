"""The station Bench: rounds of readings at an end, kept and answered."""

import re
import sqlite3
from contextlib import closing
from html import unescape

import pytest

from coper.book.book import opened
from coper.book.entries import EndName
from coper.page.answers.bench_round import cut_choices, cut_in
from coper.page.answers.named import end_of
from coper.verbs.cut_way import cut_words
from tests.cli.run import run
from tests.page.pages import OWN, client, fields, part, wagtail

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


def round_form(page, **more):
    """The form of a round, as a browser sends it."""
    return {name: value for name, value in fields(page).items()
            if name == "as_of" or name.startswith("gap.")} | more


def words_of(page):
    """All that is on a page, as text."""
    return " ".join(unescape(re.sub(r"<[^>]+>", " ", page.text)).split())


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
    assert part(card, "card-title") == "arm start" and "0.30 mm (0.012 in)" in part(card, "about")
    assert sum(name.startswith("gap.") for name in fields(card)) == 8


def drawn(page):
    """The picture of the card."""
    return re.search(r'<figure class="drawing round".*?</figure>', page.text, re.DOTALL)[0]


def test_the_end_is_drawn_with_the_clocks_that_are_read_the_heel_up(one):
    picture = drawn(one.get(HERE))
    places = {words: float(y) for y, words in
              re.findall(r'<text[^>]* y="([\d.]+)"[^>]*>([^<]*)</text>', picture)}
    assert len(places) == 8 + len({"heel", "side", "toe"})
    assert places["heel"] < 20 and places["toe"] > 80 and 'id="grind' not in picture
    assert "Looking into the end from outside, heel up." in picture


def test_a_clock_in_the_picture_leads_to_its_reading_and_next_to_the_one_after(one):
    card = one.get(HERE)
    rows = re.findall(r'<div class="reading" id="([^"]+)"', card.text)
    assert re.findall(r'xlink:href="#([^"]+)"', drawn(card)) == rows and len(rows) == 8
    assert all(f'id="dim-{row}"' in card.text for row in rows)
    assert re.findall(r'<a class="big button on" href="#([^"]+)"', card.text) == rows[1:]
    assert card.text.count('<button class="big on">Grind?</button>') == 1


def test_a_round_is_answered_in_the_words_of_the_command_line_and_kept(path, one, monkeypatch):
    page, form = read(one)
    assert page.status_code == 200 and 'id="grind-later"' in page.text
    typed = ",".join(f"{name.removeprefix('gap.')}={gap}" for name, gap in form.items()
                     if name.startswith("gap."))
    monkeypatch.chdir(path.parent)
    _, said, _ = run("regrind", "two.toml", "arm", "start", "--gaps", typed, "--no-book")
    shown = words_of(page).replace(": ", " ")
    for line in said.splitlines()[1:]:
        words = line.split("  ")[-1].strip(" !").replace(": ", " ")
        assert " ".join(words.split()) in shown, words
    with opened(path.with_suffix(".book")) as book:
        (kept,) = book.rounds(ARM)
    assert kept.readings.typed == typed and "kept" in shown


def rounds_of(page):
    """The rounds of a card: whether each is greyed, and its words."""
    return [(bool(grey), " ".join(re.sub(r"<[^>]+>", " ", words).split())) for grey, words in
            re.findall(r'<li( class="before")?>(<b>Round.*?)</li>', page.text, re.DOTALL)]


def test_a_round_that_was_kept_is_there_on_the_next_visit_and_those_before_it_are_greyed(
        path, one):
    first, _ = read(one)
    promised = re.search(r"then ([\d.]+ mm) was to be expected", rounds_of(first)[0][1])[1]
    read(one, ("0.2", "0.2", "0.1", "0.1", "0", "0.1", "0.1", "0.2"))
    (grey, last), (before_grey, before) = rounds_of(client(path.parent).get(HERE))
    assert (grey, before_grey) == (False, True)
    assert "largest 0.20 mm at clock" in last and "it was" not in last
    assert "largest 0.50 mm at clock" in before
    assert f"then {promised} was to be expected: it was 0.20 mm" in before


def test_what_the_last_round_was_answered_is_said_again_on_every_visit(path, one):
    page, _ = read(one)
    again = client(path.parent).get(HERE)
    for name in ("large", "answer", "rounds"):
        assert part(again, name) == part(page, name) != ""
    assert drawn(again) == drawn(page)


def test_more_to_read_is_asked_for_before_any_metal_goes_and_what_was_read_stays(one):
    page, form = read(one)
    assert part(page, "large").startswith("read also at clock")
    assert "take off" not in part(page, "large") and "TOO OPEN" not in part(page, "large")
    picture = drawn(page)
    assert 'id="grind-later"' in picture and 'id="most"' not in picture
    assert "read more" in picture
    now = {name: value for name, value in fields(page).items() if name.startswith("gap.")}
    read_before = {name: value for name, value in form.items() if name.startswith("gap.")}
    assert {name: now[name] for name in read_before} == read_before
    more = [name for name in now if name not in read_before]
    assert len(more) == 8 and not any(now[name] for name in more)
    assert page.text.count(", read also</a>") == 8
    assert re.findall(r'href="#(gap[^"]+)">Next<', page.text)[:1] == more[:1]


SIXTEEN = ("0.4", "0.35", "0.3", "0.25", "0.2", "0.1", "0.05", "0", "0", "0", "0.05", "0.1", "0.2",
           "0.25", "0.3", "0.35")


def test_all_read_the_answer_is_large_and_the_place_of_the_most_is_drawn_with_its_number(one):
    read(one)
    page, _ = read(one, SIXTEEN)
    large, picture = part(page, "large"), drawn(page)
    most, at = re.search(r"take off: up to ([\d.]+ mm) .*at clock ([\d.]+)", large).groups()
    assert "TOO OPEN" in large and f">{most}</text>" in picture and f">at {at}</text>" in picture
    assert 'id="grind"' in picture and 'id="most"' in picture and 'id="touches"' in picture
    assert "Hatched band: the metal to take off" in picture
    assert "The causes" in page.text
    assert not any(value for name, value in fields(page).items() if name.startswith("gap."))


def test_an_end_within_its_limit_is_said_to_be_good_in_large(one):
    read(one)
    page, _ = read(one, ("0.1",) * 15 + ("0",))
    assert part(page, "large").startswith("GOOD: no reading is above the limit")
    assert ">good</text>" in drawn(page) and 'id="most"' not in drawn(page)


def test_a_job_that_was_changed_since_is_said_and_its_answer_is_not_given_for_the_new_one(
        path, one):
    read(one)
    path.write_text(path.read_text().replace('[0, 0, "150mm"]', '[0, 0, "190mm"]'))
    page = one.get(HERE)
    assert "the job has changed since round 1" in words_of(page)
    assert part(page, "large") == ""


def test_how_the_end_was_cut_is_chosen_and_the_gaps_to_expect_and_the_round_follow(path, one):
    card = one.get(HERE)
    choices = dict(re.findall(r'<option value="([^"]+)"[^>]*>([^<]*)<', card.text))
    assert list(choices)[:3] == ["bevelled", "square", "saw"]
    assert any(words.startswith("sawn with") for words in choices.values())
    usual = re.findall(r"expect ([\d.]+) mm", card.text)
    for asked in ({"first": "cut"}, {"show": "yes"}):
        form = round_form(card, **{"gap.0": "0.1", "cut": "square"}, **asked)
        page = one.post(HERE, data=form, headers=OWN)
        assert page.status_code == 200 and not path.with_suffix(".book").exists()
        assert re.findall(r"expect ([\d.]+) mm", page.text) != usual
        assert fields(page)["gap.0"] == "0.1"
    cut = list(choices)[3]
    page = one.post(HERE, data=round_form(
        card, cut=cut, **{"gap.0": "0.1", "gap.90": "0", "gap.180": "0.1"}), headers=OWN)
    assert f'<option value="{cut}" selected>' in page.text and cut.startswith("saw=")
    with opened(path.with_suffix(".book")) as book:
        assert book.rounds()[-1].readings.cut == cut


@pytest.mark.parametrize("units", ["mm", "in"])
def test_every_cut_that_is_offered_is_read_as_it_was_written_whatever_the_unit(units):
    end = end_of(SMALL.format(units=units), "arm", "centre", "start")
    passes = "saw=31.75mm@0,3@1.5,3"
    for cut, _ in cut_choices(end, passes):
        how, read_back = cut_in(cut, end)
        assert cut_words(how, read_back) == cut


def test_a_cut_that_is_none_is_refused_and_the_readings_stay(path, one):
    form = round_form(one.get(HERE), cut="torn", **{"gap.0": "0.1", "gap.45": "0", "gap.90": "0"})
    page = one.post(HERE, data=form, headers=OWN)
    assert page.status_code == 422 and "torn" in part(page, "large")
    assert fields(page)["gap.0"] == "0.1" and not path.with_suffix(".book").exists()


def test_a_round_of_the_command_line_sawn_in_two_passes_is_the_cut_to_begin_with(
        path, one, monkeypatch):
    monkeypatch.chdir(path.parent)
    cut = "saw=31.75mm@0,3@1.5,3"
    run("regrind", "two.toml", "arm", "start", "--gaps", "0=0.1,90=0,180=0.1", "--cut", cut)
    with opened(path.with_suffix(".book")) as book:
        kept = book.rounds()[0].readings.cut
    assert f'<option value="{kept}" selected>' in one.get(HERE).text and "@" in kept


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
    assert page.status_code == 422 and words in part(page, "large")
    assert all(fields(page)[name] == typed for name, typed in form.items() if name != "as_of")
    assert not path.with_suffix(".book").exists()


def test_in_a_job_in_inches_readings_are_inches(path, one):
    path.write_text(SMALL.format(units="in"))
    card = one.get(HERE).text
    assert 'data-by="0.002"' in card and "outside, in inches;" in " ".join(card.split())
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


def test_a_comma_in_a_reading_is_its_point(path, one):
    read(one, [gap.replace(".", ",") for gap in GAPS])
    with opened(path.with_suffix(".book")) as book:
        assert book.rounds()[0].readings.largest == 0.5


def test_a_book_that_cannot_be_had_is_said_in_a_sentence_and_nothing_typed_is_lost(path, one):
    path.with_suffix(".book").symlink_to("nowhere")
    page, form = read(one)
    assert page.status_code == 507 and "Not kept: " in part(page, "notice")
    assert "read also" in part(page, "large") and "not kept: " in words_of(page)
    assert 'id="grind-later"' in drawn(page)
    assert all(fields(page)[name] == typed for name, typed in form.items() if name != "as_of")
    tick = {"as_of": form["as_of"], "step": "cut", "done": "yes"}
    page = one.post(HERE, data=tick, headers=OWN)
    assert page.status_code == 507 and "Not kept: " in part(page, "notice")
    assert 'aria-pressed="true"' not in page.text


def test_a_book_that_another_program_holds_is_said_and_nothing_typed_is_lost(
        path, one, monkeypatch):
    read(one)
    monkeypatch.setattr("coper.book.book.WAIT_S", 0.01)
    with closing(sqlite3.connect(path.with_suffix(".book"), isolation_level=None)) as other:
        other.execute("BEGIN IMMEDIATE")
        page, form = read(one, SIXTEEN)
        assert page.status_code == 507 and "Not kept: " in part(page, "notice")
        assert "locked" in part(page, "notice") and len(rounds_of(page)) == 1
        assert all(fields(page)[name] == typed for name, typed in form.items() if name != "as_of")
    page = one.post(HERE, data=form, headers=OWN)
    assert len(rounds_of(page)) == 2


def test_a_book_of_another_program_does_not_hide_the_ends(path, one):
    with closing(sqlite3.connect(path.with_suffix(".book"))) as other:
        other.execute("CREATE TABLE x (y)")
    for page in (one.get("/two/bench"), one.get(HERE)):
        assert page.status_code == 200 and "another program" in part(page, "notice")


def test_a_damaged_book_is_moved_aside_and_the_round_is_kept_in_a_new_one(path, one):
    read(one)
    book = path.with_suffix(".book")
    book.write_bytes(book.read_bytes()[:300])
    page = one.get(HERE)
    assert "was damaged" in part(page, "notice") and "cannot be read" not in page.text
    page, _ = read(one, ("0.2",) * 8)
    assert [words.split(" ,")[0] for _, words in rounds_of(page)] == ["Round 1"]


ORDER = ("seat-tube start", "down-tube start", "down-tube end", "top-tube start", "top-tube end",
         "chain-stay left start", "chain-stay right start", "seat-stay left start",
         "seat-stay right start", "stay-bridge start", "stay-bridge end", "rack-rail start",
         "rack-rail end")


def test_the_ends_are_listed_in_the_order_of_work_and_a_card_leads_to_those_beside_it(tmp_path):
    wagtail(tmp_path)
    names = re.findall(r"<strong>([^<]*)</strong>", client(tmp_path).get("/wagtail/bench").text)
    assert tuple(names) == ORDER
    card = client(tmp_path).get("/wagtail/bench/down-tube/centre/start")
    kinks = re.search(r"kinks at clock ([\d.]+) \(shell to seat-tube\) and ([\d.]+) "
                      r"\(seat-tube to shell\)", card.text)
    assert kinks and float(kinks[1]) + float(kinks[2]) == pytest.approx(180, abs=0.1)
    assert 'id="kinks"' in card.text
    assert re.findall(r"(Before|Next): ([^<]*)</a>", card.text) == [
        ("Before", "seat-tube start"), ("Next", "down-tube end")]


def test_the_list_says_how_far_each_end_is_and_which_step_is_next(tmp_path):
    wagtail(tmp_path)
    one = client(tmp_path)

    def tick(end, step):
        here = f"/wagtail/bench/{end}"
        form = {"as_of": fields(one.get(here))["as_of"], "step": step, "done": "yes"}
        one.post(here, data=form, headers=OWN)
        return part(one.get("/wagtail/bench"), "ends")

    assert part(one.get("/wagtail/bench"), "ends").startswith("seat-tube start Next: cut")
    assert tick("seat-tube/centre/start", "cut").startswith("seat-tube start Next: fitted ✓ cut")
    said = tick("seat-tube/centre/start", "tacked")
    assert said.startswith("seat-tube start ✓ cut ✓ tacked") and said.count("Next:") == 1
    assert "down-tube start Next: cut" in said


def test_the_list_says_what_the_last_round_came_to(one):
    assert "no round yet" in part(one.get("/two/bench"), "ends")
    read(one)
    assert "1 round, 0.50 mm at the most: more to read" in part(one.get("/two/bench"), "ends")
    read(one, SIXTEEN)
    assert re.search(r"2 rounds, 0.40 mm at the most: take off up to [\d.]+ mm",
                     part(one.get("/two/bench"), "ends"))
    read(one, ("0",) * 16)
    assert "3 rounds, 0.00 mm at the most: good" in part(one.get("/two/bench"), "ends")


def test_where_there_is_no_gap_to_read_the_clock_is_marked_open_and_has_no_field(path, one):
    path.write_text(path.read_text().replace('[0, 0, "150mm"]', '[0, "9mm", "150mm"]').replace(
        '["200mm", 0, "200mm"]', '["200mm", "9mm", "200mm"]'))
    card = one.get(HERE)
    assert card.text.count(">open</text>") + sum(
        name.startswith("gap.") for name in fields(card)) == 8 and ">open</text>" in card.text
    assert "Dashed wall: open from clock" in drawn(card)


def test_names_with_markup_stay_text_on_the_card_and_in_its_picture(path, one):
    path.write_text(path.read_text().replace("[tubes.post]", '[tubes."<b>&"]').replace(
        '["post"]', '["<b>&"]'))
    assert "on &lt;b&gt;&amp;" in one.get(HERE).text and "<b>&" not in one.get(HERE).text


def test_targets_at_the_bench_are_56_px(one):
    style = one.get("/-/page.css").text
    assert re.search(r"\.big \{[^}]*min-height: 56px; min-width: 56px", style)
    buttons = re.findall(r"<button[^>]*>", one.get(HERE).text.split("<main")[1])
    assert len(buttons) == 4 + 8 * 3 + 1 + 1 + 1 and all("big" in button for button in buttons)
