"""The numbers of a bicycle as a person measures them, and which of them are missing."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, fields
from typing import Final, Literal

from coper.bicycle.ground import Flat
from coper.bicycle.wheel import Wheel
from coper.errors import CoperError

HeadPlace = Literal["head_bottom", "stack", "front_centre", "wheelbase"]
"""Which number says where the head tube sits; ``stack`` together with ``reach``."""


@dataclass(frozen=True, slots=True)
class Measured:
    """What was measured; ``None`` where it was not. Lengths in mm, in side view; angles in degrees.

    Attributes
    ----------
    drop : the rear axle above the bracket
    height : the bracket above the ground
    chain_stay : bracket to rear axle, straight; ``axle_back`` is level
    rear_wheel, rear_hub : the wheel, and its hub over the lock nuts
    rear_track : between the middles of two rear wheels, one left and one right
    shell : width of the bracket's shell
    seat_angle, head_angle : from the horizontal at the back
    reach, stack : of the middle of the head tube's top edge, ahead of and above the bracket
    head_bottom : (x, z) of the middle of the head tube's lower edge
    front_centre : bracket to front axle, straight
    wheelbase : axle to axle, along the ground
    head_tube : the head tube's length
    fork_length, rake : crown race to axle along the steering axis, and from that axis to the axle
    lower_stack : head set between crown race and head tube
    front_wheel, front_hub : as at the rear
    """

    drop: float | None = None
    height: float | None = None
    chain_stay: float | None = None
    axle_back: float | None = None
    rear_wheel: Wheel | None = None
    rear_hub: float | None = None
    rear_track: float | None = None
    shell: float | None = None
    seat_angle: float | None = None
    head_angle: float | None = None
    reach: float | None = None
    stack: float | None = None
    head_bottom: Flat | None = None
    front_centre: float | None = None
    wheelbase: float | None = None
    head_tube: float | None = None
    fork_length: float | None = None
    rake: float | None = None
    lower_stack: float | None = None
    front_wheel: Wheel | None = None
    front_hub: float | None = None

    def has(self, *keys: str) -> bool:
        """Whether all of ``keys`` were measured."""
        return all(getattr(self, key) is not None for key in keys)

    def any_of(self, *keys: str) -> tuple[str, ...]:
        """Those of ``keys`` that were measured."""
        return tuple(key for key in keys if self.has(key))

    @property
    def place(self) -> HeadPlace | None:
        """What says where the head tube sits: the most direct of what was measured."""
        if self.has("head_bottom"):
            return "head_bottom"
        if self.has("reach", "stack"):
            return "stack"
        if self.has("front_centre"):
            return "front_centre"
        return "wheelbase" if self.has("wheelbase") else None


KEYS: Final = tuple(field.name for field in fields(Measured))

FORK: Final = ("fork_length", "rake")
REAR: Final = ("drop", "height", "chain_stay", "axle_back", "rear_wheel", "rear_hub",
               "rear_track")
ON_FORK: Final = ("lower_stack", "front_wheel", "front_hub", "front_centre", "wheelbase")
HEAD: Final = ("head_angle", "reach", "stack", "head_bottom", "head_tube", *FORK, *ON_FORK)

NEEDS: Final[dict[HeadPlace, tuple[str, ...]]] = {
    "head_bottom": ("head_angle",),
    "stack": ("head_angle",),
    "front_centre": ("head_angle", *FORK, "front_wheel", "rear_wheel"),
    "wheelbase": ("head_angle", *FORK, "front_wheel", "rear_wheel"),
}
"""What else each way to place the head tube needs."""

LEVEL: Final[tuple[HeadPlace, ...]] = ("front_centre", "wheelbase")
"""The ways that take the frame's axes as level: both wheels then place the head tube."""


def missing(measured: Measured) -> Iterator[CoperError]:
    """Every number that has to be added before the rest can be used, at its key."""
    if measured.any_of(*REAR) or measured.place in LEVEL:
        yield from _missing_rear(measured)
    needed: dict[str, str] = {}
    for key, reason in _needed(measured):
        needed.setdefault(key, reason)
    yield from (_absent(key, reason) for key, reason in needed.items() if not measured.has(key))
    if measured.any_of(*HEAD) and measured.place is None:
        yield from _missing_place(measured)


def _needed(measured: Measured) -> Iterator[tuple[str, str]]:
    """Every key that another one needs, and that other one."""
    yield from (("rear_wheel", key) for key in measured.any_of("height", "rear_track"))
    if found := measured.any_of(*HEAD):
        yield "head_angle", found[0]
    yield from (("head_tube", key) for key in measured.any_of("reach", "stack"))
    for key in measured.any_of(*FORK, *ON_FORK):
        yield from ((other, key) for other in FORK if other != key)
    if (place := measured.place) is not None:
        yield from ((key, place) for key in NEEDS[place])


def _absent(key: str, reason: str) -> CoperError:
    return CoperError(f"missing, and {reason} needs it", f"measure {key}, or take out {reason}",
                      key)


def _missing_rear(measured: Measured) -> Iterator[CoperError]:
    if not measured.any_of("drop", "height"):
        yield CoperError("missing", "measure how far the rear axle is above the bracket's centre, "
                         "or give height, the bracket's above the ground", "drop")
    if not measured.any_of("chain_stay", "axle_back"):
        yield CoperError("missing", "measure from the bracket's centre to the rear axle's, or give "
                         "axle_back, the level distance", "chain_stay")


def _missing_place(measured: Measured) -> Iterator[CoperError]:
    for one, other in (("reach", "stack"), ("stack", "reach")):
        if measured.has(one):
            yield _absent(other, one)
            return
    yield CoperError("nothing says where the head tube sits", "give reach, stack and head_tube, "
                     "or head_bottom = [x, z], or front_centre, or wheelbase", "head_bottom")
