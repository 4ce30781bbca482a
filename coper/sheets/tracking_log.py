r"""A log page to fill in at the frame: where to read, what to expect, three rounds of cells.

::

    dropout []            straight edge
      left  []==================================     front ->
            [] read   ( seat tube )   ( head tube )
            []----------------------------------
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import asdict, dataclass, field

import numpy as np

from coper.arrays import Floats
from coper.bicycle.tracking.rear_end import RearEnd
from coper.bicycle.tracking.straight_edge import StraightEdge, edge_rise
from coper.bicycle.tracking.string_gaps import tangent_slope
from coper.bicycle.tracking.tracking import DROPOUT_LIMIT, Tracking, TrackingReadings, track
from coper.drawing.marks import (
    CENTRE,
    FINE,
    HIDDEN,
    LINE,
    NOTE_HEIGHT,
    PLAIN_HEIGHT,
    THIN,
    Group,
    Hatch,
    Mark,
    Path,
    Text,
)
from coper.joint.edge import even_clocks
from coper.pages.compose import Block
from coper.pages.form import form_marks
from coper.pages.text import caution_column, column
from coper.telling.words.tracking import BEADS, HEAT, TRACKING_CAUTIONS
from coper.units import format_short, in_first_unit, in_inches, plain

ALONG_MM = 130.0
"""Length of the sketch from dropout to head tube."""
ACROSS_MM = 22.0
"""Half its height, from the middle plane to a dropout's inner face."""
PAST = 0.07
"""How far edge and middle plane are drawn past both ends, as a share of the length."""
BAR_MM = 1.8
"""Height of the drawn edge, whatever its thickness."""
PLATE_MM = 5.0
"""A dropout's plate is drawn this thick where its thickness is not known."""
PLATE_LONG_MM = 8.0
TIP_MM = 1.2
"""Length of an arrow's tip."""
ROUND_STEPS = 48
APART_MM = 1.5
HATCH_MM = 0.8

LABEL_MM, SHOULD_MM, CELL_MM = 64.0, 30.0, 27.0
"""Widths of the form's columns: the first two, then a cell a round."""
ROUNDS = 3


@dataclass(frozen=True, slots=True)
class Typed:
    """How the command begins that evaluates the log.

    Attributes
    ----------
    start : str
    known : mapping of a field of ``RearEnd`` to mm
        What it knows by that: the measures of a job.
    """

    start: str = "coper tracking"
    known: Mapping[str, float] = field(default_factory=dict)


BY_OPTIONS = Typed()
"""All measures are typed."""

OPTIONS = {"thickness": "dropout_thickness"}
"""Options that are not called as their field is."""


def rear_end_log_blocks(rear: RearEnd, typed: Typed = BY_OPTIONS) -> list[Block]:
    """The log of a rear end before anything is read, with the usual edge and limit.

    Its cautions are those of heat alone: the packet's first page has those of all work.
    """
    plan, form, how, advice = tracking_log_blocks(
        track(rear, StraightEdge(), TrackingReadings(), DROPOUT_LIMIT), typed)
    return [plan, form, Block("tracking-cautions", caution_column(TRACKING_CAUTIONS)), how, advice]


def tracking_log_blocks(found: Tracking, typed: Typed = BY_OPTIONS) -> list[Block]:
    """The log: sketch, form and words; what was read already stands in the first round."""
    return [
        Block("tracking-plan", plan_marks(found), keep_upright=True),
        Block("tracking-form", _form(found), keep_upright=True),
        Block("tracking-how", column("How to read", _how(found, typed))),
        Block("tracking-advice", column("If it is out (common practice)", (*HEAT, *BEADS))),
    ]


def tracking_command(rear: RearEnd, edge: StraightEdge, typed: Typed = BY_OPTIONS) -> str:
    """The command to type with the readings; its options are what it does not know by itself."""
    sizes = {**asdict(rear), "spacer": edge.spacer, "edge": edge.thickness}
    options = "".join(
        f" --{OPTIONS.get(name, name).replace('_', '-')} {plain(in_first_unit(size))}"
        for name, size in sizes.items() if size and typed.known.get(name) != size)
    units = " --units in" if in_inches() and typed is BY_OPTIONS else ""
    return f"{typed.start}{options}{units} --straight-edge LEFT,RIGHT"


def plan_marks(found: Tracking) -> tuple[Mark, ...]:
    """The frame from above, front to the right, stretched across."""
    plan = _Plan(found)
    words = Text((0.0, ACROSS_MM + plan.plate + 4 * PLAIN_HEIGHT), "Tracking: from above, "
                 "stretched across", PLAIN_HEIGHT, bold=True)
    return (words, Group(tuple(plan.frame()), "frame"), Group(tuple(plan.edges()), "edges"),
            Group(tuple(plan.string()), "string"), Group(tuple(plan.lengths()), "lengths"))


class _Plan:
    """The sketch: lengths of the frame from the dropout on, and out from the middle plane."""

    def __init__(self, found: Tracking) -> None:
        self.found, self.rear = found, found.rear
        outermost = max(found.rear.hub / 2, found.laid.on_tubes)
        self.scale = np.array((ALONG_MM / found.rear.reach, ACROSS_MM / outermost))
        self.plate = (found.rear.thickness or PLATE_MM) * float(self.scale[1])

    def place(self, points: list[tuple[float, float]]) -> Floats:
        """Points of the frame (x from the dropout, y to the left) on paper (n, 2), mm."""
        placed: Floats = np.array(points) * self.scale
        return placed

    def frame(self) -> Iterator[Mark]:
        """Middle plane, tubes, dropouts."""
        reach, rear = self.rear.reach, self.rear
        yield Path(self.place([(-PAST * reach, 0), ((1 + PAST) * reach, 0)]), CENTRE)
        yield self._tube("head-tube", reach, rear.head_radius)
        yield self._tube("seat-tube", rear.seat_to_dropout, rear.seat_radius)
        yield from self._tube_names()
        inner = rear.hub / 2 * float(self.scale[1])
        for side, way in (("left", 1), ("right", -1)):
            ring = np.array(((-1, inner), (1, inner), (1, inner + self.plate),
                             (-1, inner + self.plate))) * (PLATE_LONG_MM / 2, way)
            yield Path(ring, LINE, closed=True, name=f"dropout-{side}")
            yield Hatch((ring,), HATCH_MM)
            y = way * (inner + self.plate / 2) - NOTE_HEIGHT / 2
            yield Text((-PLATE_LONG_MM / 2 - APART_MM, y), side, NOTE_HEIGHT, "right")
        x = (1 + PAST) * ALONG_MM + APART_MM
        yield Text((x, -NOTE_HEIGHT / 2), "front", NOTE_HEIGHT)

    def _tube(self, name: str, at: float, radius: float) -> Path:
        turn = np.radians(even_clocks(ROUND_STEPS))
        ring = np.stack((at + radius * np.cos(turn), radius * np.sin(turn)), axis=-1)
        return Path(ring * self.scale, LINE, closed=True, name=name)

    def _tube_names(self) -> Iterator[Mark]:
        """Under the middle plane, behind each tube."""
        rear, y = self.rear, -APART_MM / 2 - NOTE_HEIGHT
        for name, behind in (("seat tube", rear.seat_to_dropout - rear.seat_radius),
                             ("head tube", rear.reach - rear.head_radius)):
            x = behind * float(self.scale[0]) - APART_MM
            yield Text((x, y), name, NOTE_HEIGHT, "right")

    def edges(self) -> Iterator[Mark]:
        """The straight edge on the left, and dashed on the right; what is read."""
        rear, laid = self.rear, self.found.laid
        ends = [-PAST * rear.reach, (1 + PAST) * rear.reach]
        low = self.place([(x, laid.on_tubes + edge_rise(rear) * x) for x in ends])
        ring = np.concatenate((low, low[::-1] + np.array((0.0, BAR_MM))))
        for way, pen, name in ((1, LINE, "edge-left"), (-1, HIDDEN, "edge-right")):
            yield Path(ring * (1, way), pen, closed=True, name=name)
        yield from self._blocks()
        level = max(float(low[1, 1]), 2 * NOTE_HEIGHT)  # clear of the word at the middle plane
        yield Text((float(low[1, 0]) + APART_MM, level), "straight edge", NOTE_HEIGHT)
        face = (rear.hub / 2 + laid.shift) * float(self.scale[1])
        start = laid.on_tubes * float(self.scale[1])
        start += BAR_MM if laid.face == "inner" and laid.edge.thickness else 0.0
        words = (start + face) / 2 if laid.face == "inner" else face - self.plate - NOTE_HEIGHT
        for way, name in ((1, "read left"), (-1, "read right")):
            yield from _arrow(0.0, way * start, way * face, name, way * words)

    def _blocks(self) -> Iterator[Mark]:
        """The blocks between tubes and edge, on the left."""
        rear, spacer = self.rear, self.found.laid.edge.spacer
        if not spacer:
            return
        for at, radius in ((rear.reach, rear.head_radius), (rear.seat_to_dropout,
                                                            rear.seat_radius)):
            y = np.array((radius, radius + spacer)) * self.scale[1]
            x = at * self.scale[0] + np.array((-BAR_MM, BAR_MM))
            yield Path(np.array(((x[0], y[0]), (x[1], y[0]), (x[1], y[1]), (x[0], y[1]))), THIN,
                       closed=True, name="block")

    def string(self) -> Iterator[Mark]:
        """The string on both sides, and its gaps beside the seat tube."""
        rear = self.rear
        if self.found.expected_string is None or rear.thickness is None:
            return
        outer = rear.hub / 2 + rear.thickness
        slope, at = tangent_slope(outer, rear.reach, rear.head_radius), rear.seat_to_dropout
        line = self.place([(0, outer), (rear.reach, outer - slope * rear.reach)])
        (x, beside), (_, skin) = self.place([(at, outer - slope * at), (at, rear.seat_radius)])
        for way, side in ((1, "left"), (-1, "right")):
            yield Path(line * (1, way), FINE, name=f"string-{side}")
            yield from _arrow(float(x), way * float(skin), way * float(beside), f"gap {side}",
                              way * float(skin + 2 * beside) / 3)
        ahead = (line[1] + (x, beside)) / 2
        yield Text((float(ahead[0]), float(ahead[1]) + APART_MM), "string", NOTE_HEIGHT)

    def lengths(self) -> Iterator[Mark]:
        """The two lengths along the edge, below."""
        y = -ACROSS_MM - self.plate - 2 * NOTE_HEIGHT
        seat = self.rear.seat_to_dropout * float(self.scale[0])
        for start, end, length in ((0.0, seat, self.rear.seat_to_dropout),
                                 (seat, ALONG_MM, self.rear.head_to_seat)):
            yield Path(np.array(((start, y), (end, y))), THIN)
            for x in (start, end):
                yield Path(np.array(((x, y - TIP_MM), (x, y + TIP_MM))), THIN)
            yield Text(((start + end) / 2, y - NOTE_HEIGHT - APART_MM), format_short(length),
                       NOTE_HEIGHT, "middle")


def _arrow(x: float, start: float, end: float, name: str, words: float) -> Iterator[Mark]:
    """A reading, square to the middle plane, its tip at the end, its name beside ``words``."""
    yield Path(np.array(((x, start), (x, end))), THIN, name=name.replace(" ", "-"))
    way = float(np.sign(end - start)) * TIP_MM
    tip = np.array(((x, end), (x - TIP_MM / 2, end - way), (x + TIP_MM / 2, end - way)))
    yield Path(tip, FINE, closed=True, fill=True)
    yield Text((x + 1.5 * APART_MM, words - NOTE_HEIGHT / 2), name, NOTE_HEIGHT)


def _form(found: Tracking) -> tuple[Mark, ...]:
    """Cells for three rounds of readings, beside what each should be."""
    rows = [("", "should be", *(f"round {number}" for number in range(1, ROUNDS + 1))),
            *_rows(found)]
    return (form_marks(rows, (LABEL_MM, SHOULD_MM, *(CELL_MM,) * ROUNDS)),)


def _rows(found: Tracking) -> Iterator[tuple[str, ...]]:
    """Label, what it should be, and what is known of the first round."""
    readings, laid = found.readings, found.laid
    edge = format_short(found.expected_edge)
    string = "" if found.expected_string is None else format_short(found.expected_string)
    half = "(left – right) / 2" if laid.face == "inner" else "(right – left) / 2"
    pairs = (("Edge", edge, readings.edge), ("String gap", string, readings.string),
             ("Stay", "both the same", readings.stays))
    for name, should, pair in pairs:
        if not should and pair is None:
            continue
        for side in ("left", "right"):
            known = None if pair is None else getattr(pair, side)
            yield f"{name}, {side}", should, *_first(known)
        if name == "Edge":
            yield f"Off, + to the left: {half}", format_short(0.0), *_first(
                None if found.edge is None else found.edge.off)
    yield "Between the dropouts", format_short(found.rear.hub), *_first(readings.width)
    yield ("Cold, date, by",)


def _first(value: float | None) -> tuple[str, ...]:
    return () if value is None else (format_short(value),)


def _how(found: Tracking, typed: Typed) -> tuple[str, ...]:
    """How the readings are taken, and what is typed then."""
    laid = found.laid
    blocks = (f"Put two equal blocks of {format_short(laid.edge.spacer)} on the tubes, and lay "
              "the edge on them." if laid.edge.spacer else
              "Lay the straight edge along the sides of the head tube and the seat tube.")
    far = laid.face == "inner" and laid.edge.thickness
    side = "far side" if far else f"side on the {'blocks' if laid.edge.spacer else 'tubes'}"
    lines = [
        f"Take the wheel out. {blocks} Measure from the edge's {side} to the dropout's {laid.face} "
        "face, along the axle. Then do the same on the other side.",
        "If the two readings differ by 1/8 in, the rear end is 1/16 in off." if in_inches() else
        "If the two readings differ by 2 mm, the rear end is 1 mm off.",
    ]
    if found.expected_string is not None:
        lines.append("Pull a string tight from the left dropout's outer face round the head tube "
                     "to the right one's. Measure the gap beside the middle of the seat tube, "
                     "with the rule square to the frame.")
    lines += [f"Limit {format_short(found.limit.mm)}: {found.limit.source}.",
              f"Type: {tracking_command(found.rear, laid.edge, typed)}"]
    return tuple(lines)
