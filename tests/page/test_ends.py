"""The station Ends: what is said of each end, its pictures, its saws, and how it is cut."""

import json
import re
from html import unescape

import numpy as np
import pytest

from coper.page.answers.end_paper import packet_sheets
from coper.page.answers.printing import sheets
from tests.cli.run import run
from tests.drawing.readback import svg_paths
from tests.page.pages import OWN, client, fields, go, part
from tests.sheets.groups import group_strokes, group_words

JOB = """
title = "Some <i>ends</i>"
units = "{units}"
[shop]
process = "tig"
saws = ["1-3/8in", "1-5/8in", "1-3/4in"]
material = "mild steel"
[tubes.post]
shape = "38.1mm x 1.5mm"
start = {{ at = [0, 0, 0] }}
end = {{ at = [0, 0, "400mm"], cap = "3mm" }}
[tubes.base]
shape = "plate 6mm by 80mm"
start = {{ at = ["-100mm", 0, "420mm"] }}
end = {{ at = ["100mm", 0, "420mm"] }}
[tubes."<b>arm"]                                   # leans, and passes beside the middle
shape = "28.6mm x 0.9mm"
start = {{ at = [0, "3mm", "150mm"], on = ["post"] }}  # as it was measured
end = {{ at = ["200mm", "3mm", "260mm"], face = [1, 0, 0] }}
[tubes.stay]
shape = "25.4mm x 0.9mm"
start = {{ at = [0, "5mm", "160mm"], on = ["post", "<b>arm"] }}
end = {{ at = ["-300mm", "40mm", "60mm"] }}
mirror = true
[tubes.wide]
shape = "45mm x 1.5mm"
start = {{ at = [0, 0, "320mm"], on = ["post"], cut = "square" }}
end = {{ at = ["-200mm", 0, "320mm"] }}
"""
ARM = "/some/ends/%3Cb%3Earm/centre/start"
NAMED = ("some.toml", "<b>arm", "start")


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    """A job that no test of the module changes."""
    folder = tmp_path_factory.mktemp("ends")
    (folder / "some.toml").write_text(JOB.format(units="mm"))
    return folder


@pytest.fixture(scope="module")
def one(folder):
    return client(folder)


def test_the_shop_is_said_beside_its_ends_and_what_cannot_be_used_stays_typed(tmp_path):
    path = tmp_path / "shop.toml"
    path.write_text(JOB.format(units="mm").replace('process = "tig"\n', ""))
    own = client(tmp_path)
    seen = own.get("/shop/ends")
    assert "TOO OPEN" not in part(seen, "ends")
    assert fields(seen)["shop-saws"] == "1-3/8in, 1-5/8in, 1-3/4in"
    kept = own.post("/shop/ends", headers=OWN, data={
        **fields(seen), "shop-process": "tig", "shop-gap_limit": "0,05", "shop-stretch": "3.5",
        "shop-saws": "1-3/8in, x", "shop-stock": "6m, 3m"})
    assert kept.status_code == 422 and fields(kept)["shop-saws"] == "1-3/8in, x"
    assert part(kept, "said-shop-saws").startswith("no. 2: x: no number in this length")
    assert "0.05 mm" in part(kept, "said-shop-gap_limit")
    assert "TOO OPEN" in part(kept, "ends"), "the gap of a saw is more than the shop's limit"
    text = path.read_text()
    assert all(line in text for line in (
        'process = "tig"', "gap_limit = 0.05", "stretch = 3.5", 'stock = ["6m", "3m"]',
        'saws = ["1-3/8in", "1-5/8in", "1-3/4in"]'))


@pytest.fixture(scope="module")
def card(one):
    return one.get(ARM)


def record(folder, monkeypatch, *words):
    """What the command line has of it."""
    monkeypatch.chdir(folder)
    return json.loads(run(*words, "--json")[1])


def drawn(page, figure):
    """The drawing in a figure of a page, at its own size."""
    block = re.search(rf'<figure[^>]* id="{figure}".*?</figure>', page.text, re.DOTALL)[0]
    text = re.search(r"<svg.*</svg>", block, re.DOTALL)[0]
    wide, high = re.search(r'viewBox="0 0 (\S+) (\S+)"', text).groups()
    text = re.sub(r'(<svg[^>]*) height="[^"]*"', rf'\1 height="{high}mm"', text)
    return re.sub(r'(<svg[^>]*) width="[^"]*"', rf'\1 width="{wide}mm"', text)


def places(text):
    """The addresses that a text leads to, in their order."""
    return [unescape(one) for one in re.findall(r'href="(/some/ends/[^"?#]+)"', text)]


def test_every_end_that_is_cut_is_listed_with_its_saw_and_its_gap(one, folder, monkeypatch):
    page = one.get("/some/ends")
    names = re.findall(r"<strong>(.*?)</strong>", page.text)
    assert [unescape(name) for name in names] == [
        "<b>arm start", "<b>arm end", "stay left start", "stay right start", "wide start",
        "post start", "post end", "stay left end", "stay right end", "wide end"]
    row = unescape(part_of(page, "ends").split("<li>")[1])
    sawn = record(folder, monkeypatch, "saw", *NAMED)["setup"]
    saw, gap = sawn["cuts"][0]["passes"][0]["diameter"], sawn["gap"]
    assert f"saw {saw + 1e-9:.2f} mm" in row.lower() and "on post at" in row
    assert f"up to {gap['largest']:.2f} mm" in row and f"clock {gap['largest_clock']:.1f}" in row


def test_ends_lead_to_those_before_and_after_them_through_all_of_the_list(one):
    listed = places(part_of(one.get("/some/ends"), "ends"))
    place, seen = listed[0], []
    while place:
        seen.append(place)
        text = one.get(place).text
        after = re.search(r'<a rel="next" href="([^"]+)"', text)
        before = re.search(r'<a rel="prev" href="([^"]+)"', text)
        assert (before and before[1]) == (seen[-2] if len(seen) > 1 else None)
        place = after and after[1]
    assert seen == listed


def part_of(page, name):
    return re.search(rf'<div id="{name}" data-part>.*?</div>', page.text, re.DOTALL)[0]


def test_what_a_person_measures_is_that_of_the_command_line(card, folder, monkeypatch):
    found = record(folder, monkeypatch, "job", "some.toml")["tubes"]
    arm = next(tube for tube in found if tube["name"] == "<b>arm")
    long = record(folder, monkeypatch, "joint", *NAMED)["cope"]["long_point"]
    said = part(card, "measured")
    assert f"{arm['blank']:.2f} mm" in said and f"{long['along']:.2f} mm" in said
    assert f"clock {long['clock']:.1f}" in said


def test_the_heel_stands_on_the_template_where_the_cut_is_as_long_as_it_is_there(
        card, folder, monkeypatch):
    found = record(folder, monkeypatch, "joint", *NAMED)
    text, heel = drawn(card, "drawing-1"), found["mains"][0]["heel_clock"]
    (x, _), = (at for words, at in group_words(text, "paper-0-sides") if "heel, start" in words)
    line = min((one for one in group_strokes(text, "paper-0-sides")),
               key=lambda one: abs(one[0, 0] - x))[0, 0]
    cut = svg_paths(text)["paper-0-cut"]
    half = found["template"]["width"] / 2
    other = line + half if line + half <= cut[-1, 0] else line - half
    rise = np.interp([line, other], cut[:, 0], cut[:, 1])
    outer = np.interp([heel, (heel + 180) % 360], found["cope"]["clock"], found["cope"]["outer"],
                      period=360)
    assert rise[0] - rise[1] == pytest.approx(outer[0] - outer[1], abs=0.05)
    assert abs(outer[0] - outer[1]) > 5


def clockwise(text, place):
    """The clock of a place in the picture of the gap round an end, its 0 and 90 written there."""
    rim = svg_paths(text)["gap-saw-rim"]
    middle = (rim.min(axis=0) + rim.max(axis=0)) / 2
    words = {one.split()[0]: at for one, at in group_words(text, "gap-saw-end")}
    way, zero = ((np.arctan2(*(at - middle)[::-1])) for at in (place, words["0"]))
    assert (np.degrees(zero - np.arctan2(*(words["90"] - middle)[::-1])) % 360) < 120
    return np.degrees(zero - way) % 360


def test_the_largest_gap_is_marked_at_its_clock_round_the_end_and_against_the_clock(
        card, folder, monkeypatch):
    gap = record(folder, monkeypatch, "saw", *NAMED)["setup"]["gap"]
    text = drawn(card, "gap-2")
    (over,), (round_,) = (group_strokes(text, name)
                          for name in ("gap-saw-largest", "gap-saw-largest-2"))
    assert clockwise(text, round_[0]) == pytest.approx(gap["largest_clock"], abs=8)
    assert abs(2 * gap["largest_clock"] % 360 - 180) < 150  # else no mirror image would show
    frame = svg_paths(text)["gap-saw-frame"]
    across = (over[0, 0] - frame[:, 0].min()) / np.ptp(frame[:, 0]) * 360
    assert across == pytest.approx(gap["largest_clock"], abs=0.5)
    assert f"{gap['largest']:.2f} mm" in part(card, "saw")
    assert f"clock {gap['largest_clock']:.1f}" in part(card, "saw")


def test_a_gap_above_the_limit_is_marked_wrong_and_said_so(one):
    square = one.get("/some/ends/wide/centre/start")
    assert 'class="wrong" id="gap-own-largest"' in square.text
    assert "TOO OPEN" in part(square, "gap")
    assert "TOO OPEN by its template" in part_of(one.get("/some/ends"), "ends")
    assert 'id="gap-own-largest"' not in one.get(ARM).text  # a bevelled cut leaves none


def test_another_saw_is_only_looked_at(one, card, folder, monkeypatch):
    before = (folder / "some.toml").read_bytes()
    page = one.get(f"{ARM}?saw=1-3/4in")
    other = record(folder, monkeypatch, "saw", *NAMED, "--kit", "1-3/4in")["setup"]
    assert f"{other['gap']['largest']:.2f} mm" in part(page, "saw")
    assert f"{other['cuts'][0]['passes'][0]['beyond_blank']:.2f} mm" in part(page, "saw")
    assert drawn(page, "gap-2") != drawn(card, "gap-2")
    assert drawn(page, "drawing-1") == drawn(card, "drawing-1")
    assert (folder / "some.toml").read_bytes() == before
    assert not (folder / "some.book").exists()


def test_every_saw_of_the_shop_has_its_setting_and_its_gap(one, card, folder, monkeypatch):
    again = re.search(r'id="saws" data-part data-again="([^"]+)"', card.text)[1]
    page = one.get(again)
    rows = re.findall(r"<tr.*?</tr>", part_text(page, "saws"), re.DOTALL)[1:]
    assert len(rows) == 3 and 'data-again' not in page.text
    for row, saw in zip(rows, (34.925, 41.275, 44.45), strict=True):
        found = record(folder, monkeypatch, "saw", *NAMED, "--kit", f"{saw}mm")["setup"]
        first = found["cuts"][0]["passes"][0]
        for value in (first["centre_beyond_long_point"], first["depth_needed"],
                      found["gap"]["largest"], abs(first["set_angle"])):
            assert f"{value:.2f}" in row
        assert str(first["rpm"]) in row and f"saw={saw}mm" in row


def part_text(page, name):
    return re.search(rf'<(\w+) id="{name}" data-part.*?</\1>\s*<form', page.text, re.DOTALL)[0]


@pytest.mark.parametrize(("typed", "words"), [("x", "length"), ("-1", "size"), ("0", "size")])
def test_a_saw_that_is_no_size_stays_in_its_field_with_what_is_wrong(one, typed, words):
    page = one.get(f"{ARM}?saw={typed}")
    assert page.status_code == 422 and fields(page)["saw"] == typed
    assert words in unescape(page.text.split('id="how-saw"')[1].split("</div>")[0])
    assert "<svg" in page.text


def test_a_saw_that_is_too_small_is_said_to_be_so(one):
    page = one.get(f"{ARM}?saw=1/2in")
    assert page.status_code == 200 and "no saw of the kit" in part(page, "saw").lower()
    assert 'id="gap-2"' not in page.text


@pytest.fixture
def own(tmp_path):
    path = tmp_path / "some.toml"
    path.write_text(JOB.format(units="mm"))
    return path, client(tmp_path)


def cut(one, typed):
    """Choose another cut."""
    form = {**fields(one.get(ARM)), "cut": typed}
    return one.post(ARM, data={name: form[name] for name in ("as_of", "cut", "was.cut")},
                    headers=OWN)


def test_a_cut_is_changed_in_the_file_and_nothing_else_and_undone(own):
    path, one = own
    before = path.read_text()
    page = cut(one, "square")
    assert page.status_code == 200 and fields(page)["cut"] == "square"
    assert "TOO OPEN" in part(page, "gap")
    assert path.read_text() == before.replace(
        'on = ["post"] }  # as', 'on = ["post"], cut = "square" }  # as')
    assert fields(go(one, "undo", "some", ARM.removeprefix("/some/")))["cut"] == "bevelled"
    assert path.read_text() == before


def test_a_word_that_is_no_cut_is_not_written(own):
    path, one = own
    page = cut(one, "round")
    assert page.status_code == 422 and "round" in part(page, "said-cut")
    assert path.read_text() == JOB.format(units="mm")


def test_a_cut_of_a_file_that_changed_meanwhile_is_not_written(own):
    path, one = own
    form = fields(one.get(ARM))
    path.write_text(path.read_text() + "\n")
    page = one.post(ARM, data={**form, "cut": "square"}, headers=OWN)
    assert page.status_code == 409 and "cut = \"square\" }  # as" not in path.read_text()


def test_markup_in_names_stays_text_and_no_two_things_have_one_id(one, card):
    for page in (card, one.get("/some/ends")):
        assert "<b>" not in page.text and "<i>" not in page.text and "&lt;b&gt;arm" in page.text
    ids = re.findall(r'\bid="([^"]+)"', card.text)
    assert len(ids) == len(set(ids))


def test_lines_that_miss_are_marked_on_the_template_and_said(one):
    page = one.get("/some/ends/wide/centre/start")
    assert re.search(r"Open from clock [\d.]+ to [\d.]+", part(page, "about"))
    assert page.text.count('class="asked" id="paper-0-open') == 1


def test_an_end_on_two_mains_has_a_footprint_on_each(one):
    page = one.get("/some/ends/stay/right/start")
    heads = [unescape(head) for head in re.findall(r"<h3>(.*?)</h3>", page.text)]
    assert heads[:3] == ["stay right start template", "stay right start on post",
                         "stay right start on <b>arm"]
    assert "on post, <b>arm" in part(page, "about")


def test_a_flat_end_and_one_that_is_cut_off_are_said_in_words_with_what_they_have_on_paper(one):
    flat = one.get("/some/ends/%3Cb%3Earm/centre/end")
    assert "cut along its face" in part(flat, "about") and 'name="cut"' not in flat.text
    assert "no gap to close" in part(flat, "gap") and "Chop saw" in part(flat, "saw")
    assert 'id="drawing-1"' in flat.text and 'id="drawing-2"' not in flat.text
    capped = one.get("/some/ends/post/centre/end")
    assert "cut straight across" in part(capped, "about")
    assert 'id="cap-cap"' in drawn(capped, "drawing-1")
    bare = one.get("/some/ends/post/centre/start")
    assert bare.status_code == 200 and "<svg" not in bare.text


@pytest.mark.parametrize("place", [
    "arm/centre/start", "stay/centre/start", "post/left/start", "base/centre/start",
    "post/centre/middle", "post/up/start"])
def test_an_end_that_is_none_is_refused_in_one_line(one, place):
    page = one.get(f"/some/ends/{place}")
    assert page.status_code in (404, 422)
    assert len(re.findall(r'class="notice">[^<]+</p>', page.text)) == 1


def test_a_job_that_cannot_be_shaped_or_read_says_why_in_a_line(own):
    path, one = own
    whole = path.read_text()
    for broken, words in ((whole.replace('"3mm", "150mm"', '"90mm", "150mm"')
                           .replace('"3mm", "260mm"', '"90mm", "260mm"'), "start"),
                          (whole.replace('shape = "28.6mm x 0.9mm"', 'shape = "28.6 y"'), "shape"),
                          (f"{whole}]", "")):
        path.write_text(broken)
        for place in ("/some/ends", ARM):
            page = one.get(place)
            assert page.status_code == 200 and "<svg" not in page.text
            assert words in part(page, "wrong") and part(page, "wrong")


def test_in_a_job_in_inches_the_gap_is_said_in_inches_first(tmp_path):
    (tmp_path / "some.toml").write_text(JOB.format(units="in"))
    said = part(client(tmp_path).get("/some/ends/wide/centre/start"), "gap")
    assert re.search(r"largest gap 0\.\d{3} in \(\d\.\d\d mm\) at clock", said)


def test_its_own_pdf_is_that_of_the_command_line(one, folder, monkeypatch, tmp_path):
    monkeypatch.chdir(folder)
    file = tmp_path / "arm.pdf"
    assert run("joint", *NAMED, "--pdf", str(file))[0] == 0
    made = one.get(f"{ARM}/joint.pdf")
    assert made.headers["Content-Type"] == "application/pdf"
    date = re.compile(rb"D:\d{14}[^)]*")
    assert date.sub(b"", made.content) == date.sub(b"", file.read_bytes())


def test_its_sheets_of_the_packet_are_those_that_name_it(one, folder):
    text = (folder / "some.toml").read_text()
    found = packet_sheets(text, "some.toml", "<b>arm")
    said = {sheet.number: " ".join(sheet.words) for sheet in sheets(text, "some.toml")}
    assert len(found) == 2 and "FOR SCISSORS" in said[found[0]] and "<b>arm" in said[found[1]]
    gone = one.get(f"{ARM}/packet.pdf", follow_redirects=False)
    assert gone.headers["Location"] == "/some/print/packet.pdf?" + "&".join(
        f"sheet={number}" for number in found)


def test_how_careful_to_be_is_said_in_the_words_of_the_command_line(one, folder, monkeypatch):
    monkeypatch.setattr("coper.verbs.tolerance.JOINTS", 20)
    monkeypatch.chdir(folder)
    text = one.get(f"{ARM}/care").text.split('id="words"')[1]
    page = " ".join(unescape(re.sub(r"<[^>]+>", " ", text)).split())
    for line in run("tolerance", *NAMED)[1].splitlines()[1:]:
        assert " ".join(line.split("  ")[-1].strip(" !").split()) in page, line
