"""A day at the bench: ends of the demo ground badly, closed by name and through the shop book."""

import itertools
import json
from pathlib import Path

import numpy as np
import pytest

from coper.job.named_end import find_end
from coper.job.read import read_job
from coper.joint.edge import even_clocks
from coper.joint.fit.face import template_face
from coper.joint.fit.mount import Mounting
from tests.cli.run import run
from tests.joint.regrind_ends import STEP_MM, End, read, read_at
from tests.profiles import seeds, times

TOP = Path(__file__).parents[2]
LIMIT_MM = 0.3
"""Of the demo's shop: tig."""
MOST_ROUNDS = 6

BADLY_GROUND = {
    ("chain-stay", "left", "start"): (Mounting(1.4, 6.0, 0.3), ((70, 50, 0.5),)),
    ("top-tube", "end"): (Mounting(-1.2, 0.0, 0.4), ((200, 40, 0.7), (20, 60, -0.4))),
    ("seat-stay", "right", "start"): (Mounting(0.8, -9.0, 0.0), ((300, 45, 0.6),)),
}
"""What went wrong at each end: how it is mounted, and bumps and hollows of the grinder."""


@pytest.fixture
def bench(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    Path("frame.toml").write_text((TOP / "demo" / "wagtail.toml").read_text())
    return read_job("frame.toml")


def end_as_it_is(job, name):
    """The end of the job, ground as it was: clocks are those of the end itself."""
    tube, *side, which = name
    found = find_end(job, tube, side[0] if side else None, which)
    errors, bumps = BADLY_GROUND[name]
    face = template_face(found.joint.cluster(), found.end.cope_cut)
    return End(found.joint, found.end.cope_cut, (), face, errors, bumps)


def answered(name, end, pairs):
    """What ``coper regrind`` says of readings, which a person gives by the tube's own clocks."""
    typed = ",".join(f"{end.joint.counted(clock) % 360:.2f}={gap:.2f}" for clock, gap in pairs)
    status, out, err = run("regrind", "frame.toml", *name, "--gaps", typed, "--json")
    assert err == "" and status in (0, 1)
    return status, json.loads(out)


def ground(end, record):
    """The end when the metal of the answer is off, at the tube's clocks that it names."""
    metal = record["regrind"]
    own = np.array([end.joint.counted(clock) % 360 for clock in metal["clock"]])
    remove = np.array([np.nan if one is None else one for one in metal["remove"]])
    order = np.argsort(own)
    own, remove = own[order], remove[order]
    known = ~np.isnan(remove)
    clocks = even_clocks(720)
    return type(end)(**{**{key: getattr(end, key) for key in end.__dataclass_fields__}, "ground": (
        *end.ground, (clocks, np.interp(clocks, own[known], remove[known], period=360)))})


def closed(name, end, rng):
    """The end ground round by round until the limit holds; the largest gap before each round."""
    gaps = []
    for _ in range(MOST_ROUNDS):
        fit = end.fit()
        gaps.append(fit.largest)
        pairs = read(end, fit, rng)
        status, record = answered(name, end, pairs)
        if also := record["regrind"]["read_also"]:
            clocks = np.array([end.joint.counted(clock) % 360 for clock in also])
            status, record = answered(name, end, pairs + read_at(end, fit, rng, clocks))
        if status == 0:
            break
        end = ground(end, record)
    return end, gaps, status


@pytest.mark.parametrize("name", BADLY_GROUND, ids=" ".join)
@pytest.mark.parametrize("seed", seeds(1))
def test_an_end_ground_badly_is_closed_by_its_name_and_every_round_is_in_the_book(
        bench, name, seed):
    end, gaps, _ = closed(name, end_as_it_is(bench, name), np.random.default_rng(seed))
    assert gaps[0] > 0.6, "it was ground badly"
    # A reading is off by a step of the gauge one time in three, and between two of them there may
    # be one more. Whoever grinds on where a round made nothing better makes it worse again.
    assert min(*gaps, end.fit().largest) < LIMIT_MM + 3 * STEP_MM, gaps
    rounds = json.loads(run("book", "frame.toml", *name, "--json")[1])["rounds"]
    assert [one["round"] for one in rounds] == list(range(1, len(rounds) + 1))
    assert not rounds[0]["regrind"]["ok"]
    if times() == 1:  # of fresh seeds a few stay a step over: what is read is good to a step
        assert rounds[-1]["regrind"]["ok"] or rounds[-1]["regrind"]["largest"] == 0
    assert len(rounds) >= len(gaps)
    assert all(before["at"] <= after["at"] for before, after in itertools.pairwise(rounds))
