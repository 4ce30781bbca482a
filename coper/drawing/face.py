"""A TrueType face: its tables, and which glyphs it has.

They are those of the OpenType specification (``cmap``, ``glyf``, ``head``, ``hhea``, ``hmtx``,
``loca``, ``maxp``); all numbers in them are big-endian.
"""

from __future__ import annotations

import struct
from dataclasses import dataclass, field
from typing import Final

import numpy as np

from coper.arrays import Whole

_BMP: Final = (3, 1)
"""Platform and encoding of the table that knows characters up to U+FFFF."""


@dataclass(frozen=True, slots=True, eq=False)
class Face:
    """A face as its file has it.

    Attributes
    ----------
    data : bytes
        The file.
    tables : dict
        Where each table begins in it, and its length in bytes.
    places : (n + 1,) int
        Where each glyph begins in ``glyf``, and where the last one ends.
    widths : (n,) int
        Advance widths, in units of the face.
    glyphs : dict
        The number of each character's glyph, for characters up to U+FFFF.
    """

    data: bytes
    tables: dict[str, tuple[int, int]] = field(init=False)
    places: Whole = field(init=False)
    widths: Whole = field(init=False)
    glyphs: dict[int, int] = field(init=False)

    def __post_init__(self) -> None:
        count, = struct.unpack_from(">H", self.data, 4)
        records = (struct.unpack_from(">4s4xLL", self.data, 12 + 16 * at) for at in range(count))
        object.__setattr__(self, "tables", {
            tag.decode(): (start, length) for tag, start, length in records})
        long, = struct.unpack_from(">h", self.table("head"), 50)
        kind, scale = (">u4", 1) if long else (">u2", 2)
        places = np.frombuffer(self.table("loca"), kind).astype(np.int64) * scale
        object.__setattr__(self, "places", places)
        object.__setattr__(self, "widths", self._widths(len(places) - 1))
        object.__setattr__(self, "glyphs", self._characters())

    def table(self, tag: str) -> bytes:
        """One table; empty where the face has none of that name."""
        start, length = self.tables.get(tag, (0, 0))
        return self.data[start:start + length]

    @property
    def box(self) -> tuple[int, ...]:
        """Left, bottom, right and top of all glyphs together, in units of the face."""
        return struct.unpack_from(">4h", self.table("head"), 36)

    def _widths(self, count: int) -> Whole:
        """Advance widths (count,); the last one stands for all after it."""
        given, = struct.unpack_from(">H", self.table("hhea"), 34)
        pairs = np.frombuffer(self.table("hmtx")[:4 * given], ">u2")
        return np.pad(pairs[::2].astype(np.int64), (0, count - given), mode="edge")

    def _characters(self) -> dict[int, int]:
        """The glyphs of the characters, from a ``cmap`` of format 4: runs that are each shifted."""
        cmap = self.table("cmap")
        count, = struct.unpack_from(">H", cmap, 2)
        records = (struct.unpack_from(">HHL", cmap, 4 + 8 * at) for at in range(count))
        table = cmap[next(start for *kind, start in records if tuple(kind) == _BMP):]
        runs = struct.unpack_from(">H", table, 6)[0] // 2
        words = np.frombuffer(table[: len(table) // 2 * 2], ">u2").astype(np.int64)
        ends, starts, shifts, offsets = (
            words[at:at + runs] for at in (7, 8 + runs, 8 + 2 * runs, 8 + 3 * runs))
        found: dict[int, int] = {}
        for run, (start, end, shift, offset) in enumerate(
                zip(*(each.tolist() for each in (starts, ends, shifts, offsets)), strict=True)):
            codes = np.arange(start, end + 1)
            first = 8 + 3 * runs + run + offset // 2
            glyphs = codes if offset == 0 else words[first:first + len(codes)]
            shifted = np.where((glyphs != 0) | (offset == 0), (glyphs + shift) % 0x10000, 0)
            found.update(zip(codes.tolist(), shifted.tolist(), strict=True))
        return {code: glyph for code, glyph in found.items() if glyph}
