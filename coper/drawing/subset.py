"""A smaller face that holds no more than is used, and what a PDF says of it.

Hints for coarse screens are left out: on paper they do nothing, and they are half of a face. The
library that cuts the face is the one that matplotlib needs and loads for its own files.
"""

from __future__ import annotations

import io
import zlib
from dataclasses import dataclass
from typing import Any, Final

from fontTools import subset
from fontTools.ttLib import TTFont

from coper.drawing.letters import CAP_EM, EM

_KEPT: Final = ("glyf", "head", "hhea", "hmtx", "loca", "maxp")
"""Tables that a reader of a PDF looks at."""
_LETTERS: Final = "cmap"
"""Which letter is which glyph: a PDF asks for glyphs by their numbers."""
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
    letters, name : str
        Each letter once; the face's name behind six capitals that are the letters'.
    file : bytes
        A face that has these letters alone.
    glyphs : bytes
        Which of its glyphs each number is, two bytes each (ISO 32000-1, table 117).
    widths : list of float
        The advance widths from number 0 on, in thousandths of an em.
    measures : dict
        What a descriptor says of the face (ISO 32000-1, table 122).
    """

    letters: str
    name: str
    file: bytes
    glyphs: bytes
    widths: list[float]
    measures: dict[str, Any]

    def letters_map(self) -> bytes:
        """What the numbers mean, for search and copying (ISO 32000-1, 9.10.3)."""
        pairs = [f"<{number:04x}> <{ord(letter):04x}>"
                 for number, letter in enumerate(self.letters, 1)]
        blocks = (pairs[at:at + _MOST_PAIRS] for at in range(0, len(pairs), _MOST_PAIRS))
        lines = [line for block in blocks
                 for line in (f"{len(block)} beginbfchar", *block, "endbfchar")]
        return "\n".join((*_MAP_BEGINS, *lines, *_MAP_ENDS)).encode("ascii")


def make_subset(face: bytes, stem: str, letters: str) -> Subset:
    """The ``letters`` of a face, all of which it has; ``stem`` is what the face is called."""
    font = TTFont(io.BytesIO(face), lazy=True, recalcTimestamp=False)
    for tag in set(font.keys()) - {*_KEPT, _LETTERS, "GlyphOrder"}:
        del font[tag]
    cutter = subset.Subsetter(subset.Options(hinting=False, notdef_outline=True))
    cutter.populate(text=letters)
    cutter.subset(font)
    known = font.getBestCmap()
    names = [".notdef", *(known[ord(letter)] for letter in letters)]
    del font[_LETTERS]
    glyphs = b"".join(font.getGlyphID(name).to_bytes(2) for name in names)
    scale = _PER_MILLE / EM
    widths = [font["hmtx"][name][0] * scale for name in names]
    file = io.BytesIO()
    font.save(file, reorderTables=None)
    head = font["head"]
    box = [round(value * scale) for value in (head.xMin, head.yMin, head.xMax, head.yMax)]
    return Subset(letters, f"{_tag(letters)}+{stem}", file.getvalue(), glyphs, widths, {
        "Flags": _SYMBOLS, "FontBBox": box, "Ascent": box[3], "Descent": box[1],
        "CapHeight": round(CAP_EM * _PER_MILLE), "ItalicAngle": 0, "StemV": 0})


def _tag(letters: str) -> str:
    """Six capitals that are the letters' (ISO 32000-1, 9.6.4)."""
    number, tag = zlib.crc32(letters.encode()), ""
    for _ in range(6):
        number, place = divmod(number, 26)
        tag += chr(ord("A") + place)
    return tag
