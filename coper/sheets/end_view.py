"""A shaped end as it is cut, seen from any side; its main thin where it seats.

Groups are ``body``, ``edge``, ``main``, ``heel``, ``toe``, ``clock-0``, …, and ``open-1``, … of
the stretches where it meets nothing.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from coper.arrays import Floats, Whole
from coper.drawing.bounds import Bounds
from coper.drawing.changes import clipped, moved
from coper.drawing.marks import CUT, FINE, HIDDEN, LINE, NOTE_HEIGHT, Group, Mark, Path, Pen, Text
from coper.drawing.page import Page
from coper.frame.end import TubeEnd
from coper.frame.end_joint import EndJoint
from coper.frame.end_skin import EndSkin, end_skin
from coper.frame.outline import Shell, shell, shell_strokes
from coper.frame.piece import Piece
from coper.frame.view import View, view_turned
from coper.joint.sides import clock_words, side_names
from coper.pages.gapped import gapped
from coper.pages.ink import ink_of
from coper.pages.labels import PointLabels
from coper.sheets.frame_view import Look

WIDE_MM: Final = 100.0
"""Width and height of the picture."""

EDGE_MM: Final = 9.0
"""Round the end, for words that stand beside it."""

ROOM: Final = 1.15
"""The picture's room in that of the tube's end: for the main, which is cut at its border."""

MAIN_ROUND: Final = 1.0
"""How much of a main is drawn either way of the joint, in widths of the larger of the two."""

MOUTH: Final = 0.8
"""Words keep out of the tube's mouth: of a square of this share of its width."""

TICK: Final = 0.3
"""Length of the line at a clock that is said, in widths of the tube."""

FURTHEST_MM: Final = 17.0
"""Words that find no room within this of their place are left out."""

OPEN: Final = Pen(0.5, (1.0, 1.0))
"""Where there is nothing to cut to."""

OPEN_STEPS: Final = 31

GONE: Final = 2
"""A place of an edge that is neither seen nor hidden: it is open there."""

QUARTERS: Final = (0.0, 90.0, 180.0, 270.0)

FIRST: Final = Look(0.0, 75.0)
"""How an end is looked at first: into its mouth, the heel up."""

Flags = NDArray[np.bool_]


@dataclass(frozen=True, slots=True)
class Said:
    """A clock that is said in the picture: the name of its group, its clock, its words."""

    name: str
    clock: float
    words: str


@dataclass(frozen=True, slots=True, eq=False)
class EndStage:
    """A shaped end made ready to be seen from any side.

    Attributes
    ----------
    skin : EndSkin
    mains : tuple of Shell
    said : tuple of Said
    open : tuple of (from, to), degrees
        As the tube counts.
    axes : (3, 3) float
        To the right, to the back, and up as it is looked at first, upright: the heel is at the
        back, and the way out of the tube is up.
    wide : float, mm
        About how wide the tube is.
    centre : (3,) float, mm
    reach : float, mm
        How far anything is from the centre.
    """

    skin: EndSkin
    mains: tuple[Shell, ...]
    said: tuple[Said, ...]
    open: tuple[tuple[float, float], ...]
    axes: Floats
    wide: float
    centre: Floats
    reach: float

    @property
    def scale(self) -> float:
        """Millimetres of paper to one of the end."""
        return (WIDE_MM / 2 - EDGE_MM) / self.reach

    def view(self, look: Look) -> View:
        """What is right and up on paper, in the frame's axes."""
        turned = view_turned(look.round, look.up)
        return View(turned.right @ self.axes, turned.up @ self.axes)

    def looks(self) -> tuple[tuple[str, Look], ...]:
        """The sides that have a name."""
        heel = self.said[0].name
        return ((f"into the end: {heel} ↑", FIRST),
                (f"straight into it: {heel} ↑", Look(0.0, 90.0)),
                (f"over the {heel}: {heel} ↓", Look(180.0, 45.0)),
                (f"from the side: ← {heel}", Look(90.0, 0.0)),
                (f"from the other side: {heel} →", Look(-90.0, 0.0)))


def end_stage(piece: Piece, end: TubeEnd, joint: EndJoint, mains: Sequence[Piece]) -> EndStage:
    """The stage of an end that is coped, on the pieces that it seats on."""
    skin = end_skin(piece, end.which, end.cope_cut)
    out = -skin.pose.axes[2]
    heel = np.full(1, joint.counted(joint.heel_clock))
    ray = skin.behind_edge(heel, np.zeros(1))[0, :2]
    back = ray / np.linalg.norm(ray) @ skin.pose.axes[:2]
    body = np.concatenate([one.sections.reshape(-1, 3) for one in skin.stretches])
    inner = skin.pose.outward(skin.inner)
    every = np.concatenate((body, inner))
    flat = (every - skin.pose.origin) @ out
    centre = skin.pose.origin + out * (flat.min() + flat.max()) / 2
    wide = skin.tube.seen_from(skin.which)[0].girth() / np.pi
    shells = tuple(_main_shell(skin, one, wide) for one in mains)
    reach = ROOM * float(np.linalg.norm(every - centre, axis=-1).max())
    return EndStage(skin, shells, tuple(_said(joint)), end.open,
                    np.stack((np.cross(back, out), back, out)), wide, centre, reach)


def _main_shell(skin: EndSkin, main: Piece, wide: float) -> Shell:
    """A main near the end."""
    at = float(main.tube.station(skin.pose.outward(skin.outer).mean(axis=0)))
    reach = MAIN_ROUND * max(wide, main.tube.as_main.across or 0.0)
    return shell(main, at - reach, at + reach)


def _said(joint: EndJoint) -> Iterator[Said]:
    """The heel and the toe, or what stands in their place; then clock 0 and the other quarters."""
    names = side_names(joint)
    taken = []
    for quarters in (0, 2):
        own = joint.side_clock(quarters)
        clock = float(joint.counted(own))
        taken.append(clock_words(clock))
        yield Said(names[own], clock, f"{clock_words(clock)} ({names[own]})")
    for clock in QUARTERS:
        if clock_words(clock) not in taken:
            words = clock_words(clock)
            yield Said(f"clock-{words}", clock, words if clock else f"clock {words}")


def end_view_page(stage: EndStage, look: Look) -> Page:
    """The view as a page of its own size."""
    seen, middle = _Seen(stage, stage.view(look)), np.full(2, WIDE_MM / 2)
    lines = [Group(tuple(_mains(seen)), "main"), Group(tuple(_body(seen)), "body"),
             Group(tuple(_edges(seen)), "edge")]
    labels = PointLabels(-middle, middle, ink_of(
        [path.points for group in lines for path in group.marks if isinstance(path, Path)],
        -middle, middle), furthest=FURTHEST_MM)
    seen.keep_mouth(labels)
    heading = [Text((-WIDE_MM / 2, WIDE_MM / 2 - 2 * NOTE_HEIGHT), words, NOTE_HEIGHT, name="seen")
               for words, one in stage.looks() if one == look]
    words = [*_opens(seen, labels), *_clocks(seen, labels)]
    box = Bounds(*-middle, *middle)
    marks = clipped([*lines, *words, *heading], box)
    return Page("A", WIDE_MM, WIDE_MM, moved(gapped(marks), *middle))


@dataclass(frozen=True, slots=True, eq=False)
class _Seen:
    """A stage from where one looks."""

    stage: EndStage
    view: View

    def points(self, points: Floats) -> Floats:
        """Points (..., 3) of the end's own frame as (..., 2) on paper."""
        return self.stroke(self.view.seen(self.stage.skin.pose.outward(points)))

    def stroke(self, points: Floats) -> Floats:
        """Points (..., 2) of a stroke on paper."""
        shifted: Floats = (points - self.view.seen(self.stage.centre)) * self.stage.scale
        return shifted

    def keep_mouth(self, labels: PointLabels) -> None:
        """Let no words stand in the mouth, as far as one looks into it."""
        skin = self.stage.skin
        depth = abs(float(self.view.towards @ skin.pose.axes[2]))
        labels.keep_clear(self.points(skin.outer).mean(axis=0),
                          MOUTH / 2 * self.stage.wide * self.stage.scale * depth)

    def hidden(self, points: Floats) -> Flags:
        """Whether (n,) the wall hides points (n, 3) of the end's own frame."""
        return self.stage.skin.hidden(points, self.view.towards)


def _mains(seen: _Seen) -> Iterator[Mark]:
    for main in seen.stage.mains:
        for stroke in shell_strokes(main, seen.view):
            yield Path(seen.stroke(stroke.points), FINE)


def _body(seen: _Seen) -> Iterator[Mark]:
    for stroke in shell_strokes(Shell(seen.stage.skin.stretches, (), None, False), seen.view):
        yield Path(seen.stroke(stroke.points), LINE)


def _edges(seen: _Seen) -> Iterator[Mark]:
    """The edge to cut, dashed where it is hidden and left out where it is open; and the bore's."""
    skin = seen.stage.skin
    outer, bore = seen.points(skin.outer), seen.points(skin.inner)
    state = np.where(skin.open, GONE, seen.hidden(skin.outer))
    for part, how in _runs(state):
        if how != GONE:
            yield Path(outer[part], HIDDEN if how else CUT)
    for part, how in _runs(seen.hidden(skin.inner).astype(np.int64)):
        if not how:
            yield Path(bore[part], LINE)


def _runs(state: Whole) -> Iterator[tuple[Whole, int]]:
    """The stretches of neighbours (k,) that are alike, each as far as the next, and their state."""
    turns = np.flatnonzero(state[1:] != state[:-1]) + 1
    for part in np.split(np.arange(state.size), turns):
        reach = np.arange(part[0], min(part[-1] + 2, state.size))
        if reach.size > 1:
            yield reach, int(state[part[0]])


def _opens(seen: _Seen, labels: PointLabels) -> Iterator[Mark]:
    """The stretches where the end meets nothing, with their clocks."""
    for number, (start, stop) in enumerate(seen.stage.open, 1):
        clocks = start + np.linspace(0.0, (stop - start) % 360, OPEN_STEPS)
        line = seen.points(seen.stage.skin.behind_edge(clocks, np.zeros(OPEN_STEPS)))
        words = f"open {clock_words(start)} to {clock_words(stop)}"
        yield Group((Path(line, OPEN), *labels.place(line[OPEN_STEPS // 2], (words,))),
                    f"open-{number}")


def _clocks(seen: _Seen, labels: PointLabels) -> Iterator[Mark]:
    """A line along the skin at each clock that is said, dashed where it is hidden."""
    skin = seen.stage.skin
    tick = np.array((0.0, 0.5, 1.0)) * TICK * seen.stage.wide
    for one in seen.stage.said:
        points = skin.behind_edge(np.full(3, one.clock), tick)
        line, hidden = seen.points(points), bool(seen.hidden(points[1:2])[0])
        yield Group((Path(line[[0, 2]], HIDDEN if hidden else LINE),
                     *labels.place(line[0], (one.words,))), one.name)
