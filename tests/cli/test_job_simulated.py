"""A whole job, checked from its JSON alone: tubes placed, copes traced, cards sawn and seated.

Nothing of the project's geometry is used here: every tube is an endless cone, met by lines with the
quadratic; a card is set up in space as its words say it, looking at the end with the heel line up.
"""

import json
from dataclasses import dataclass

import numpy as np
import pytest

from tests.cli.run import run

DEPTHS = 7
"""Lines through the wall at a clock."""
DENSE = np.arange(0, 360, 0.25)

TUBES = {
    "shell": ((40.0, 40.0, 1.0), 3.0, (0, -34, 0), (0, 34, 0), (), ()),
    "head": ((36.0, 36.0, 1.0), 1.1, (385, 0, 380), (345, 0, 490), (), ()),
    "seat": ((31.8, 31.8, 1.0), 0.9, (0, 0, 0), (-158, 0, 411), ("shell",), ()),
    "down": ((31.8, 31.8, 1.0), 0.9, (2, 0.5, 1), (373, -0.4, 407), ("shell", "seat"), ("head",)),
    "stay": ((19.0, 14.0, 410.0), 0.8, (-4, 22, 0), (-408, 65, 61), ("shell",), ()),
    "bridge": ((11.0, 11.0, 1.0), 0.9, (-120, 34.6, 18), (-120, -34.6, 16), ("stay",), ("stay",)),
    "strut": ((16.0, 16.0, 1.0), 1.0, (180, 1, 196), (300, 160, 90), ("down",), ()),
}
"""Diameters and the length between them, wall, start, end, and what the two ends seat on."""

SQUARE = ("bridge", "strut")
MIRRORED = ("stay",)


@dataclass
class Tube:
    """An endless cone: a point of its axis, the axis, its radius there and what a mm adds."""

    start: np.ndarray
    axis: np.ndarray
    radius: float
    slope: float = 0.0
    wall: float = 0.0
    length: float = 0.0

    def sides(self):
        """Where clock 0 and clock 90 are: +y projected square, or +z for a tube along y."""
        up = np.eye(3)[2 if abs(self.axis[1]) > np.cos(np.radians(10)) else 1]
        zero = up - self.axis * (up @ self.axis)
        zero = zero / np.linalg.norm(zero)
        return zero, np.cross(self.axis, zero)

    def outward(self, clock):
        zero, ninety = self.sides()
        angle = np.radians(np.asarray(clock))[..., None]
        return np.cos(angle) * zero + np.sin(angle) * ninety

    def lines(self, clock):
        """The generators (clocks, depths): their points at the start, and their way a mm along."""
        out = self.outward(clock)[:, None]
        inner = self.radius - np.linspace(0, self.wall, DEPTHS)[:, None]
        way = self.axis + self.slope * out
        return self.start + inner * out, np.broadcast_to(way, (*way.shape[:1], DEPTHS, 3))

    def met(self, point, way, last):
        """Where lines meet it, in steps of ``way``: the last of both places, or the first."""
        foot = point - self.start
        along, rise = foot @ self.axis, way @ self.axis
        flat, across = foot - along[..., None] * self.axis, way - rise[..., None] * self.axis
        radius = self.radius + self.slope * along
        a = (across * across).sum(-1) - (self.slope * rise) ** 2
        b = (flat * across).sum(-1) - radius * self.slope * rise
        c = (flat * flat).sum(-1) - radius**2
        with np.errstate(invalid="ignore"):
            root = np.sqrt(b * b - a * c)
        return (-b + (root if last else -root)) / a

    def away(self, points):
        foot = points - self.start
        along = foot @ self.axis
        square = np.linalg.norm(foot - along[..., None] * self.axis, axis=-1)
        return np.abs(square - self.radius - self.slope * along) / np.hypot(1, self.slope)


def placed():
    """Every tube and side."""
    found = {}
    for name, ((thick, thin, over), wall, start, end, _, _) in TUBES.items():
        for side, mirror in (("left", 1), ("right", -1)) if name in MIRRORED else (("centre", 1),):
            one, other = (np.array(point, float) * (1, mirror, 1) for point in (start, end))
            length = np.linalg.norm(other - one)
            found[name, side] = Tube(one, (other - one) / length, thick / 2,
                                     (thin - thick) / 2 / over, wall, length)
    return found


def job_text():
    saws = 'saws = ["1-1/8in", "1-1/4in", "1-3/8in", "1-1/2in", "5/8in"]'
    lines = ["[shop]", saws, "gap_limit = 0.1"]
    for name, ((thick, thin, over), wall, start, end, *seats) in TUBES.items():
        round_tube = f"{thick} x {wall}"
        tapered = f"{thick} to {thin} over {over} x {wall}"
        lines += [f"[tubes.{name}]", f'shape = "{round_tube if thick == thin else tapered}"']
        for which, point, on in zip(("start", "end"), (start, end), seats, strict=True):
            cut = ', cut = "square"' if name in SQUARE and on else ""
            seat = f", on = {json.dumps(on)}{cut}" if on else ""
            lines.append(f"{which} = {{ at = {json.dumps(point)}{seat} }}")
        lines += ["mirror = true"] if name in MIRRORED else []
    return "\n".join(lines)


@pytest.fixture(scope="module")
def record(tmp_path_factory):
    path = tmp_path_factory.mktemp("job") / "frame.toml"
    path.write_text(job_text())
    status, out, err = run("job", str(path), "--json")
    assert status == 0, err
    return {(one["name"], one["side"]): one for one in json.loads(out)["tubes"]}


ENDS = [(name, side, which) for (name, side) in placed() for which in ("start", "end")
        if TUBES[name][4 if which == "start" else 5]]


def mains(name, side, which):
    """A centre tube seats on the twin that its end is at."""
    every = placed()
    point = every[name, side].start + (which == "end") * every[name, side].axis * every[
        name, side].length
    near = "left" if point[1] > 0 else "right"
    for main in TUBES[name][4 if which == "start" else 5]:
        yield every[(main, "centre") if (main, "centre") in every else
                    (main, near if side == "centre" else side)]


def entered(tools, point, way, which):
    """How far along the lines first enter one of ``tools``, from the tube's body."""
    last = which == "start"
    away = -np.inf if last else np.inf
    found = [np.where(np.isnan(at), away, at)
             for at in (tool.met(point, way, last) for tool in tools)]
    return np.max(found, axis=0) if last else np.min(found, axis=0)


def own_cut(name, side, which, clock):
    """The end's own cut (clocks, depths), along from the start."""
    tube = placed()[name, side]
    cut = entered(list(mains(name, side, which)), *tube.lines(clock), which)
    if name not in SQUARE:
        return cut
    furthest = cut.max(1) if which == "start" else cut.min(1)
    return np.repeat(furthest[:, None], DEPTHS, axis=1)


def seated(name, side, which, clock, cut):
    """Slide, and the gap outside (clocks,), of a cut pushed along the tube's axis."""
    tube, seats = placed()[name, side], list(mains(name, side, which))
    point, way = tube.lines(clock)
    face = point + cut[..., None] * way
    off = 1 if which == "start" else -1
    room = -off * entered(seats, face, np.broadcast_to(tube.axis, face.shape), which)
    slide = -room.min()
    moved = face[:, 0] + slide * off * tube.axis
    return slide, np.min([one.away(moved) for one in seats], axis=0)


def carded(name, side, which, end):
    """The saws as the card places them: from the blank's end, looking at the end, heel up."""
    tube = placed()[name, side]
    off = 1 if which == "start" else -1
    body = off * tube.axis
    blank_end = (off * own_cut(name, side, which, DENSE)).min()
    up, saws = None, []
    for cut in end["setup"]["cuts"]:
        heel = tube.outward(cut["heel_clock"])
        if up is not None:
            # Clockwise as one looks along ``body`` is right-handed about it; the line that is up
            # afterwards stood so far back before.
            back = -np.radians(cut["turn"])
            now_up = np.cos(back) * up + np.sin(back) * np.cross(body, up)
            assert now_up == pytest.approx(heel, abs=1e-6)
        up = heel
        for one in cut["passes"]:
            lean = np.radians(abs(one["set_angle"]))
            centre = (tube.start + body * (blank_end - one["beyond_blank"])
                      + np.cross(body, heel) * one["sideways"])
            saws.append(Tube(centre, np.cos(lean) * heel + np.sin(lean) * body,
                             one["diameter"] / 2))
    return saws


@pytest.mark.parametrize(("name", "side", "which"), ENDS)
def test_every_computed_cope_is_where_lines_of_ones_own_enter_the_mains(record, name, side, which):
    end = record[name, side]["ends"][which]
    even = np.isin(end["clock"], DENSE)
    clock = np.array(end["clock"])[even]
    cut = entered(list(mains(name, side, which)), *placed()[name, side].lines(clock), which)
    np.testing.assert_allclose(np.array(end["outer"])[even], cut[:, 0], atol=1e-6)
    np.testing.assert_allclose(np.array(end["inner"])[even], cut[:, -1], atol=1e-6)


@pytest.mark.parametrize("key", [key for key in placed() if key[0] not in ("shell", "head")])
def test_every_blank_reaches_from_long_point_to_long_point_of_both_cuts(record, key):
    reaches = []
    for which, off in (("start", 1), ("end", -1)):
        plain = 0.0 if which == "start" else -placed()[key].length
        shaped = TUBES[key[0]][4 if which == "start" else 5]
        reaches.append((off * own_cut(*key, which, DENSE)).min() if shaped else plain)
    assert record[key]["blank"] == pytest.approx(-reaches[1] - reaches[0], abs=1e-3)


@pytest.mark.parametrize(("name", "side", "which"), ENDS)
def test_an_end_sawn_by_its_card_and_seated_has_the_gap_given(record, name, side, which):
    end = record[name, side]["ends"][which]
    gap = end["setup"]["gap"]
    clock = np.array([*DENSE, *gap["clock"]])
    point, way = placed()[name, side].lines(clock)
    cut = entered(carded(name, side, which, end), point, way, which)
    assert np.isfinite(cut).all()
    slide, outside = seated(name, side, which, clock, cut)
    assert gap["slide"] == pytest.approx(slide, abs=0.01)
    np.testing.assert_allclose(gap["outside"], outside[DENSE.size:], atol=0.01)
    assert gap["largest"] == pytest.approx(outside.max(), abs=0.01)


def test_the_cards_hold_several_mains_and_passes_moved_sideways(record):
    cuts = [record[name, side]["ends"][which]["setup"]["cuts"] for name, side, which in ENDS]
    assert max(map(len, cuts)) == 2
    assert max(abs(one["sideways"]) for end in cuts for cut in end for one in cut["passes"]) > 0.5
    assert {len(cut["passes"]) for end in cuts for cut in end} == {1, 2}


@pytest.mark.parametrize(("name", "side", "which"), [end for end in ENDS if end[0] in SQUARE])
def test_an_end_cut_square_and_seated_has_the_gap_given(record, name, side, which):
    gap = record[name, side]["ends"][which]["gap"]
    clock = np.array([*DENSE, *gap["clock"]])
    slide, outside = seated(name, side, which, clock, own_cut(name, side, which, clock))
    assert gap["slide"] == pytest.approx(slide, abs=1e-3)
    np.testing.assert_allclose(gap["outside"], outside[DENSE.size:], atol=1e-3)
