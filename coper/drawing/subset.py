"""A smaller face that holds no more than is used, and what a PDF says of it.

Hints for coarse screens are left out: on paper they do nothing, and they are half of a face.
"""

from __future__ import annotations

import struct
import zlib
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any, Final

import numpy as np

from coper.drawing.face import Face
from coper.drawing.letters import CAP_EM, EM

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
_MOST_PAIRS: Final = 100
"""A block of a map has no more (ISO 32000-1, 9.10.3)."""
_MAP_BEGINS: Final = (
    "/CIDInit /ProcSet findresource begin", "12 dict begin", "begincmap",
    "/CIDSystemInfo << /Registry (Adobe) /Ordering (UCS) /Supplement 0 >> def",
    "/CMapName /Adobe-Identity-UCS def", "/CMapType 2 def",
    "1 begincodespacerange", "<0000> <ffff>", "endcodespacerange")
_MAP_ENDS: Final = ("endcmap", "CMapName currentdict /CMap defineresource pop", "end", "end")
_PER_MILLE: Final = 1000.0
"""Units of a PDF's measures of letters to an em (ISO 32000-1, 9.2.4)."""
_SYMBOLS: Final = 4
"""Flag of a face whose letters have numbers of their own (ISO 32000-1, table 123)."""


@dataclass(frozen=True, slots=True, eq=False)
class Subset:
    """Letters of a face, numbered in their order from 1; 0 is for none.

    Attributes
    ----------
    face : Face
    letters : str
        Each once, all of them in the face.
    stem : str
        What the face is called.
    """

    face: Face
    letters: str
    stem: str

    @property
    def glyphs(self) -> list[int]:
        """Their numbers in the face."""
        return [self.face.glyphs[ord(letter)] for letter in self.letters]

    @property
    def name(self) -> str:
        """The face's name behind six capitals that are the letters' (ISO 32000-1, 9.6.4)."""
        number, tag = zlib.crc32(self.letters.encode()), ""
        for _ in range(6):
            number, place = divmod(number, 26)
            tag += chr(ord("A") + place)
        return f"{tag}+{self.stem}"

    @property
    def widths(self) -> list[float]:
        """The advance widths from number 0 on, in thousandths of an em."""
        widths: list[float] = (self.face.widths[[0, *self.glyphs]] * (_PER_MILLE / EM)).tolist()
        return widths

    @property
    def measures(self) -> dict[str, Any]:
        """What a descriptor says of the face (ISO 32000-1, table 122)."""
        left, bottom, right, top = (round(value * _PER_MILLE / EM) for value in self.face.box)
        return {"Flags": _SYMBOLS, "FontBBox": [left, bottom, right, top], "Ascent": top,
                "Descent": bottom, "CapHeight": round(CAP_EM * _PER_MILLE), "ItalicAngle": 0,
                "StemV": 0}

    def file(self) -> bytes:
        """A file of the face that has these letters alone."""
        return small_face(self.face, self.glyphs)

    def letters_map(self) -> bytes:
        """What the numbers mean, for search and copying (ISO 32000-1, 9.10.3)."""
        pairs = [f"<{number:04x}> <{ord(letter):04x}>"
                 for number, letter in enumerate(self.letters, 1)]
        blocks = (pairs[at:at + _MOST_PAIRS] for at in range(0, len(pairs), _MOST_PAIRS))
        lines = [line for block in blocks
                 for line in (f"{len(block)} beginbfchar", *block, "endbfchar")]
        return "\n".join((*_MAP_BEGINS, *lines, *_MAP_ENDS)).encode("ascii")


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
