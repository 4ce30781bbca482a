"""A page as SVG: the only place that imports svgwrite, and the only one where y points down."""

from __future__ import annotations

import pathlib
import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from itertools import groupby, islice
from typing import Any, Final, TypeAlias

import numpy as np
import svgwrite
from numpy.typing import ArrayLike

from coper.arrays import Floats
from coper.drawing.bounds import REMEMBERED, leaves
from coper.drawing.hatch import hatch_strokes
from coper.drawing.letters import CAP_EM, MARK, text_width
from coper.drawing.marks import Group, Hatch, Mark, Path, Pen, Text
from coper.drawing.page import Page

Element: TypeAlias = Any
"""svgwrite says no types."""

_DECIMALS: Final = 4
"""Decimals of a mm in the file: a two-hundredth of the 0.02 mm that paper promises."""
DOWN: Final = np.array((1.0, -1.0))
"""What y pointing down makes of a point."""
_FACE: Final = "DejaVu Sans, Verdana, sans-serif"
_ANCHORS: Final = {"left": "start", "middle": "middle", "right": "end"}


def svg_text(page: Page) -> str:
    """A page as an SVG file, true to scale: one unit is 1 mm.

    Parameters
    ----------
    page
        The page.

    Returns
    -------
    str
        The file, to be written as UTF-8.

    Raises
    ------
    ValueError
        A number is not finite.
    """
    return _Writer(page).text()


@dataclass(frozen=True, slots=True)
class Dress:
    """What a named group is on a page in HTML besides its marks.

    Attributes
    ----------
    kind : str
        The class that the page's style knows it by; empty for none.
    to : str
        The address that it leads to; empty for none. Its lines then take a click beside them too.
    words : str
        What a reader of screens says of it, and a mouse that rests on it shows.
    """

    kind: str = ""
    to: str = ""
    words: str = ""


def svg_element(
    page: Page, dressed: Mapping[str, Dress] | None = None, within: str = "",
    scale: float | None = None,
) -> str:
    """A page as an element of a page in HTML: as large as its place there, with that one's style.

    Parameters
    ----------
    page
        The page.
    dressed
        What groups of it are there besides, by their names.
    within
        What the ids of its marks begin with, where several drawings are on one page.
    scale
        How many times its own size it is; as large as its place where ``None``.

    Raises
    ------
    ValueError
        A number is not finite.
    """
    return _Writer(page, dressed or {}, f"{within}-" if within else "").element(scale)


def svg_files(
    path: pathlib.Path, pages: Iterable[Page]
) -> Iterator[tuple[pathlib.Path, bytes]]:
    """Pages as SVG files: the first under the given name, the others as ``NAME-B.svg``, …"""
    for index, page in enumerate(pages):
        yield page_path(path, index, page.letter), svg_text(page).encode()


def page_path(path: pathlib.Path, index: int, letter: str) -> pathlib.Path:
    """The file of one page, counted from 0."""
    return path if index == 0 else path.with_name(f"{path.stem}-{letter}{path.suffix}")


def numbers(values: ArrayLike) -> list[str]:
    """Numbers as they stand in the file: rounded, never -0, never in powers of ten."""
    array = np.asarray(values, dtype=np.float64).ravel()
    if not np.isfinite(array).all():
        raise ValueError("a number for the SVG is not finite")
    return [f"{value:.12g}" for value in (np.round(array, _DECIMALS) + 0.0).tolist()]


@dataclass(slots=True)
class _Writer:
    """Marks of one page, added to one drawing."""

    page: Page
    dressed: Mapping[str, Dress] = field(default_factory=dict)
    within: str = ""
    drawing: Element = field(init=False)
    used: set[str] = field(default_factory=set)
    lines: dict[int, str] = field(default_factory=dict)
    together: bool = False

    def text(self) -> str:
        """The whole file.

        A browser prints a page without a size of its own on its paper's, inside its margins, and
        so smaller.
        """
        width, height = numbers((self.page.width, self.page.height))
        self._begin(f"{width}mm", f"{height}mm")
        self.drawing.embed_stylesheet(f"@page {{ size: {width}mm {height}mm; margin: 0 }}")
        self._fill()
        head = '<?xml version="1.0" encoding="utf-8"?>\n'
        return f"{head}{self.drawing.tostring()}\n"

    def element(self, scale: float | None) -> str:
        """The drawing alone; lines of a pen that follow each other are one where none has a name.

        A browser has fewer things to hold then, and nothing is to be had of each.
        """
        self.together = True
        if scale is None:
            self._begin("100%", "100%")
        else:
            width, height = numbers((self.page.width * scale, self.page.height * scale))
            self._begin(f"{width}mm", f"{height}mm")
        self._fill()
        return str(self.drawing.tostring())

    def _begin(self, wide: str, high: str) -> None:
        width, height = numbers((self.page.width, self.page.height))
        self.drawing = svgwrite.Drawing(
            size=(wide, high), viewBox=f"0 0 {width} {height}", debug=False
        )

    def _fill(self) -> None:
        body = self.drawing.g(fill="none", stroke="black", stroke_linejoin="round")
        self.drawing.add(body)
        self._write_lines([mark for mark in leaves(self.page.marks) if isinstance(mark, Path)])
        self.add(self.page.marks, body)

    def _write_lines(self, paths: Sequence[Path]) -> None:
        """The points of all paths as the file has them, at once: most of them have few."""
        places = iter(self.places(np.concatenate([np.empty((0, 2)), *(
            mark.points for mark in paths)])))
        for mark in paths:
            line = " ".join(islice(places, len(mark.points)))
            self.lines[id(mark)] = f"M{line}Z" if mark.closed else f"M{line}"

    def add(self, marks: Iterable[Mark], parent: Element) -> None:
        """Add marks below an element."""
        for run, some in groupby(marks, self._run):
            if run is not None:
                line = " ".join(self.lines[id(mark)] for mark in some)
                parent.add(self.drawing.path(line, **_stroke(run)))
                continue
            self._add(some, parent)

    def _run(self, mark: Mark) -> Pen | None:
        """What a mark has to have in common with the next to be one line with it, if it may be."""
        if self.together and isinstance(mark, Path) and not (mark.fill or mark.name):
            return mark.pen
        return None

    def _add(self, marks: Iterable[Mark], parent: Element) -> None:
        for mark in marks:
            match mark:
                case Group():
                    self.group(mark, parent)
                case Path():
                    parent.add(self.path(mark))
                case Text():
                    parent.add(self.words(mark))
                case Hatch():
                    parent.add(self.hatch(mark))

    def group(self, mark: Group, parent: Element) -> None:
        """A group below an element, with what it is on the page besides."""
        dress = self.dressed.get(mark.name, Dress())
        more = {"class_": dress.kind} if dress.kind else {}
        group = self.drawing.g(**self.named(mark.name), **more)
        if dress.words:
            group.set_desc(title=dress.words)
        if dress.to:
            link = self.drawing.a(dress.to, target="_self", debug=False)
            link["aria-label"] = dress.words
            parent.add(link)
            parent = link
            parent.add(self.reach(mark.marks))
        parent.add(group)
        self.add(mark.marks, group)

    def reach(self, marks: Iterable[Mark]) -> Element:
        """The lines of marks once more, for a finger that comes down beside them: never seen."""
        lines = [self.lines[id(mark)] for mark in leaves(marks) if isinstance(mark, Path)]
        group = self.drawing.g(class_="reach")
        if lines:
            group.add(self.drawing.path(" ".join(lines)))
        return group

    def path(self, mark: Path) -> Element:
        """An element for a path."""
        fill = {"fill": "black"} if mark.fill else {}
        return self.drawing.path(
            self.lines[id(mark)], **_stroke(mark.pen), **fill, **self.named(mark.name))

    def hatch(self, mark: Hatch) -> Element:
        """One element for all strokes of a hatch."""
        places = iter(self.places(hatch_strokes(mark).reshape(-1, 2)))
        line = " ".join(f"M{start} {end}" for start, end in zip(places, places, strict=True))
        return self.drawing.path(line or "M0,0", **_stroke(mark.pen))

    def words(self, mark: Text) -> Element:
        """An element for a text, held to its measured width whatever face the viewer has."""
        size, width, turn = _set(mark.words, mark.height, mark.bold, mark.turn)
        x, y = numbers((mark.at[0], self.page.height - mark.at[1]))
        more = {"font_weight": "bold"} if mark.bold else {}
        if mark.turn:
            more["transform"] = f"rotate({turn} {x} {y})"
        if mark.anchor != "left":
            more["text_anchor"] = _ANCHORS[mark.anchor]
        return self.drawing.text(
            _printable(mark.words), x=[x], y=[y], font_family=_FACE, font_size=size,
            textLength=width, lengthAdjust="spacingAndGlyphs", fill="black", stroke="none",
            **more, **self.named(mark.name),
        )

    def places(self, points: Floats) -> list[str]:
        """Points (n, 2) in mm as ``x,y`` with y down."""
        flat = iter(numbers(points * DOWN + (0.0, self.page.height)))
        return list(map(",".join, zip(flat, flat, strict=True)))

    def named(self, name: str) -> dict[str, str]:
        """The name as an id that no other element of the file has; nothing for no name."""
        if not name:
            return {}
        plain = re.sub(r"[^\w.-]+", "-", f"{self.within}{name}")
        plain = plain if plain[0].isalpha() else f"n{plain}"
        unique, count = plain, 1
        while unique in self.used:
            count += 1
            unique = f"{plain}-{count}"
        self.used.add(unique)
        return {"id": unique}


@lru_cache(maxsize=REMEMBERED)
def _set(words: str, height: float, bold: bool, turn: float) -> tuple[str, str, str]:
    """The size, the width and the turn of a text, which stay where it is moved."""
    size, width, turned = numbers((height / CAP_EM, text_width(words, height, bold), -turn))
    return size, width, turned


def _printable(words: str) -> str:
    """The words, with a mark for what no file of XML may hold; a viewer may have all else."""
    return "".join(letter if letter.isprintable() else MARK for letter in words)


@lru_cache(maxsize=64)
def _stroke(pen: Pen) -> Mapping[str, str]:
    """The attributes of a pen, of which there are few."""
    attributes = {"stroke_width": numbers(pen.width)[0]}
    if pen.dash:
        attributes["stroke_dasharray"] = ",".join(numbers(pen.dash))
    return attributes
