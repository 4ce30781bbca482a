"""Pages as PDF, and one as a picture: the only place that imports matplotlib."""

from __future__ import annotations

import io
import logging
import os
import shutil
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path as FilePath
from threading import Lock
from typing import Any, Final, TypeAlias

import numpy as np

from coper.arrays import Floats, Whole
from coper.drawing.bounds import leaves, text_start
from coper.drawing.content import POINT, Lettering, face_name, page_content
from coper.drawing.hatch import hatch_strokes
from coper.drawing.letters import CAP_EM, drawable
from coper.drawing.marks import Hatch, Mark, Path, Pen, Text
from coper.drawing.outlines import outlines, page_labels
from coper.drawing.page import Page
from coper.drawing.subset import make_subset
from coper.errors import FileError
from coper.units import INCH_MM

_OWN_PLACE: Final = "MPLCONFIGDIR"
"""Where matplotlib may keep its list of faces; it writes its choice there if it has to make one."""


@contextmanager
def _quietly() -> Iterator[None]:
    """Load matplotlib without its remarks, and without what it leaves behind.

    Where it may write neither at home nor where it is sent, it makes a folder among the temporary
    ones, says so, and takes it away only if Python shuts down in order.

    Raises
    ------
    FileError
        It can write nowhere, or a person's settings for it cannot be read.
    """
    log, before = logging.getLogger("matplotlib"), os.environ.get(_OWN_PLACE)
    level = log.level
    log.setLevel(logging.CRITICAL)
    try:
        yield
    except OSError as fault:
        raise FileError("matplotlib, which draws it, has no folder for its list of faces",
                        f"set {_OWN_PLACE} to a folder that can be written to",
                        "a PDF or a picture") from fault
    except ValueError as fault:
        raise FileError("the settings of matplotlib, which draws it, cannot be read",
                        "mend its file matplotlibrc, or take it away",
                        "a PDF or a picture") from fault
    finally:
        log.setLevel(level)
        made = os.environ.get(_OWN_PLACE)
        if made is not None and made != before:
            shutil.rmtree(made, ignore_errors=True)
            del os.environ[_OWN_PLACE]
            if before is not None:
                os.environ[_OWN_PLACE] = before


with _quietly():
    import matplotlib as mpl
    from matplotlib.artist import Artist
    from matplotlib.backend_bases import GraphicsContextBase, RendererBase
    from matplotlib.backends import backend_pdf
    from matplotlib.figure import Figure
    from matplotlib.font_manager import FontProperties
    from matplotlib.path import Path as Outline
    from matplotlib.text import Text as Words
    from matplotlib.transforms import Affine2D

Thing: TypeAlias = Any
"""An object of a PDF file; matplotlib says no types of its writer."""
_PdfFile: Thing = backend_pdf.PdfFile
_Name: Thing = backend_pdf.Name

PNG_DPI: Final = 150.0
"""Dots to the inch of a picture: lettering of 2.5 mm is then 15 dots high."""
_BLACK: Final = (0.0, 0.0, 0.0)
_SETTINGS: Final[dict[Any, Any]] = {"pdf.compression": 9, "path.sketch": None}
"""What a person's own matplotlib settings must not change."""
_SETTING: Final = Lock()
"""Held while they are set: they are those of all threads."""


def pdf_bytes(pages: Iterable[Page], title: str) -> bytes:
    """Pages, at least one, as one PDF file; as :class:`Document` makes it."""
    document = Document(title)
    for page in pages:
        document.add(page)
    return document.content()


class Document:
    """A PDF file, true to scale, that asks viewers to print it without scaling, on one side.

    ``Duplex``, which asks for that, is of PDF 1.7 (ISO 32000-1, table 150): templates printed on
    both sides of a sheet destroy each other.

    The pages are drawn one by one as they come and kept as they stand in the file. The same pages
    give the same bytes. Objects, streams and their table are matplotlib's; it would measure and
    kern every word again, so pages and faces are handed to it ready.
    """

    def __init__(self, title: str) -> None:
        self._buffer = io.BytesIO()
        self._file: Thing = _PdfFile(self._buffer, metadata={
            "Title": title, "Creator": "coper", "CreationDate": None})
        self._resources = self._file.reserveObject("resources of every page")
        self._lettering = Lettering()
        self._pages: list[tuple[Page, Thing]] = []

    def add(self, page: Page) -> None:
        """Draw one more page."""
        write, reserve = self._file.writeObject, self._file.reserveObject
        drawn, content = reserve("page"), reserve("content of a page")
        box = [0, 0, page.width * POINT, page.height * POINT]
        write(drawn, {
            "Type": _Name("Page"), "Parent": self._file.pagesObject, "Resources": self._resources,
            "MediaBox": box, "CropBox": box, "Contents": content})
        self._stream(content, page_content(page.marks, self._lettering))
        self._file.pageList.append(drawn)
        self._pages.append((page, drawn))

    def adding(self, pages: Iterable[Page]) -> Iterator[Page]:
        """The pages, each added as it is reached."""
        for page in pages:
            self.add(page)
            yield page

    def content(self) -> bytes:
        """The whole file; nothing can be added any more."""
        if not self._pages:
            raise ValueError("no pages, so no PDF")
        write = self._file.writeObject
        write(self._resources, {"Font": {
            face_name(bold): self._face(bold) for bold in (False, True)
            if self._lettering.used[bold]}})
        write(self._file.rootObject, {  # in place of the one it began with
            "Type": _Name("Catalog"), "Version": _Name("1.7"), "Pages": self._file.pagesObject,
            "ViewerPreferences": {"PrintScaling": _Name("None"), "Duplex": _Name("Simplex")},
            **self._listed()})
        self._file.finalize()
        self._file.close()
        return self._buffer.getvalue()

    def _listed(self) -> dict[str, Thing]:
        """How viewers name the pages, and the sheets that begin on them."""
        labels = page_labels([page.letter for page, _ in self._pages])
        opening = [(title, [drawn, _Name("Fit")])
                   for page, drawn in self._pages for title in page.opens]
        if not opening:
            return {"PageLabels": labels}
        root, *items = [self._file.reserveObject("a line of the outlines")
                        for _ in range(len(opening) + 1)]
        for at, entries in outlines(root, items, opening):
            self._file.writeObject(at, entries)
        return {"PageLabels": labels, "Outlines": root}

    def _face(self, bold: bool) -> Thing:
        """A face with the letters that were used, numbered as the pages have them."""
        used = self._lettering.used[bold]
        face = _face_file(bold)
        subset = make_subset(face.read_bytes(), face.stem, "".join(used))
        name = _Name(subset.name)
        reserve, write = self._file.reserveObject, self._file.writeObject
        drawn, parts, about, outlines, glyphs, letters = map(reserve, (
            "face", "parts of a face", "measures of a face", "file of a face", "its glyphs",
            "its letters"))
        write(drawn, {
            "Type": _Name("Font"), "Subtype": _Name("Type0"), "BaseFont": name,
            "Encoding": _Name("Identity-H"), "DescendantFonts": [parts], "ToUnicode": letters})
        write(parts, {
            "Type": _Name("Font"), "Subtype": _Name("CIDFontType2"), "BaseFont": name,
            "CIDSystemInfo": {"Registry": "Adobe", "Ordering": "Identity", "Supplement": 0},
            "FontDescriptor": about, "CIDToGIDMap": glyphs, "W": [0, subset.widths]})
        write(about, {
            "Type": _Name("FontDescriptor"), "FontName": name, **subset.measures,
            "FontFile2": outlines})
        self._stream(outlines, subset.file, {"Length1": len(subset.file)})
        self._stream(glyphs, subset.glyphs)
        self._stream(letters, subset.letters_map())
        return drawn

    def _stream(self, where: Thing, data: bytes, more: dict[str, Any] | None = None) -> None:
        with _SETTING, mpl.rc_context(_SETTINGS):
            self._file.outputStream(where, data, extra=more)


def _face_file(bold: bool) -> FilePath:
    """A face that matplotlib carries, by its file, so that no other one can stand in for it."""
    return FilePath(mpl.get_data_path(), "fonts", "ttf", f"DejaVuSans{'-Bold' if bold else ''}.ttf")


def png_bytes(page: Page, dpi: float = PNG_DPI) -> bytes:
    """A page as a PNG picture on white, ``dpi`` dots to the inch; for the screen, not to print."""
    buffer = io.BytesIO()
    figure = _figure(page)
    figure.set_frameon(True)
    with _SETTING, mpl.rc_context(_SETTINGS):
        figure.savefig(buffer, format="png", dpi=dpi, facecolor="white",
                       metadata={"Software": None})
    return buffer.getvalue()


def _figure(page: Page) -> Figure:
    """A figure of exactly the page's size, with nothing on it but the page's marks."""
    figure = Figure(figsize=(page.width / INCH_MM, page.height / INCH_MM), frameon=False)
    figure.add_artist(_Drawing(page.marks))
    return figure


class _Drawing(Artist):
    """All marks of a page as one thing that matplotlib draws.

    Handing paths and words to the renderer directly keeps every point: no clipping, no snapping,
    no simplified lines, and no ``$`` that would begin a formula.
    """

    def __init__(self, marks: Sequence[Mark]) -> None:
        super().__init__()
        self._marks = marks
        self._faces = tuple(FontProperties(fname=_face_file(bold)) for bold in (False, True))
        self._plain = Words()
        if hasattr(self._plain, "set_fontfeatures"):  # matplotlib 3.11: kerning and ligatures off,
            self._plain.set_fontfeatures(("-kern", "-liga"))  # so that widths are as measured

    def draw(self, renderer: RendererBase) -> None:
        """Draw the marks in their order."""
        for mark in leaves(self._marks):
            match mark:
                case Path():
                    _draw_line(renderer, mark.pen, _outline(mark), mark.fill)
                case Hatch():
                    for stroke in hatch_strokes(mark):
                        _draw_line(renderer, mark.pen, _kept(stroke), False)
                case Text():
                    self._draw_words(renderer, mark)

    def _draw_words(self, renderer: RendererBase, mark: Text) -> None:
        """Write a text from the start of its baseline."""
        face = self._faces[mark.bold]
        face.set_size(mark.height / CAP_EM * POINT)
        x, y = text_start(mark)
        context = renderer.new_gc()
        context.set_foreground(_BLACK, isRGBA=False)
        dot = _dot(renderer)
        down = renderer.get_canvas_width_height()[1] - y * dot if renderer.flipy() else y * dot
        renderer.draw_text(
            context, x * dot, down, drawable(mark.words), face, mark.turn, mtext=self._plain
        )
        context.restore()


def _outline(mark: Path) -> Outline:
    """A path for the renderer, all its points kept."""
    if not mark.closed:
        return _kept(mark.points)
    codes = np.full(len(mark.points) + 1, Outline.LINETO, dtype=np.int64)
    codes[0], codes[-1] = Outline.MOVETO, Outline.CLOSEPOLY
    return _kept(np.concatenate((mark.points, mark.points[:1])), codes)


def _kept(points: Floats, codes: Whole | None = None) -> Outline:
    """A path through points (n, 2), mm, in points of the file, set to leave none of them out.

    Leaving out, the default, may move a line by 0.04 mm.
    """
    outline = Outline(points * POINT, codes)
    outline.should_simplify = False
    return outline


def _draw_line(renderer: RendererBase, pen: Pen, outline: Outline, fill: bool) -> None:
    """Draw one path with a pen."""
    context: GraphicsContextBase = renderer.new_gc()
    context.set_foreground(_BLACK, isRGBA=False)
    context.set_linewidth(pen.width * POINT)
    context.set_joinstyle("round")
    context.set_capstyle("butt")
    if pen.dash:
        context.set_dashes(0, [length * POINT for length in pen.dash])
    renderer.draw_path(context, outline, Affine2D().scale(_dot(renderer) / POINT),
                       _BLACK if fill else None)
    context.restore()


def _dot(renderer: RendererBase) -> float:
    """What the renderer counts in, to a mm: points for a PDF, dots for a picture."""
    return float(np.real(renderer.points_to_pixels(POINT)))
