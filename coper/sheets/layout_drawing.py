r"""The frame drawn on the table: to scale on one page, or at full size to glue down.

::

        marks of axes, along the far line
      +-----------------------------------+
      |       \   o mark                  |  marks of axes, from the front edge
      |  o-----\--                        |
      =====================================  front edge
        ordinates of marks, and marks of axes, from the left end
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import lru_cache

import numpy as np

from coper.arrays import Floats
from coper.bench.layout.axis_marks import AxisMarks
from coper.bench.layout.circles import Circle
from coper.bench.layout.layout import Layout
from coper.bench.layout.lying import centreline, seen_outline
from coper.drawing.bounds import Bounds, bounds, leaves
from coper.drawing.changes import clipped, moved
from coper.drawing.letters import wrap_text
from coper.drawing.marks import (
    CENTRE,
    CUT,
    FINE,
    GAP_MM,
    LINE,
    NOTE_HEIGHT,
    PLAIN_HEIGHT,
    THIN,
    Group,
    Mark,
    Path,
    Text,
)
from coper.frame.piece import Piece
from coper.pages.gapped import gapped
from coper.pages.ink import Ink, ink_of
from coper.pages.labels import PointLabels
from coper.pages.paper import content_size, is_roll
from coper.pages.scale_bar import FULL, scale_bar
from coper.pages.text import set_lines
from coper.sheets.layout_sides import Drawing, across_table, all_shown, beside
from coper.telling.words.layout import lies_lines
from coper.units import format_number, in_inches, plain

SCALES = (1, 2, 4, 5, 8, 10, 12, 15, 16, 20, 25, 50, 100, 200, 500, 1000, 2000)
"""Mm on the table to a mm on paper: steps that a rule can follow."""

ROLL_PAPER = "a3"
"""On a roll a drawing to scale is made as large as on this."""

CROSS_MM = 2.0
"""Half of the cross on a mark."""

TICK_MM = 1.5
"""Half of the tick where an axis crosses a line."""

CIRCLE_STEPS = 720
"""Chords of a wheel: of one of 350 mm they leave the circle by 0.003 mm."""

WHEEL_LABEL_DEG = (60.0, 120.0, 90.0, 30.0, 150.0, 0.0, 180.0, 270.0)
"""Where round a wheel its label is hung, the first that lies on the table."""

SAME_LINE_MM = 0.02
"""A tube stands on an axis whose line it is nearer to: marks of axes are rounded to 0.01 mm."""

WORDS_WIDE_MM = 100.0
"""The lines of words below the drawing are as long as it is wide, but not shorter than this."""

TUBE, SPOT = "tube ", "spot-"
"""What the group of a tube's lines begins with, and that of a mark's cross."""

FULL_WORDS_MM = 150.0
"""At full size they are no longer than this: they fit one page."""


def fitted_layout(
    layout: Layout, paper: str, printer: tuple[float, float] = (100.0, 100.0)
) -> tuple[Mark, ...]:
    """The drawing at the largest round scale at which it stands on one page, upright."""
    return layout_marks(layout, *fitted_scale(layout, paper, printer))


def fitted_scale(
    layout: Layout, paper: str, printer: tuple[float, float] = (100.0, 100.0)
) -> tuple[float, bool]:
    """That scale, and whether the names of its numbers find room below it."""
    size = _page_size(paper, printer)
    table = layout.table
    scales = [scale for scale in SCALES if _fits(table.width / scale, table.depth / scale, size)]
    for scale in scales:
        drawing = Drawing(layout, scale)
        beside_it = _around(drawing)
        for key in (True, False):
            box = bounds(_with_words(beside_it, drawing, key))
            if _fits(box.width, box.height, size):
                return scale, key
    return SCALES[-1], False


def _page_size(paper: str, printer: tuple[float, float]) -> tuple[float, float]:
    """What one page has for a drawing to scale, mm."""
    size, usual = content_size(paper, printer), content_size(ROLL_PAPER, printer) or (0.0, 0.0)
    if not is_roll(paper):
        return size or usual
    return usual if size is None else (min(size[0], usual[0]), usual[1])


def _fits(width: float, height: float, size: tuple[float, float]) -> bool:
    """Whether a drawing stands on a page upright; mm."""
    return width <= size[0] and height <= size[1]


def layout_marks(layout: Layout, scale: float = FULL, key: bool = True) -> tuple[Mark, ...]:
    """The drawing, a mm on paper for ``scale`` mm on the table; its corner is the origin.

    Drawn smaller, it holds numbers; ``key`` has their names stand below it.
    """
    drawing = Drawing(layout, scale)
    wheels = tuple(_wheels(drawing))
    tubes, axes = tuple(_tubes(drawing)), tuple(_axis_lines(drawing))
    spots = tuple(_crosses(drawing))
    lines = [mark.points for mark in leaves((*wheels, *tubes, *axes)) if isinstance(mark, Path)]
    labels = tuple(_labels(drawing, ink_of(lines, np.zeros(2), drawing.size)))
    lines_and_words = gapped((
        *_round_about(drawing, key), Group(wheels, "wheels"), Group(tubes, "tubes"),
        Group(axes, "axes"), Group(labels, "labels")))
    return (*lines_and_words, Group(spots, "marks"))


def _round_about(drawing: Drawing, key: bool) -> tuple[Mark, ...]:
    """The four lines, what stands beside them and below: nothing of the drawing is outside."""
    return _with_words(_around(drawing), drawing, key)


def _around(drawing: Drawing) -> tuple[Group, Group]:
    """The four lines, and what stands beside them."""
    sides = tuple(beside(drawing))
    return Group(tuple(_border(drawing)), "table"), Group(sides, "ordinates")


def _with_words(around: tuple[Group, Group], drawing: Drawing, key: bool) -> tuple[Mark, ...]:
    """Those with the title above and the words below."""
    box = bounds(around)
    return (*around, _title(box, drawing.scale), Group(_foot(box, drawing, key), "scale"))


def _title(box: Bounds, scale: float) -> Text:
    """What the drawing is, above all else."""
    at = "at full size" if scale == FULL else f"scale 1:{plain(scale)}"
    return Text((box.left, box.top + 2 * PLAIN_HEIGHT),
                f"The frame on the table, seen from above, {at}", PLAIN_HEIGHT, bold=True,
                name="title")


def _border(drawing: Drawing) -> Iterator[Path]:
    """The front edge and the left end heavy, the two lines across from them thin."""
    width, depth = drawing.size
    for ends, pen, name in (
        (((0, 0), (width, 0)), CUT, "front-edge"), (((0, 0), (0, depth)), CUT, "left-end"),
        (((0, depth), (width, depth)), THIN, "far-line"),
        (((width, 0), (width, depth)), THIN, "right-line"),
    ):
        yield Path(np.array(ends), pen, name=name)


def _wheels(drawing: Drawing) -> Iterator[Path]:
    turn = np.linspace(0.0, 2 * np.pi, CIRCLE_STEPS + 1)
    ring = np.stack((np.cos(turn), np.sin(turn)), axis=-1)
    for wheel in drawing.layout.rims:
        circle = Path(drawing.on_paper(np.array(wheel.at) + wheel.radius * ring), THIN,
                      name=f"wheel-{wheel.name}")
        yield from _on_table(drawing, circle)


def _on_table(drawing: Drawing, path: Path) -> Iterator[Path]:
    """What of a path lies on the drawn part of the table."""
    width, depth = drawing.size
    for mark in clipped((path,), Bounds(0.0, 0.0, width, depth)):
        if isinstance(mark, Path):
            yield mark


def _tubes(drawing: Drawing) -> Iterator[Group]:
    """Outlines, and the centrelines of bent tubes; of twins above each other the upper one."""
    layout = drawing.layout
    for piece in layout.subject.pieces:
        if piece.tube.side == "right" and not layout.table.flat:
            continue
        lines = [Path(drawing.on_paper(stroke), FINE)
                 for stroke in seen_outline(piece, layout.table)]
        if piece.tube.is_bent:
            lines.append(Path(drawing.on_paper(centreline(piece, layout.table)), CENTRE))
        yield Group(tuple(lines), TUBE + piece.label)


def _axis_lines(drawing: Drawing) -> Iterator[Path]:
    """Every axis from mark to mark, and a tick across the line at each."""
    for axis in drawing.layout.axes:
        ends = drawing.on_paper(np.array([mark.at for mark in axis.marks]))
        yield Path(ends, CENTRE, name=f"axis-{axis.names[0]}")
        for mark, at in zip(axis.marks, ends, strict=True):
            across = np.array((0.0, TICK_MM) if across_table(mark.line) else (TICK_MM, 0.0))
            yield Path(np.stack((at - across, at + across)), LINE)


def _crosses(drawing: Drawing) -> Iterator[Mark]:
    for spot in drawing.layout.spots:
        at = drawing.on_paper(np.array(spot.at))
        yield Group(tuple(
            Path(np.stack((at - across, at + across)), LINE, name=f"mark-{spot.number}")
            for across in np.array(((CROSS_MM, 0.0), (0.0, CROSS_MM)))), f"{SPOT}{spot.number}")


def _labels(drawing: Drawing, ink: Ink) -> Iterator[Mark]:
    """The names of marks, tubes and wheels, clear of each other."""
    inset = np.full(2, TICK_MM)
    labels = PointLabels(inset, drawing.size - inset, ink)
    spots = [drawing.on_paper(np.array(spot.at)) for spot in drawing.layout.spots]
    for at in spots:
        labels.keep_clear(at, CROSS_MM)
    for spot, at in zip(drawing.layout.spots, spots, strict=True):
        yield from labels.place(at, _choices(drawing, spot.label, str(spot.number)))
    for name, key, at in _line_middles(drawing):
        yield from labels.place(at, _choices(drawing, name, key))
    for wheel in drawing.layout.rims:
        hung = _wheel_place(drawing, wheel)
        if hung is not None:
            short = f"{wheel.name} wheel"
            yield from labels.place(hung, (f"{short}, radius {format_number(wheel.radius)}", short))


def _choices(drawing: Drawing, name: str, key: str) -> tuple[str, ...]:
    """What a label may say: drawn smaller, there is room for the key only."""
    return (name, key) if drawing.scale == FULL else (key,)


def _line_middles(drawing: Drawing) -> Iterator[tuple[str, str, Floats]]:
    """What a line is called, in full and short, and where (2,) on paper that hangs, mm.

    It is the middle of its tube, or of the axis itself where no tube stands on it.
    """
    layout = drawing.layout
    chords = [(tube, centreline(piece, layout.table)[[0, -1]])
              for piece, tube in zip(layout.subject.pieces, layout.tubes, strict=True)
              if tube.angle is not None]
    straight = [chord for tube, chord in chords if not tube.bent]
    for axis in layout.axes:
        marks = np.array([mark.at for mark in axis.marks])
        on_it = next((chord for chord in straight if _lies_on(chord, marks)), marks)
        yield _axis_name(layout, axis), axis.key, drawing.on_paper(on_it.mean(axis=0))
    for tube, chord in chords:
        if tube.bent:
            yield tube.name, tube.name, drawing.on_paper(chord.mean(axis=0))


def _lies_on(chord: Floats, line: Floats) -> bool:
    """Whether both ends of a chord (2, 2) lie on the line through two points (2, 2), mm."""
    way = (line[1] - line[0]) / np.hypot(*(line[1] - line[0]))
    off = (chord - line[0]) @ np.array((-way[1], way[0]))
    return bool(np.abs(off).max() < SAME_LINE_MM)


def _axis_name(layout: Layout, axis: AxisMarks) -> str:
    """Its key and what lies on it, twins above each other once."""
    twins = {} if layout.table.flat else _tube_names(layout.subject.pieces)
    names = (twins.get(name, name) for name in axis.names)
    return f"{axis.key} {', '.join(dict.fromkeys(names))}"


@lru_cache(maxsize=4)  # asked for by every axis, at every scale that is tried
def _tube_names(pieces: tuple[Piece, ...]) -> Mapping[str, str]:
    """The tube's name by that of each of its sides."""
    return {piece.label: piece.tube.name for piece in pieces}


def _wheel_place(drawing: Drawing, wheel: Circle) -> Floats | None:
    """A place (2,) on a wheel's circle that lies on the table, mm on paper, if any does."""
    for turn in np.radians(WHEEL_LABEL_DEG):
        way = np.array((np.cos(turn), np.sin(turn)))
        at = drawing.on_paper(np.array(wheel.at) + wheel.radius * way)
        if (at > 0).all() and (at < drawing.size).all():
            return at
    return None


def _foot(box: Bounds, drawing: Drawing, key: bool) -> tuple[Mark, ...]:
    """The words below the drawing: its scale, and how the frame lies."""
    words = (f"{' '.join(lies_lines(drawing.layout))} Distances are "
             f"{'inches' if in_inches() else 'mm'} on the table; A1 and so on are axes.")
    if not all_shown(drawing):
        words += " The tables have what found no room beside a line."
    left, top = box.left, box.bottom - 2 * PLAIN_HEIGHT
    wide = max(box.right - left, WORDS_WIDE_MM)
    if drawing.scale == FULL:
        wide = min(wide, FULL_WORDS_MM)
    elif not key:
        words += " The tables say which point each number is."
    lines = wrap_text(words, wide, NOTE_HEIGHT)
    if drawing.scale != FULL and key:
        lines += _key_lines(drawing, wide)
    bar = moved(scale_bar(drawing.scale), left, top)
    return (*bar, *set_lines(lines, left, bounds(bar).bottom - GAP_MM))


def _key_lines(drawing: Drawing, wide: float) -> list[str]:
    """The names of marks and axes, in lines ``wide`` mm long."""
    layout = drawing.layout
    key = [f"Marks: {'; '.join(spot.label for spot in layout.spots)}."]
    if layout.axes:
        names = (_axis_name(layout, axis) for axis in layout.axes)
        key.append(f"Axes: {'; '.join(names)}.")
    return [line for words in key for line in wrap_text(words, wide, NOTE_HEIGHT)]
