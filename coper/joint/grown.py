"""A main whose real size is not the one that the end was cut for."""

from __future__ import annotations

from dataclasses import replace

from coper.errors import ShapeError
from coper.shapes.bent import Bent
from coper.shapes.box import Box
from coper.shapes.oval import Oval
from coper.shapes.plate import Plate
from coper.shapes.round import Round
from coper.shapes.shape import MainShape
from coper.shapes.tapered import Tapered


def grown(main: MainShape, by: float) -> MainShape:
    """The same main, ``by`` mm larger wherever a caliper goes across it, about the same axis.

    A round or a bent one is larger in diameter, a tapered one in both, an oval in both axes, a box
    in both sides and by half of it in the radius of its corners, where it has any. A plate's face
    stays where it is.
    """
    match main:
        case Round() | Bent():
            return replace(main, diameter=main.diameter + by)
        case Tapered():
            return replace(main, start=main.start + by, end=main.end + by)
        case Oval():
            return replace(main, major=main.major + by, minor=main.minor + by)
        case Box():
            corner = max(main.corner + by / 2, 0.0) if main.corner else 0.0
            return replace(main, first=main.first + by, second=main.second + by, corner=corner)
        case Plate():
            return main
    raise ShapeError(f"{main.words()} has no size that can be wrong", "give another main")


def narrowest(main: MainShape) -> float | None:
    """The smallest width in mm that a caliper meets across ``main``; ``None`` for a plate."""
    match main:
        case Round() | Bent():
            return main.diameter
        case Tapered():
            return min(main.start, main.end)
        case Oval():
            return main.minor
        case Box():
            return min(main.first, main.second)
    return None
