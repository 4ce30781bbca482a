"""Pieces as plain lists and numbers, under the names of the JSON output."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any

from coper.frame.cap import cap_outline
from coper.frame.end import TubeEnd
from coper.frame.piece import Piece
from coper.frame.standing import bulge, standing
from coper.frame.tube import Tube
from coper.telling.records.joint import numbers, point_record, shape_record
from coper.telling.words.piece import heel_words, taper_words, zero_words
from coper.telling.words.standing import stands_words


def piece_record(piece: Piece) -> dict[str, Any]:
    """One tube and side; one that stands already has no blank."""
    tube = piece.tube
    return {
        "name": tube.name,
        "side": tube.side,
        "shape": shape_record(tube.shape),
        "corners": tube.corners.tolist(),
        "bend": list(tube.radii),
        "length": tube.length,
        "existing": tube.existing,
        "blank": None if tube.existing else piece.blank,
        "blank_ends": None if tube.existing else list(piece.blank_ends),
        "shaped": piece.shaped,
        "turn": tube.turn,
        "clock_0": zero_words(tube),
        "stands": _stands_record(tube),
        "ends": {end.which: {**end_record(end), "cap": cap_record(piece, end)}
                 for end in piece.ends},
        "heels": None if piece.heels is None else {
            "between": piece.heels.between, "words": heel_words(piece.heels)},
        "taper": taper_words(tube),
        "cautions": list(piece.cautions),
    }


def _stands_record(tube: Tube) -> dict[str, Any] | None:
    """How a box, an oval or a bend stands, mm and degrees; ``None`` of a round straight tube."""
    section, bent = standing(tube), bulge(tube)
    if section is None and bent is None:
        return None
    return {
        "words": stands_words(tube),
        "section": None if section is None else asdict(section),
        "bulge": None if bent is None else asdict(bent),
    }


def end_record(end: TubeEnd) -> dict[str, Any]:
    """One end: lists over the same clocks, ``None`` where open."""
    names = [main.name for main in end.mains]
    return {
        "on": names if end.flat is None else [],
        "cut": end.cut,
        "flat": None if end.flat is None else {
            "how": end.flat.how, "partner": end.flat.partner,
            "from_square": end.flat.from_square, "normal": end.flat.normal.tolist()},
        "clock": end.clock.tolist(),
        "outer": numbers(end.outer),
        "inner": numbers(end.inner),
        "main": [None if index < 0 else names[index] for index in end.main.tolist()],
        "open": [list(stretch) for stretch in end.open],
        "long_point": point_record(end.long_point),
        "short_point": point_record(end.short_point),
        "mains": [] if end.flat else [asdict(seat) for seat in end.stances],
    }


def cap_record(piece: Piece, end: TubeEnd) -> dict[str, Any] | None:
    """The plate that closes an end; its outline in mm, seen from outside, clock 0 along the x."""
    if not end.cap:
        return None
    return {"thickness": end.cap, "outline": cap_outline(piece, end).tolist()}
