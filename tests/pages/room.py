"""Whether everything on a card, a log or a page has its place."""

import numpy as np

from coper.drawing.bounds import bounds, leaves, text_corners
from coper.drawing.marks import Path, Text

LONG = "a name that nobody would ever think of giving to any part of a frame at all " * 2


def texts(marks):
    return [mark for mark in leaves(marks) if isinstance(mark, Text)]


def paths(marks, name):
    return [mark for mark in leaves(marks) if isinstance(mark, Path) and mark.name == name]


def path(marks, name):
    return paths(marks, name)[0].points


def overlapping(marks):
    """The pairs of words that stand on each other."""
    said = texts(marks)
    boxes = [text_corners(text) for text in said]
    return [(said[one].words, said[other].words) for one, other in near(boxes)
            if not apart(boxes[one], boxes[other])]


def near(boxes):
    """Pairs whose upright bounds meet: only those can overlap."""
    corners = np.array(boxes).reshape(-1, 4, 2)
    low, high = corners.min(axis=1), corners.max(axis=1)
    meet = ((low[:, None] < high) & (low < high[:, None])).all(axis=-1)
    return np.argwhere(np.triu(meet, 1)).tolist()


def apart(one, other):
    """Whether two rectangles, however turned, are clear of each other (separating axes)."""
    for box in (one, other):
        for side in (box[1] - box[0], box[3] - box[0]):
            left, right = one @ side, other @ side
            slack = 0.05 * np.linalg.norm(side)
            if left.max() < right.min() + slack or right.max() < left.min() + slack:
                return True
    return False


def check_room(marks, frame):
    """No two texts overlap, and everything lies inside the frame."""
    assert not overlapping(marks)
    low, high = frame.min(axis=0), frame.max(axis=0)
    box = bounds(marks)
    np.testing.assert_allclose((box.left, box.bottom, box.right, box.top), (*low, *high))
