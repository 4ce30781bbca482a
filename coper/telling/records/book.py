"""What the shop book holds, under the names of the JSON output."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import asdict
from typing import Any

from coper.book.entries import EndName, MadePart, Round, Tick, Version


def round_record(one: Round) -> dict[str, Any]:
    """A round: what was read, and what was answered."""
    readings = one.readings
    return {
        **end_record(readings.end), "round": one.number, "at": one.at,
        "gaps": [[reading.clock, reading.gap] for reading in readings.gaps],
        "typed": readings.typed, "cut": readings.cut, "limit": readings.limit,
        "largest": readings.largest, "version": one.version, "regrind": one.answer,
    }


def tick_record(one: Tick) -> dict[str, Any]:
    """A step that is done."""
    return {**end_record(one.end), "step": one.step, "at": one.at}


def made_record(one: MadePart) -> dict[str, Any]:
    """What a finished part measured: mm or degrees."""
    return asdict(one)


def end_record(end: EndName) -> dict[str, Any]:
    """An end by its name."""
    return {"tube": end.tube, "side": end.side, "end": end.end}


def book_record(
    rounds: Sequence[Round], ticks: Sequence[Tick], made: Sequence[MadePart],
    versions: Sequence[Version],
) -> dict[str, Any]:
    """All that is in it."""
    return {
        "rounds": [round_record(one) for one in rounds],
        "ticks": [tick_record(one) for one in ticks],
        "made": [made_record(one) for one in made],
        "versions": [{"number": one.number, "at": one.at} for one in versions],
    }
