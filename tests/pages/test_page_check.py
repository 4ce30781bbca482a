"""Every page is read: no words on words, on lines or over an edge, and each strip is named."""

import shlex
from collections import Counter

import numpy as np
import pytest

import coper
from coper.cli.console import Console
from coper.cli.parser import asked_unit, read_arguments
from coper.cli.progress import Progress
from coper.drawing.letters import text_width
from coper.drawing.marks import LINE, Path, Text
from coper.drawing.page import Page
from coper.job.read import read_job
from coper.joint.steps import silent
from coper.pages.lettered import PAGED
from coper.units import lengths_in
from tests.pages.page_check import faults, leaves

EXTREME = """\
joint "box 40 by 20 corner 0.5 x 1.5" 30 --angle 45 --offset 5 --turn 30
joint "60 to 10 over 60 x 1" 80 --angle 60
joint "6 x 0.5" 38.1 --angle 8
joint "6 x 0.5" 6 --angle 90
joint "4 x 0.5" 4.2 --angle 30
joint "28.6 x 0.9" 38.1 --angle 62 --offset 3
joint "28.6 x 0.9" 25.4 --angle 60
joint "oval 30 by 17 x 0.9" 40 --angle 50 --offset -4 --turn 20
joint "oval 30 by 17 to 14 over 380 x 0.8" 40 --angle 110
joint "oval 40 by 10 x 1" 60 --angle 40 --turn 45
joint "22.2 to 14 over 390 x 0.8" 40 --angle 85 --offset 8
joint "20 to 30 over 50 x 1" 40 --angle 70
joint "12 x 1" "16 bent to 110 x 1.2" --angle 90
joint "28.6 x 1.5" "plate 6" --angle 60
joint "10 x 1" "plate 6 by 30" --angle 30
joint "100 x 2" 120 --angle 35
joint "150 x 3" 200 --angle 20
joint "48.3 x 3" 60.3 --angle 90 --cut square
joint "25.4 x 0.9" "box 40 by 40 corner 3 x 2" --angle 45 --main-turn 45
joint "25.4 x 0.9" "25.4 to 50 over 100 x 1" --angle 120 --offset 10
joint "28.6 x 0.9" 28.6 --angle 170
joint "28.6 x 0.9" 28.6 --angle 90 --seam 33 --overlap 4
joint "28.6 x 0.9" 38.1 --angle 62 --overlap 0
joint 1.125x.035 1.5 --angle 62 --units in --paper letter
joint "16 x 0.9" 38.1 --angle 30 --offset 11 --paper letter
joint "box 20 by 20 corner 0.3 x 1" "plate 5" --angle 90
joint "box 60 by 10 corner 2 x 1" 50 --angle 120 --turn 90
joint "pipe 1-1/4 sch 40" 60 --angle 60 --printer 98,102
joint "14 to 22 over 400 x 0.8" 31.8 --angle 140 --seam 10
joint "10 x 1" 60 --angle 25 --offset 20
joint "35 x 2" "60 bent to 200" --angle 75 --main-turn 30
joint demo/wagtail.toml chain-stay left start
joint demo/wagtail.toml down-tube start
joint demo/dipper.toml hoop start
saw "28.6 x 0.9" 36 --angle 62 --kit 1-3/8in,1-1/2in
saw "oval 40 by 32 x 1" 40 --angle 60
saw "28.6 x 0.9" 36 --angle 20 --depth 20
saw demo/wagtail.toml seat-stay right start
tolerance "28.6 x 0.9" 38.1 --angle 62 --process fillet-braze
tolerance "28.6 x 0.9" 38.1 --angle 62
tolerance "30 x 1" "plate 6" --angle 90
tolerance "1.25 x .095" 1-1/2 --angle 62 --units in
fit "28.6 x 0.9" 38.1 --angle 62 --cut square
regrind "28.6 x 0.9" 38.1 --angle 62 --offset 3 --gaps 0=1.1,45=0.85,90=0.1,180=0.9,270=0.95
regrind "6 x 0.5" 12 --angle 62 --gaps 0=0.2,120=0,240=0.35
regrind "22.2 to 14 over 390 x 0.8" 40 --angle 62 --gaps 0=0.6,90=0.1,135=0,180=0.5,270=0.7
layout demo/wagtail.toml --pdf x.pdf
layout demo/dipper.toml --pdf x.pdf
layout demo/dipper.toml --full-size --paper roll=36in --pdf x.pdf
tracking demo/wagtail.toml --head-diameter 36 --pdf x.pdf
bends demo/dipper.toml --pdf x.pdf""".splitlines()


def pages_of(line):
    words = shlex.split(line)
    with lengths_in(asked_unit(words)):
        arguments = read_arguments(words)
        arguments.progress = Progress(Console(None))
        return list(arguments.ask(arguments).pages(silent))


@pytest.mark.parametrize("line", EXTREME)
def test_a_page_of_an_extreme_case_is_clear(line, monkeypatch):
    monkeypatch.setattr("coper.verbs.tolerance.JOINTS", 500)  # its picture has as many words
    pages = pages_of(line)
    assert pages and [fault for page in pages for fault in faults(page)] == []


@pytest.mark.parametrize("name", ["wagtail", "dipper"])
def test_every_page_of_a_demos_packet_is_clear_and_every_strip_says_what_it_is(name):
    pages = list(coper.ask_job(read_job(f"demo/{name}.toml")).pages(silent))
    assert [(page.letter, *fault) for page in pages for fault in faults(page)] == []
    tabs, paged = Counter(), 0
    for page in pages:
        words = [mark.words for mark in leaves(page.marks)
                 if isinstance(mark, Text) and mark.name == PAGED]
        paged += len(words)
        tabs["page"] += sum(f"page {page.letter}" in one for one in words)
        tabs["out"] += sum("THIS SIDE OUT" in one for one in words)
        tabs["name"] += sum(", start" in one or ", end" in one or ", both ends" in one
                            for one in words)
        tabs["side"] += sum(" LEFT" in one or " RIGHT" in one for one in words)
        assert not any("page WW" in one for one in words)
    strips = {"wagtail": 12, "dipper": 13}[name]
    assert tabs["name"] == strips and tabs["out"] == strips and tabs["page"] == strips
    assert paged >= strips and tabs["side"] >= {"wagtail": 4, "dipper": 0}[name]


def planted(*marks):
    return Counter(kind for kind, _ in faults(Page("A", 100.0, 100.0, marks)))


def test_the_check_finds_what_is_planted():
    word = Text((20.0, 50.0), "heel", 2.5)
    assert planted(word) == {}
    wide = text_width("heel", 2.5)
    level = Path(np.array(((10.0, 51.0), (90.0, 51.0))), LINE)
    assert planted(word, level) == {"words on a line": 1}
    under = Path(np.array(((10.0, 49.5), (90.0, 49.5))), LINE)
    beside = Path(np.array(((20.0 + wide + 0.5, 0.0), (20.0 + wide + 0.5, 90.0))), LINE)
    assert planted(word, under, beside) == {}
    turned = Text((20.0 + wide / 2, 45.0), "toe and heel", 2.5, turn=90.0)
    assert planted(word, turned) == {"words on words": 1}
    aside = Text((20.0 + wide + 4, 45.0), "toe and heel", 2.5, turn=30.0)
    assert planted(word, aside) == {}
    assert planted(Text((97.0, 50.0), "heel", 2.5)) == {"words over an edge": 1}
    assert planted(Text((20.0, 50.0), "heel", 1.8)) == {"small words": 1}
