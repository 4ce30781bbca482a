"""Where lines enter a bend of any section, searched for: only of a round one it is a formula."""

from __future__ import annotations

import numpy as np

from coper.arrays import Floats
from coper.search import lowest
from coper.shapes.course import Stretch
from coper.shapes.lines import Lines
from coper.shapes.shape import MainShape
from coper.tolerances import FOLLOWED, TOUCH_MM

STEPS = 257
"""Places tried on each line: a few mm apart on a bend of bench sizes."""

HALVINGS = 60
"""The search ends below any rounding."""


def swept_entry(
    shape: MainShape, part: Stretch, lines: Lines, low: float, high: float
) -> Floats:
    """Along (...,) in mm where lines first enter between the stations ``low`` and ``high``.

    ``nan`` where they do not. Every change from outside to inside is closed in on, and places
    where a line comes near without a change are looked at more closely.
    """
    size = np.broadcast_shapes(lines.points.shape, lines.directions.shape)
    points, ways = (np.broadcast_to(part_of, size).reshape(-1, 3)
                    for part_of in (lines.points, lines.directions))
    flat = Lines(points, ways)
    grid, off = _tried(shape, part, flat)
    grid, off = _with_touches(shape, part, flat, (grid, off))
    row, column = np.nonzero((off[:, 1:] > TOUCH_MM) & (off[:, :-1] <= TOUCH_MM))
    chosen = Lines(points[row], ways[row])
    entry = _closed(shape, part, chosen, grid[row, column], grid[row, column + 1])
    station = part.straightened(chosen.at(entry))[..., 2]
    on_it = (station >= low - TOUCH_MM) & (station <= high + TOUCH_MM)
    best = np.full(len(points), -np.inf)
    np.maximum.at(best, row[on_it], entry[on_it])
    found: Floats = np.where(np.isfinite(best), best, np.nan).reshape(size[:-1])
    return found


def _off(shape: MainShape, part: Stretch, lines: Lines, along: Floats) -> Floats:
    """How far (...,) in mm lines are off the skin, negative inside, at ``along`` (...,)."""
    return shape.distance(part.straightened(lines.at(along)))


def _tried(shape: MainShape, part: Stretch, lines: Lines) -> tuple[Floats, Floats]:
    """Alongs (n, STEPS) rising, past the bend at both ends, and how far off each is, in mm."""
    middle = part.frames(np.array((part.low + part.high) / 2)).origin
    square = (lines.directions**2).sum(axis=-1)
    nearest = ((middle - lines.points) * lines.directions).sum(axis=-1) / square
    reach = (part.high - part.low) + part.radius
    share = np.linspace(-1.0, 1.0, STEPS)
    grid = nearest[:, None] + share * reach / np.sqrt(square)[:, None]
    each = Lines(lines.points[:, None], lines.directions[:, None])
    return grid, _off(shape, part, each, grid)


def _with_touches(
    shape: MainShape, part: Stretch, lines: Lines, tried: tuple[Floats, Floats]
) -> tuple[Floats, Floats]:
    """The same places, the nearest ones of lines that only graze the bend put closer to it."""
    grid, off = tried
    step = grid[:, 1:2] - grid[:, :1]
    length = step * np.linalg.norm(lines.directions, axis=-1)[:, None]
    inner = off[:, 1:-1]
    dips = (inner > 0) & (inner < length) & (inner <= off[:, :-2]) & (inner <= off[:, 2:])
    row, column = np.nonzero(dips)
    if not row.size:
        return tried
    near = Lines(lines.points[row, None], lines.directions[row, None])
    middle = grid[row, column + 1][:, None]

    def value(share: Floats) -> Floats:
        return _off(shape, part, near, middle + share * step[row])

    share, = lowest(value, np.array((-1.0, 0.0, 1.0)), FOLLOWED).first
    grid, off = grid.copy(), off.copy()
    grid[row, column + 1] = middle[:, 0] + share * step[row, 0]
    off[row, column + 1] = value(share[:, None])[:, 0]
    return grid, off


def _closed(
    shape: MainShape, part: Stretch, lines: Lines, inside: Floats, outside: Floats
) -> Floats:
    """Along (n,) in mm where each line meets the skin, between two bounds (n,): by halving."""
    for _ in range(HALVINGS):
        middle = (inside + outside) / 2
        within = _off(shape, part, lines, middle) <= 0
        inside, outside = np.where(within, middle, inside), np.where(within, outside, middle)
    return inside
