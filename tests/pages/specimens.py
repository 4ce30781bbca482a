"""Drawings to test with: every kind of mark, at angles and places that align with nothing."""

from __future__ import annotations

import numpy as np

from coper.arrays import Floats
from coper.drawing.marks import (
    CENTRE,
    CUT,
    FINE,
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


def rectangle(left: float, bottom: float, width: float, height: float) -> Floats:
    """The corners (4, 2) of a rectangle, counter-clockwise."""
    right, top = left + width, bottom + height
    return np.array(((left, bottom), (right, bottom), (right, top), (left, top)))


def circle(x: float, y: float, radius: float, count: int = 720) -> Floats:
    """Points (count, 2) on a circle."""
    turn = np.linspace(0.0, 2 * np.pi, count, endpoint=False) + 0.123
    return np.stack((x + radius * np.cos(turn), y + radius * np.sin(turn)), axis=-1)


def wave(width: float, height: float) -> Floats:
    """Points (721, 2) of a wavy line across a strip."""
    turn = np.linspace(0.0, 2 * np.pi, 721)
    return np.stack((width * turn / (2 * np.pi), height * (0.6 + 0.2 * np.cos(2 * turn))), axis=-1)


def strip(width: float, height: float) -> tuple[Mark, ...]:
    """A sheet like a template: outline, cut, scale, hatch, arrow and words."""
    cut = wave(width, height)
    scale: list[Mark] = []
    for clock in range(0, 360, 30):
        x = width * (clock + 3) / 366
        scale.append(Path(np.array(((x, 0.0), (x, 0.4 * height))), FINE))
        scale.append(Text((x - 0.5, 2.0), f"{clock}°", NOTE_HEIGHT, turn=90, bold=clock == 0))
    middle = width / 2
    return (
        Path(rectangle(0.0, 0.0, width, height), LINE, closed=True, name="outline"),
        Path(cut, CUT, name="cut"),
        Group(tuple(scale), "scale"),
        Hatch((np.concatenate((cut, ((width, height), (0.0, height)))),), 3.0),
        Path(np.array(((middle, 5.0), (middle - 2, 9.0), (middle + 2, 9.0))), THIN, closed=True,
             fill=True, name="arrow"),
        Path(np.array(((middle, 0.0), (middle, height))), CENTRE),
        Text((middle, height / 2), "28.6 × 0.9", PLAIN_HEIGHT, "middle"),
    )


def length(points: Floats) -> float:
    """Length of a line (n, 2) from point to point, mm."""
    return float(np.linalg.norm(np.diff(points, axis=0), axis=1).sum())


def area(points: Floats) -> float:
    """Area inside a ring (n, 2), mm²: the shoelace formula."""
    x, y = points.T
    return abs(float(np.sum(x * np.roll(y, -1) - y * np.roll(x, -1)))) / 2
