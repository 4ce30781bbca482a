"""Whether everything on a card or a log has its place."""

import numpy as np

from coper.paper.marks import Path, Text
from coper.paper.visit import bounds, leaves, text_corners
from tests.cli.test_sheets import apart

LONG = "a name that nobody would ever think of giving to any part of a frame at all " * 2


def texts(marks):
    return [mark for mark in leaves(marks) if isinstance(mark, Text)]


def paths(marks, name):
    return [mark for mark in leaves(marks) if isinstance(mark, Path) and mark.name == name]


def path(marks, name):
    return paths(marks, name)[0].points


def check_room(marks, frame):
    """No two texts overlap, and everything lies inside the frame."""
    said = texts(marks)
    boxes = [text_corners(text) for text in said]
    for index, one in enumerate(boxes):
        for other in range(index + 1, len(boxes)):
            assert apart(one, boxes[other]), f"{said[index].words!r}, {said[other].words!r}"
    low, high = frame.min(axis=0), frame.max(axis=0)
    box = bounds(marks)
    np.testing.assert_allclose((box.left, box.bottom, box.right, box.top), (*low, *high))
