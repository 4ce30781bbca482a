"""What follows from a tube as it came out, under the names of the JSON output."""

from __future__ import annotations

import math
from dataclasses import asdict
from typing import Any

from coper.bicycle.tracking.askew import Askew
from coper.frame.held import Held
from coper.frame.made import MadeTube
from coper.job.made import Outcome
from coper.job.ways import (
    AlongMain,
    Elsewhere,
    NewBlank,
    OtherFirst,
    SameTwin,
    SetBack,
    TakeOff,
    Way,
)
from coper.telling.words.made import way_words

WAYS = {TakeOff: "take off", SetBack: "set back", SameTwin: "same twin",
        OtherFirst: "other end first", AlongMain: "along main", Elsewhere: "elsewhere",
        NewBlank: "new blank"}


def outcome_record(found: Outcome) -> dict[str, Any]:
    """What came out, what moves, what still works, which sheets hold."""
    return {
        "made": made_record(found.made),
        "twin": None if found.twin is None else made_record(found.twin),
        "moves": {
            "by": found.made.move.tolist(), "root": found.root.name or None,
            "points": list(found.root.along), "held_by": [
                main.label for main in found.made.free_end.mains],
        },
        "axle": None if found.axle is None else axle_record(found.axle),
        "chain": None if found.chain is None else {
            "drawn": found.chain.drawn, "choices": [asdict(one) for one in found.chain.choices]},
        "ways": [_way_record(found.made, one) for one in found.ways],
        "sheets": [_held_record(one) for one in found.sheets],
        "broken": found.broken or None,
    }


def made_record(made: MadeTube) -> dict[str, Any]:
    """How far a tube is off."""
    tube = made.piece.tube
    return {"name": tube.name, "side": tube.side, "length": made.piece.shaped,
            "longer": made.longer, "seated": made.seated, "wider": made.wider}


def axle_record(axle: Askew) -> dict[str, Any]:
    """The axle: ``+`` to the left, forward and up."""
    return {"left": list(axle.left), "right": list(axle.right), "middle": list(axle.middle),
            "skew": axle.skew.angle, "lean": axle.lean, "width": axle.width,
            "rim_front": axle.front, "rim_rear": axle.rear, "rim_top": axle.top,
            "slide_left": axle.slide, "fits_slot": axle.fits}


def _way_record(made: MadeTube, way: Way) -> dict[str, Any]:
    return {"way": WAYS[type(way)], "words": way_words(made, way)}


def _held_record(one: Held) -> dict[str, Any]:
    return {"name": one.before.tube.name, "side": one.before.tube.side, "holds": one.holds,
            "longer": one.longer, "again": list(one.again),
            "apart": {which: None if math.isinf(apart) else apart
                      for which, apart in one.ends.items()}}
