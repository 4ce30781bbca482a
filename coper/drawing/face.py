"""A TrueType face: which glyphs it has, and a smaller one that holds no more than is used.

The tables are those of the OpenType specification (``cmap``, ``glyf``, ``head``, ``hhea``,
``hmtx``, ``loca``, ``maxp``); all numbers in them are big-endian. Hints for coarse screens are
left out of the smaller face: on paper they do nothing, and they are half of it.
"""

from __future__ import annotations

import struct
import zlib
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from typing import Final

import numpy as np

from coper.arrays import Whole

_COPIED: Final = ("head", "hhea", "maxp")
"""Tables of fixed size that are copied, and then corrected."""
_WORDS: Final = 0x0001
"""Composite glyph: its two arguments are 16 bits each."""
_MORE: Final = 0x0020
"""Composite glyph: another part follows."""
_SCALES: Final = ((0x0008, 2), (0x0040, 4), (0x0080, 8))
"""Composite glyph: a flag, and how many bytes of a matrix then follow."""
_HINTED: Final = 0x0100
"""Composite glyph: hints follow the last part."""
_BMP: Final = (3, 1)
"""Platform and encoding of the table that knows characters up to U+FFFF."""
_MOST_PAIRS: Final = 100
"""A block of a map has no more (ISO 32000-1, 9.10.3)."""
_MAP_BEGINS: Final = (
    "/CIDInit /ProcSet findresource begin", "12 dict begin", "begincmap",
    "/CIDSystemInfo << /Registry (Adobe) /Ordering (UCS) /Supplement 0 >> def",
    "/CMapName /Adobe-Identity-UCS def", "/CMapType 2 def",
    "1 begincodespacerange", "<0000> <ffff>", "endcodespacerange")
_MAP_ENDS: Final = ("endcmap", "CMapName currentdict /CMap defineresource pop", "end", "end")


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


def small_face(face: Face, glyphs: Sequence[int]) -> bytes:
    """A file of a face that has ``glyphs`` alone, numbered in their order from 1; 0 is for none.

    The parts of those that are put together from others come after them.
    """
    kept = [0, *glyphs]
    outlines: list[bytes] = []
    for glyph in kept:  # grows as parts are met
        outlines.append(_outline(face, glyph, kept))
    tables = {tag: bytearray(face.table(tag)) for tag in _COPIED}
    struct.pack_into(">L", tables["head"], 8, 0)  # a checksum that no reader of a PDF looks at
    struct.pack_into(">h", tables["head"], 50, 1)  # loca counts in bytes
    struct.pack_into(">H", tables["hhea"], 34, len(kept))
    struct.pack_into(">H", tables["maxp"], 4, len(kept))
    places = np.cumsum([0, *map(len, outlines)])
    lefts = [struct.unpack_from(">h", outline, 2)[0] if outline else 0 for outline in outlines]
    metrics = np.stack((face.widths[kept], np.array(lefts) % 0x10000), axis=1)
    return _file({
        **tables, "glyf": b"".join(outlines), "hmtx": metrics.astype(">u2").tobytes(),
        "loca": places.astype(">u4").tobytes()})


def _outline(face: Face, glyph: int, kept: list[int]) -> bytes:
    """One glyph without hints, at an even length; parts not ``kept`` yet are appended there."""
    start, end = face.places[glyph:glyph + 2].tolist()
    data = face.table("glyf")[start:end]
    if not data:
        return b""
    contours, = struct.unpack_from(">h", data)
    plain = _parts(data, kept) if contours < 0 else _unhinted(data, contours)
    return plain + bytes(len(plain) % 2)


def _unhinted(data: bytes, contours: int) -> bytes:
    """A glyph of its own lines: header, ends of contours, then hints and their length."""
    at = 10 + 2 * contours
    hints, = struct.unpack_from(">H", data, at)
    return data[:at] + b"\0\0" + data[at + 2 + hints:]


def _parts(data: bytes, kept: list[int]) -> bytes:
    """A glyph put together from others, with their new numbers."""
    made = bytearray(data)
    at = 10
    for at, flags, glyph in _read_parts(data):
        if glyph not in kept:
            kept.append(glyph)
        struct.pack_into(">HH", made, at, flags & ~_HINTED, kept.index(glyph))
    return bytes(made[:_after(data, at)])


def _read_parts(data: bytes) -> Iterator[tuple[int, int, int]]:
    """Where each part of a glyph begins, its flags and its glyph."""
    at, flags = 10, _MORE
    while flags & _MORE:
        flags, glyph = struct.unpack_from(">HH", data, at)
        yield at, flags, glyph
        at = _after(data, at)


def _after(data: bytes, at: int) -> int:
    """Where the part ends that begins at ``at``."""
    flags, = struct.unpack_from(">H", data, at)
    return at + 4 + (4 if flags & _WORDS else 2) + sum(
        size for flag, size in _SCALES if flags & flag)


def _file(tables: dict[str, bytes | bytearray]) -> bytes:
    """The tables, each at a multiple of four bytes, behind their list."""
    power = 1 << (len(tables).bit_length() - 1)
    head = struct.pack(">LHHHH", 0x00010000, len(tables), 16 * power, power.bit_length() - 1,
                       16 * (len(tables) - power))
    start = len(head) + 16 * len(tables)
    records, body = b"", b""
    for tag, table in sorted(tables.items()):
        padded = bytes(table) + bytes(-len(table) % 4)
        check = int(np.frombuffer(padded, ">u4").sum(dtype=np.uint64)) % 2**32
        records += struct.pack(">4sLLL", tag.encode(), check, start + len(body), len(table))
        body += padded
    return head + records + body


def subset_tag(letters: str) -> str:
    """Six capitals that tell one subset of a face from another (ISO 32000-1, 9.6.4)."""
    number, tag = zlib.crc32(letters.encode()), ""
    for _ in range(6):
        number, place = divmod(number, 26)
        tag += chr(ord("A") + place)
    return tag


def letters_map(letters: Iterable[str]) -> bytes:
    """What the numbers from 1 on mean, for search and copying (ISO 32000-1, 9.10.3)."""
    pairs = [f"<{number:04x}> <{ord(letter):04x}>" for number, letter in enumerate(letters, 1)]
    blocks = (pairs[at:at + _MOST_PAIRS] for at in range(0, len(pairs), _MOST_PAIRS))
    lines = [line for block in blocks
             for line in (f"{len(block)} beginbfchar", *block, "endbfchar")]
    return "\n".join((*_MAP_BEGINS, *lines, *_MAP_ENDS)).encode("ascii")
