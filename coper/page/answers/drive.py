"""What is measured of drive, fork, brakes and mudguards, as fields, and what each is for."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from coper.bicycle.clearance.fitted import Fitted
from coper.job.job import Job
from coper.page.answers.settings import Parts, Setting
from coper.units import format_angle, format_length

TABLE: Final = "drive"

BRAKE: Final = Parts(("bolt", "hole", "ahead", "reach", "pad"))
GUARD: Final = Parts(("width", "gap"))


@dataclass(frozen=True, slots=True)
class Group:
    """Keys that are measured together, and what they are for."""

    name: str
    gives: str
    settings: tuple[Setting, ...]


def _own(key: str, name: str, how: str) -> Setting:
    return Setting(TABLE, key, name, how)


GROUPS: Final = (
    Group("Dropout's slot", "The tyre is tried at both ends of the slot, and the chain by it.", (
        _own("slot", "slot", "how far the axle can move in it"),
        _own("slot_angle", "slot angle", "degrees above the horizontal, going to the rear"),
        _own("slot_at", "axle in the slot", "as drawn, from its front end; empty: its middle"),
    )),
    Group("Chain", "How many links the chain has, and where the axle then stands.", (
        _own("ring", "ring", "teeth at the crank"),
        _own("sprocket", "sprocket", "teeth at the wheel"),
    )),
    Group("Crank, heel and pedal", "The room beside them, the toe's to the front tyre, and how far "
          "the bicycle leans until a pedal touches.", (
              _own("crank", "crank", "its length, from axle to axle"),
              _own("crank_inside", "crank's inside", "inner face of its end, from the middle "
                   "plane"),
              Setting(TABLE, "heel", "heel", "behind the pedal's axle, and its inner side from the "
                      "middle plane: back 180mm out 90mm", Parts(("back", "out"))),
              Setting(TABLE, "pedal", "pedal", "outer edge from the middle plane, and underside "
                      "below its axle: out 150mm under 14mm", Parts(("out", "under"))),
          )),
    Group("Fork's inside", "The front tyre's room to crown and blades, and whether it goes in.", (
        Setting(TABLE, "fork_crown", "crown", "its underside below the crown race, and its length "
                "from back to front: under 24mm length 36mm", Parts(("under", "length"))),
        _own("fork_blades", "blades", "inside from blade to blade, at the tyre"),
    )),
    Group("Brakes", "Whether the pads reach the rim, and which way the bolt would move.", (
        Setting(TABLE, "rear_brake", "rear brake", "a point, or the tube whose middle its bolt is "
                "in, and its reach: bolt stay-bridge reach 55mm, 73mm", BRAKE),
        Setting(TABLE, "front_brake", "front brake", "its hole below the crown race, how far ahead "
                "its arms stand, its reach: hole 12mm ahead 25mm reach 70mm, 90mm", BRAKE),
    )),
    Group("Mudguards and rims", "The mudguard's room to tyre, tubes and fork; a rim beside the "
          "middle plane takes its tyre along.", (
              Setting(TABLE, "rear_guard", "rear mudguard", "its width, and from the tread to its "
                      "inside: width 50mm gap 12mm", GUARD),
              Setting(TABLE, "front_guard", "front mudguard", "the same", GUARD),
              _own("rear_rim_off", "rear rim", "its middle to the left of the middle plane; below "
                   "0 to the right"),
              _own("front_rim_off", "front rim", "the same"),
          )),
)

SETTINGS: Final = tuple(setting for group in GROUPS for setting in group.settings)

WANTS: Final = (
    ("the tyre at both ends of the slot", ("slot",)),
    ("the chain's links", ("ring", "sprocket")),
    ("the room beside the crank", ("crank", "crank_inside")),
    ("the room beside the heel", ("crank", "heel")),
    ("the toe's room to the front tyre", ("crank",)),
    ("the lean until a pedal touches", ("crank", "pedal")),
    ("the tyre under the crown", ("fork_crown",)),
    ("the tyre between the blades", ("fork_blades",)),
    ("the rear brake's reach", ("rear_brake",)),
    ("the front brake's reach", ("front_brake",)),
)
"""What is checked, and the keys that it needs; a mudguard is not wanted by everybody."""


@dataclass(frozen=True, slots=True)
class Wanted:
    """What is not checked for want of numbers: the names of their fields, each with its own."""

    what: str
    fields: tuple[tuple[str, str], ...]


def wanted(text: str) -> Iterator[Wanted]:
    """What would be checked if more were measured."""
    known = {each.key: each for each in SETTINGS}
    for what, keys in WANTS:
        missing = tuple((known[key].field, known[key].name) for key in keys
                        if not known[key].stands(text))
        if missing:
            yield Wanted(what, missing)


def said(job: Job) -> dict[str, str]:
    """What was understood of the fields, in mm and inches."""
    drive = job.drive
    found = {f"{end}_{key}": words for end in ("rear", "front")
             for key, words in _fitted_said(drive.at(end))}
    if drive.slot is not None:
        found |= {"slot": format_length(drive.slot.travel),
                  "slot_angle": format_angle(drive.slot.angle),
                  "slot_at": f"{format_length(drive.slot.at)} from the front end"}
    lengths = {"crank": drive.crank, "crank_inside": drive.crank_inside,
               "fork_blades": drive.fork.blades}
    found |= {key: format_length(mm) for key, mm in lengths.items() if mm is not None}
    if drive.heel is not None:
        found["heel"] = _both((drive.heel.back, "behind the pedal's axle"),
                              (drive.heel.out, "from the middle plane"))
    if drive.pedal is not None:
        found["pedal"] = _both((drive.pedal.out, "from the middle plane"),
                               (drive.pedal.under, "below its axle"))
    if drive.fork.crown is not None:
        found["fork_crown"] = _both((drive.fork.crown.under, "below the crown race"),
                                    (drive.fork.crown.length, "long"))
    return {f"{TABLE}-{key}": words for key, words in found.items()}


def _fitted_said(fitted: Fitted) -> Iterator[tuple[str, str]]:
    """What was understood of brake, mudguard and rim of one wheel."""
    if fitted.brake is not None:
        yield "brake", _both((fitted.brake.least, "the shortest reach"),
                             (fitted.brake.most, "the longest"))
    if fitted.guard is not None:
        yield "guard", _both((fitted.guard.width, "wide"), (fitted.guard.gap, "from the tread"))
    if fitted.rim_off is not None:
        way = "left" if fitted.rim_off >= 0 else "right"
        yield "rim_off", f"{format_length(abs(fitted.rim_off))} to the {way}"


def _both(*parts: tuple[float, str]) -> str:
    return ", ".join(f"{format_length(mm)} {words}" for mm, words in parts)
