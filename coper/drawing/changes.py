"""Changes made to marks: moved, scaled, turned, cut at a box."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace

import numpy as np

from coper.arrays import Floats
from coper.drawing.bounds import Bounds, Leaf, text_corners
from coper.drawing.clip import cut_area, cut_line, cut_strokes
from coper.drawing.hatch import hatch_strokes
from coper.drawing.marks import Group, Hatch, Mark, Path, Text


def each(marks: Iterable[Mark], change: Callable[[Leaf], Iterable[Leaf]]) -> tuple[Mark, ...]:
    """The marks with every one that is no group changed into others; empty groups go."""
    changed: list[Mark] = []
    for mark in marks:
        if isinstance(mark, Group):
            inner = each(mark.marks, change)
            if inner:
                changed.append(Group(inner, mark.name))
        else:
            changed.extend(change(mark))
    return tuple(changed)


def moved(marks: Iterable[Mark], dx: float, dy: float) -> tuple[Mark, ...]:
    """The marks, ``dx`` mm further right and ``dy`` mm further up."""
    shift = np.array((dx, dy))

    def change(mark: Leaf) -> tuple[Leaf]:
        match mark:
            case Path():
                return (_with_points(mark, mark.points + shift),)
            case Text():
                return (Text((mark.at[0] + dx, mark.at[1] + dy), mark.words, mark.height,
                             mark.anchor, mark.turn, mark.bold, mark.name),)
            case Hatch():
                return (replace(mark, outline=tuple(ring + shift for ring in mark.outline)),)

    return each(marks, change)


def scaled(marks: Iterable[Mark], sx: float, sy: float) -> tuple[Mark, ...]:
    """The marks, ``sx`` and ``sy`` times as large from the origin.

    Meant for factors near 1: a text keeps its proportions and takes the smaller factor, so that it
    does not outgrow its place, and pens keep their widths.
    """
    if sx == sy == 1.0:
        return tuple(marks)
    factor = np.array((sx, sy))

    def change(mark: Leaf) -> tuple[Leaf]:
        match mark:
            case Path():
                return (_with_points(mark, mark.points * factor),)
            case Text():
                at = (mark.at[0] * sx, mark.at[1] * sy)
                return (replace(mark, at=at, height=mark.height * min(sx, sy)),)
            case Hatch():
                return (replace(mark, outline=tuple(ring * factor for ring in mark.outline)),)

    return each(marks, change)


def turned90(marks: Iterable[Mark]) -> tuple[Mark, ...]:
    """The marks, a quarter turn counter-clockwise about the origin."""

    def change(mark: Leaf) -> tuple[Leaf]:
        match mark:
            case Path():
                return (_with_points(mark, _quarter(mark.points)),)
            case Text():
                return (replace(mark, at=(-mark.at[1], mark.at[0]), turn=mark.turn + 90.0),)
            case Hatch():
                rings = tuple(_quarter(ring) for ring in mark.outline)
                return (replace(mark, outline=rings, slope=mark.slope + 90.0),)

    return each(marks, change)


def _with_points(path: Path, points: Floats) -> Path:
    """The path through other points (n, 2), mm: a page has hundreds, and ``replace`` is slow."""
    return Path(points, path.pen, path.closed, path.fill, path.name)


def _quarter(points: Floats) -> Floats:
    """Points (n, 2) in mm, a quarter turn counter-clockwise about the origin."""
    return np.stack((-points[:, 1], points[:, 0]), axis=-1)


def clipped(marks: Iterable[Mark], box: Bounds) -> tuple[Mark, ...]:
    """What of the marks lies in a box.

    A line is cut into pieces that all keep its name, a filled area is cut as an area, and a hatch
    becomes its strokes. A text is never cut: it stays if the box holds it wholly, else it goes.
    """
    low, high = np.array((box.left, box.bottom)), np.array((box.right, box.top))

    def change(mark: Leaf) -> list[Leaf]:
        match mark:
            case Path():
                return list(_clipped_path(mark, low, high))
            case Text():
                corners = text_corners(mark)
                extent = Bounds(*corners.min(axis=0).tolist(), *corners.max(axis=0).tolist())
                return [mark] if box.holds(extent) else []
            case Hatch():
                strokes = cut_strokes(hatch_strokes(mark), low, high)
                return [Path(stroke, mark.pen) for stroke in strokes]

    return each(marks, change)


def _clipped_path(path: Path, low: Floats, high: Floats) -> Iterator[Path]:
    """The pieces of a path in the box between two corner points (2,), mm."""
    if ((path.points >= low) & (path.points <= high)).all():
        yield path
    elif path.fill:
        area = cut_area(path.points, low, high)
        if len(area) > 2:
            yield replace(path, points=area, closed=True)
    else:
        points = np.concatenate((path.points, path.points[:1])) if path.closed else path.points
        for piece in cut_line(points, low, high):
            yield replace(path, points=piece, closed=False)
