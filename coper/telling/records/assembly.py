"""The order of work as plain lists and numbers, under the names of the JSON output."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from coper.bench.assembly.assembly import Assembly, EndStep, Step
from coper.bench.assembly.checks import LengthCheck
from coper.bench.assembly.places import Place, Stand
from coper.frame.piece import Piece
from coper.shapes.plate import Plate

Names = dict[str, dict[str, str]]
"""Name and side of each tube by its label."""


def assembly_record(assembly: Assembly) -> dict[str, Any]:
    """Every step: what is fitted in it, what holds it, what is tacked and checked; mm, degrees."""
    pieces = (*assembly.stands, *(piece for step in assembly.steps for piece in step.pieces))
    names = {piece.label: {"name": piece.tube.name, "side": piece.tube.side} for piece in pieces}
    sheets = assembly.sheets
    return {
        "stands": [names[piece.label] for piece in assembly.stands],
        "sheets": {"layout": sheets.layout, "bends": sheets.bends, "tracking": sheets.tracking},
        "steps": [_step(step, names) for step in assembly.steps],
    }


def _step(step: Step, names: Names) -> dict[str, Any]:
    return {
        "tubes": [names[piece.label] | {"blank": _blank(piece)} for piece in step.pieces],
        "ends": [_end(one, names) for one in step.ends],
        "apart": [{"axle": spacer.axle or None, "length": spacer.length}
                  for spacer in step.spacers],
        "tacks": [names[tack.label] | {"end": tack.which, "to": names[tack.to]}
                  for tack in step.tacks],
        "checks": {
            "lengths": [_length(check, names) for check in step.lengths],
            "angles": [names[one.label] | {"to": names[one.to], "angle": one.angle}
                       for one in step.angles],
            "heights": [_place(place, names) | {"height": place.height}
                        for place in step.heights],
            "tracking": step.track,
        },
    }


def _blank(piece: Piece) -> float | None:
    """``None`` of a plate, which is no blank of the cut list."""
    return None if isinstance(piece.tube.shape, Plate) else piece.blank


def _end(one: EndStep, names: Names) -> dict[str, Any]:
    return names[one.piece.label] | {
        "end": one.end.which,
        "cut": one.end.cut,
        "to": _named(one.joins, names),
        "on": [names[seat.label] | {"from": seat.by, "along": seat.along,
                                    "beside": seat.beside.tolist()} for seat in one.seats],
        "stands": None if one.stand is None else _stand(one.stand),
    }


def _named(labels: Iterable[str], names: Names) -> list[dict[str, str]]:
    return [names[label] for label in labels]


def _stand(stand: Stand) -> dict[str, Any]:
    return {"mark": stand.mark, "point": stand.name, "at": list(stand.at),
            "height": stand.height, "back": stand.short}


def _length(check: LengthCheck, names: Names) -> dict[str, Any]:
    return {"between": [[_place(place, names) for place in pair] for pair in check.pairs],
            "length": check.length, "on_layout": check.on_layout}


def _place(place: Place, names: Names) -> dict[str, Any]:
    return names[place.label] | {"end": place.which, "mark": place.mark}
