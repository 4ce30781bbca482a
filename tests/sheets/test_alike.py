"""One set of sheets for all pieces that are the same."""

import json
import re
from pathlib import Path

import pytest

from coper import find_end, parse_job, read_job
from coper.drawing.bounds import leaves
from coper.drawing.marks import Text
from coper.job.shaped import shape_job
from coper.sheets.packet import packet_pages
from coper.telling.words.alike import batch_titles
from coper.verbs.job import job
from tests.cli.run import run

TRAILER = Path(__file__).parents[2] / "demo" / "dipper.toml"


def rail(names, sides=""):
    text = """\
title = "Hand rail"
[tubes.low]
shape = "33.7 x 2.6"
start = { at = [0, 0, 100] }
end = { at = [2000, 0, 100] }
[tubes.top]
shape = "42.4 x 2.6"
start = { at = [0, 0, 1000] }
end = { at = [2000, 0, 1000] }
"""
    for n, name in enumerate(names):
        ends = [f'{{ at = [{150 + 280 * n}, 0, {height}], on = ["{main}"] }}'
                for height, main in ((100, "low"), (1000, "top"))]
        start, end = ends if n != 4 else ends[::-1]
        text += f"[tubes.{name}]\nshape = '26.9 x 2.3'\nstart = {start}\nend = {end}\n"
    return text + sides


STAYS = """\
[tubes.rib]
shape = "20 x 2"
start = { at = [300, 5, 100], on = ["low"] }
end = { at = [200, 300, 0] }
mirror = true
"""
SEVEN = [f"post-{n}" for n in range(1, 8)]


@pytest.fixture(scope="module")
def seven():
    return job(parse_job(rail(SEVEN, STAYS)))


def printed(pages):
    return [" ".join(mark.words for mark in leaves(page.marks) if isinstance(mark, Text))
            for page in pages]


def test_seven_equal_posts_have_one_set_of_sheets_that_says_cut_7(seven):
    pages = printed(seven.pages(lambda _: None))
    assert len([page for page in pages if "Cut 7, all the same" in page]) == 1
    notes, = [page for page in pages if "Cut 7, all the same" in page]
    for name in SEVEN:
        assert name in notes
    assert "post-5: turned end for end" in notes
    logs = [page for page in pages if "Fit-up log: 7 x post, start" in page]
    assert len(logs) == 1
    assert tube_pages(SEVEN) == tube_pages(SEVEN[:1])


def tube_pages(posts):
    """How many pages the templates take, and how many the notes, cards and logs."""
    packet = packet_pages(shape_job(parse_job(rail(posts, STAYS))), lambda _: None)
    cut = [section for section in packet.sections if section.plan.scissors]
    kept = [section for section in packet.sections
            if section.plan.listed[0][1].endswith(" notes")]
    return [sum(section.count for section in sections) for sections in (cut, kept)]


def test_mirror_images_have_sheets_of_their_own_and_say_so(seven):
    pages = printed(seven.pages(lambda _: None))
    assert any("Mirror image of rib left" in page for page in pages)
    assert any("Mirror image of rib right" in page for page in pages)


def test_the_cut_list_has_one_row_for_them(seven, tmp_path):
    pages = printed(seven.pages(lambda _: None))
    cut_list, = [page for page in pages if "Write its number" in page]
    assert "3 to 9 7 x post 873.46" in cut_list and "10, 11 rib left and right " in cut_list
    assert "rib right is the mirror image of rib left" in cut_list.lower()
    file = tmp_path / "rail.toml"
    file.write_text(rail(SEVEN, STAYS))
    out = run("job", str(file))[1]
    assert f"7 x post: {', '.join(SEVEN)}" in out
    assert "rib right is the mirror image of rib left" in out


def test_json_has_all_names_and_how_each_is_laid_on_the_first(seven):
    posts, ribs = json.loads(json.dumps(seven.record()))["alike"]
    assert posts["count"] == 7 and posts["mirror_images"] == []
    assert [one["name"] for one in posts["pieces"]] == SEVEN
    assert [one["end_for_end"] for one in posts["pieces"]] == [n == 4 for n in range(7)]
    assert (ribs["count"], [one["side"] for one in ribs["mirror_images"]]) == (2, ["right"])


@pytest.mark.parametrize(("names", "title"), [
    (["post-1", "post-2"], "2 x post"), (["post1", "post12"], "2 x post"),
    (["left post", "left rail"], "2 x left"), (["a", "b"], "a and 1 alike"),
    (["post", "post-b", "post-c"], "3 x post"), (["1", "2"], "1 and 1 alike")])
def test_a_batch_is_called_by_what_its_names_begin_with(names, title):
    quoted = [f'"{name}"' for name in names]
    cuts = job(parse_job(rail(quoted))).result.cut_list
    assert title in batch_titles(cuts.alike).values()


def test_no_two_batches_are_called_the_same():
    other = "".join(
        f"[tubes.post-{n}]\nshape = '20 x 2'\nstart = {{ at = [{n * 100}, 50, 0] }}\n"
        f"end = {{ at = [{n * 100}, 50, 300] }}\n" for n in (8, 9))
    cuts = job(parse_job(rail(SEVEN, other))).result.cut_list
    titles = set(batch_titles(cuts.alike).values())
    assert {"7 x post", "2 x post"} <= titles
    same = other.replace("300", "310").replace("post-8", "post-80").replace("post-9", "post-90")
    cuts = job(parse_job(rail(SEVEN, other + same))).result.cut_list
    titles = batch_titles(cuts.alike)
    assert len(set(titles.values())) == len(titles) and "post-8 and 1 alike" in titles.values()


def test_tapered_pieces_with_other_names_are_one_blank_with_a_count():
    stays = "".join(
        f"[tubes.stay-{n}]\nshape = '22 to 14 over 400 x 0.8'\n"
        f"start = {{ at = [{300 * n}, 0, 100], on = ['low'] }}\n"
        f"end = {{ at = [{300 * n}, 380, 100] }}\n" for n in (1, 2, 3))
    answer = job(parse_job(rail([], stays)))
    blank, = answer.result.cut_list.tapered
    assert blank.count == 3 and blank.label == "stay-1, stay-2, stay-3"
    record, = answer.record()["cut_list"]["tapered"]
    assert record["others"] == ["stay-2", "stay-3"]
    assert any("3 to 5 3 x stay " in page for page in printed(answer.pages(lambda _: None)))


def test_the_commands_on_the_logs_name_tubes_that_the_job_has():
    """Of a batch the first one, by its own name and side: sheets call it 2 x stake."""
    trailer = read_job(TRAILER)
    words = " ".join(printed(job(trailer).pages(lambda _: None)))
    named = re.findall(r"coper regrind dipper\.toml (\S+) (?:(left|right) )?(start|end) --gaps",
                       words)
    assert ("stake", "left", "start") in named and ("hoop", "", "end") in named
    assert len(named) == words.count("coper regrind dipper.toml ") == 9
    for tube, side, which in named:
        assert find_end(trailer, tube, side or None, which)
