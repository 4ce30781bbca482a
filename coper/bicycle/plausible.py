"""Numbers of a bicycle that no frame has: each is asked about, with what was probably meant.

Nothing is refused here. The bounds are common practice, no source, and wide: from a child's
bicycle of 12 inches to a cargo bicycle or a tandem.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from coper.bicycle.bicycle import Bicycle
from coper.bicycle.measured import Measured
from coper.bicycle.measures import Measures, measure
from coper.bicycle.tyre_sizes import tyre_doubts
from coper.units import INCH_MM, format_angle, format_size, plain

USUAL_DEG: Final = {"head_angle": (60.0, 80.0), "seat_angle": (55.0, 85.0)}
"""What leans less or more than any frame but a chopper or a recumbent."""

USUAL_MM: Final = {
    "chain_stay": (180.0, 1000.0), "axle_back": (180.0, 1000.0), "reach": (100.0, 700.0),
    "stack": (200.0, 950.0), "front_centre": (300.0, 2200.0), "wheelbase": (500.0, 3000.0),
    "head_tube": (50.0, 400.0), "fork_length": (150.0, 700.0), "lower_stack": (0.0, 60.0),
    "rear_hub": (75.0, 230.0), "front_hub": (65.0, 180.0), "rear_track": (200.0, 1200.0),
    "shell": (45.0, 150.0), "height": (100.0, 500.0),
}
"""The least and the most that frames have of each."""

MOST_RISE_MM: Final = 60.0
"""A bracket that is further above the axles is that of a wheel of 16 inches or less."""

LOWEST_MM: Final = 150.0
"""A bracket nearer to the ground has no room for a crank."""

MOST_DROP_MM: Final = 120.0
"""An axle that is further above the bracket is that of a recumbent or a tall wheel."""

USUAL_HEIGHT_MM: Final = (200.0, 400.0)
"""Of a bracket above the ground."""

MOST_RAKE_MM: Final = 120.0
"""No fork bends further ahead."""

SLIPS: Final = (
    (INCH_MM, "if it is in inches, that is"),
    (10.0, "if it is in cm, or its point slipped, that is"),
    (0.1, "if its point slipped, that is"), (1 / INCH_MM, "if it is in mm, that is"))
"""By how much a number comes out wrong that was meant another way, and how to say so."""

def bicycle_doubts(measured: Measured, bicycle: Bicycle) -> tuple[str, ...]:
    """A sentence for each number that no frame has; none on a bicycle as they are built."""
    stands = measure(bicycle)
    return (*_angles(measured, stands), *_lengths(measured), *_drop(measured, bicycle),
            *_fork(measured, stands), *_wheels(measured))


def implausible(measured: Measured) -> tuple[str, ...]:
    """The keys of lengths that are beyond those of any frame."""
    return tuple(key for key in measured.any_of(*USUAL_MM)
                 if not _within(getattr(measured, key), USUAL_MM[key]))


def _angles(measured: Measured, stands: Measures) -> Iterator[str]:
    for key, bounds in USUAL_DEG.items():
        angle = getattr(measured, key)
        if angle is None or _within(angle, bounds):
            continue
        other = 180.0 - angle
        asked = (f"if it was measured from the other side, write {plain(other)}"
                 if _within(other, bounds) else "measure it from the horizontal at the back")
        yield _doubt(key, format_angle(angle), "frames have "
                     f"{bounds[0]:g} to {bounds[1]:g}°", asked)
    if _steers(measured.head_angle) and not _steers(stands.head_angle or measured.head_angle):
        yield ("bicycle: with these wheels, drop and fork_length the head angle on the ground is "
               f"{format_angle(stands.head_angle or 0.0)}; check them.")


def _lengths(measured: Measured) -> Iterator[str]:
    for key in implausible(measured):
        value, (low, high) = getattr(measured, key), USUAL_MM[key]
        meant = next((f"{asked} {format_size(round(value * factor, 2))}"
                      for factor, asked in SLIPS if _within(value * factor, (low, high))),
                     "measure again")
        yield _doubt(key, format_size(value),
                     f"frames have {format_size(low)} to {format_size(high)}", meant)


def _drop(measured: Measured, bicycle: Bicycle) -> Iterator[str]:
    """A bracket too far above or below the rear axle."""
    rear = bicycle.parts.rear
    if rear is None:
        return
    key, drop = "drop" if measured.has("drop") else "height", rear.axle[1]
    asked = "measure from the ground to the bracket's centre"
    if drop < -MOST_RISE_MM and (rear.wheel is None or rear.wheel.radius + drop > LOWEST_MM):
        if key == "drop":
            asked = f"if the axle is the higher one, drop is {format_size(-drop)}"
        yield _doubt(key, format_size(getattr(measured, key)), "the bracket would stand "
                     f"{format_size(-drop)} above the rear axle", asked)
    elif drop > MOST_DROP_MM:
        if key == "drop":
            asked = ("if that is the bracket above the ground, it is height"
                     if _within(drop, USUAL_HEIGHT_MM)
                     else "measure how far the axle is above the bracket's centre")
        yield _doubt(key, format_size(getattr(measured, key)), "the bracket would hang "
                     f"{format_size(drop)} below the rear axle", asked)


def _fork(measured: Measured, stands: Measures) -> Iterator[str]:
    """A wheel that touches ahead of the steering axis, or a fork that bends back."""
    rake, length, trail = measured.rake, measured.fork_length, stands.trail
    if rake is None or length is None:
        return
    ahead = "" if trail is None or trail >= 0 or not _steers(stands.head_angle) else (
        f"with it the trail is {format_size(round(trail, 1))}, so that the front wheel touches "
        "ahead of the steering axis")
    if rake < 0:
        yield _doubt("rake", format_size(rake), "the fork would bend back",
                     f"if the axle is ahead of the steering axis, rake is {format_size(-rake)}")
    elif ahead or rake > MOST_RAKE_MM:
        asked = ("fork_length and rake look exchanged" if rake > length else
                 "measure from the steering axis to the axle, square to the axis")
        yield _doubt("rake", format_size(rake), ahead or "no fork bends as far ahead", asked)


def _wheels(measured: Measured) -> Iterator[str]:
    for key in measured.any_of("rear_wheel", "front_wheel"):
        for value, fault, asked in tyre_doubts(getattr(measured, key)):
            yield _doubt(key, value, fault, asked)


def _doubt(key: str, value: str, fault: str, asked: str) -> str:
    return f"bicycle.{key}, {value}: {fault}; {asked}."


def _steers(angle: float | None) -> bool:
    """Whether a head angle is that of a frame; else the angle is asked about, not the fork."""
    return angle is not None and _within(angle, USUAL_DEG["head_angle"])


def _within(value: float, bounds: tuple[float, float]) -> bool:
    return bounds[0] <= value <= bounds[1]
