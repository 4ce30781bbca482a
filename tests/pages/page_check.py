"""What is wrong on a page: words on words, words on lines, words over an edge, too small.

It reads a page's marks by geometry of its own: a word is its rectangle of capitals, a line its
segments, and a segment that comes into the rectangle is under the word.
"""

import math

import numpy as np

from coper.drawing.hatch import hatch_strokes
from coper.drawing.letters import text_width
from coper.drawing.marks import Group, Hatch, Path, Text

CLEAR_MM = 0.1
"""Ink of a line that is nearer than this to a letter's rectangle runs into it."""

SMALLEST_MM = 2.5
"""Height of a capital: ISO 3098-1's smallest for paper that is read at the bench."""

EDGE_MM = 5.0
"""Printers leave so much of a sheet white (common practice, no source)."""


def leaves(marks):
    for mark in marks:
        if isinstance(mark, Group):
            yield from leaves(mark.marks)
        else:
            yield mark


def rectangle(text):
    """Origin (2,), the way along and the way up (2, 2), width and height of its capitals, mm."""
    turn = math.radians(text.turn)
    along, up = np.array((math.cos(turn), math.sin(turn))), np.array(
        (-math.sin(turn), math.cos(turn)))
    width = text_width(text.words, text.height, text.bold)
    start = np.array(text.at) - {"left": 0, "middle": 0.5, "right": 1}[text.anchor] * width * along
    return start, np.stack((along, up)), width, text.height


def corners(text):
    start, axes, width, height = rectangle(text)
    return start + np.array(((0, 0), (width, 0), (width, height), (0, height))) @ axes


def segments(marks):
    """Every stroke (n, 2, 2) of the page, and which mark it is of (n,)."""
    parts, owners = [np.zeros((0, 2, 2))], [np.zeros(0, int)]
    for index, mark in enumerate(marks):
        if isinstance(mark, Path):
            points = np.concatenate((mark.points, mark.points[:1])) if mark.closed else mark.points
            strokes = np.stack((points[:-1], points[1:]), axis=1)
        elif isinstance(mark, Hatch):
            strokes = np.asarray(hatch_strokes(mark)).reshape(-1, 2, 2)
        else:
            continue
        parts.append(strokes)
        owners.append(np.full(len(strokes), index))
    return np.concatenate(parts), np.concatenate(owners)


def entering(strokes, text):
    """Which strokes come into a text's rectangle: Liang and Barsky's clipping, all at once."""
    start, axes, width, height = rectangle(text)
    local = (strokes - start) @ axes.T
    low, high = np.array((-CLEAR_MM, -CLEAR_MM)), np.array((width + CLEAR_MM, height + CLEAR_MM))
    one, way = local[:, 0], local[:, 1] - local[:, 0]
    with np.errstate(divide="ignore", invalid="ignore"):
        first, last = (low - one) / way, (high - one) / way
    level = way == 0
    outside = level & ((one < low) | (one > high))
    near = np.where(level, -np.inf, np.minimum(first, last)).max(axis=1)
    far = np.where(level, np.inf, np.maximum(first, last)).min(axis=1)
    return ~outside.any(axis=1) & (np.maximum(near, 0) < np.minimum(far, 1))


def on_each_other(one, other):
    """Whether two texts' rectangles meet: separating axes."""
    a, b = corners(one), corners(other)
    for _, axes, _, _ in (rectangle(one), rectangle(other)):
        for axis in axes:
            p, q = a @ axis, b @ axis
            if p.max() <= q.min() + 1e-6 or q.max() <= p.min() + 1e-6:
                return False
    return True


def near_pairs(texts):
    """Pairs of texts whose upright boxes meet."""
    boxes = np.array([(*corners(one).min(axis=0), *corners(one).max(axis=0)) for one in texts]
                     ).reshape(-1, 4)
    meet = ((boxes[:, None, 0] < boxes[None, :, 2]) & (boxes[None, :, 0] < boxes[:, None, 2])
            & (boxes[:, None, 1] < boxes[None, :, 3]) & (boxes[None, :, 1] < boxes[:, None, 3]))
    return [(int(i), int(j)) for i, j in np.argwhere(np.triu(meet, 1))]


def faults(page):
    """Everything that is wrong on a page, each as a kind and the words."""
    marks = list(leaves(page.marks))
    texts = [mark for mark in marks if isinstance(mark, Text)]
    strokes, owners = segments(marks)
    found = [("words on words", f"{texts[i].words} | {texts[j].words}")
             for i, j in near_pairs(texts) if on_each_other(texts[i], texts[j])]
    for text in texts:
        under = owners[entering(strokes, text)]
        found += [("words on a line", f"{text.words} | {getattr(marks[at], 'name', '') or 'hatch'}")
                  for at in sorted(set(under.tolist()))]
        spots = corners(text)
        if (spots < EDGE_MM - 0.01).any() or (
                spots > np.array((page.width, page.height)) - EDGE_MM + 0.01).any():
            found.append(("words over an edge", text.words))
        if text.height < SMALLEST_MM * 0.97:  # a printer's correction may take 3 in 100
            found.append(("small words", text.words))
    return found
