"""Pages as PDF: the only place that imports matplotlib."""

from __future__ import annotations

import io
import logging
import os
import re
import shutil
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path as FilePath
from typing import Any, Final

import numpy as np

from coper.arrays import Floats, Whole
from coper.drawing.bounds import leaves, text_start
from coper.drawing.hatch import hatch_strokes
from coper.drawing.letters import CAP_EM
from coper.drawing.marks import Hatch, Mark, Path, Pen, Text
from coper.drawing.page import Page
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
    from matplotlib.backends.backend_pdf import PdfPages
    from matplotlib.figure import Figure
    from matplotlib.font_manager import FontProperties
    from matplotlib.path import Path as Outline
    from matplotlib.text import Text as Words
    from matplotlib.transforms import Affine2D

_POINT: Final = 72 / INCH_MM
"""PDF points to a mm (ISO 32000-1, 8.3.2.3)."""
_DECIMALS: Final = 4
"""Decimals of a point in the file: 0.00004 mm; more only make it larger."""
PNG_DPI: Final = 150.0
"""Dots to the inch of a picture: lettering of 2.5 mm is then 15 dots high."""
_BLACK: Final = (0.0, 0.0, 0.0)
_SETTINGS: Final[dict[Any, Any]] = {
    "pdf.fonttype": 42,  # TrueType, so that words can be searched and copied
    "pdf.use14corefonts": False,
    "pdf.compression": 6,
    "path.sketch": None,
}
"""What a person's own matplotlib settings must not change."""


def pdf_bytes(pages: Iterable[Page], title: str) -> bytes:
    """Pages, at least one, as one PDF file; as :class:`Document` makes it."""
    document = Document(title)
    for page in pages:
        document.add(page)
    return document.content()


class Document:
    """A PDF file, true to scale, that asks viewers to print it without scaling.

    The pages are drawn one by one as they come and kept as they stand in the file. The same pages
    give the same bytes.
    """

    def __init__(self, title: str) -> None:
        self._buffer = io.BytesIO()
        self._pages: Any = PdfPages(self._buffer, metadata={
            "Title": title, "Creator": "coper", "CreationDate": None})

    def add(self, page: Page) -> None:
        """Draw one more page."""
        with mpl.rc_context(_SETTINGS):
            self._pages.savefig(_figure(page))

    def adding(self, pages: Iterable[Page]) -> Iterator[Page]:
        """The pages, each added as it is reached."""
        for page in pages:
            self.add(page)
            yield page

    def content(self) -> bytes:
        """The whole file; nothing can be added any more."""
        if not self._pages.get_pagecount():
            raise ValueError("no pages, so no PDF")
        with mpl.rc_context(_SETTINGS):
            self._pages.close()
        return _asking_true_scale(self._buffer.getvalue())


def png_bytes(page: Page, dpi: float = PNG_DPI) -> bytes:
    """A page as a PNG picture on white, ``dpi`` dots to the inch; for the screen, not to print."""
    buffer = io.BytesIO()
    figure = _figure(page)
    figure.set_frameon(True)
    with mpl.rc_context(_SETTINGS):
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
        self._faces = tuple(map(_face, ("DejaVuSans.ttf", "DejaVuSans-Bold.ttf")))
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
                    strokes = hatch_strokes(mark)
                    if len(strokes):
                        _draw_line(renderer, mark.pen, _strokes(strokes), False)
                case Text():
                    self._draw_words(renderer, mark)

    def _draw_words(self, renderer: RendererBase, mark: Text) -> None:
        """Write a text from the start of its baseline."""
        face = self._faces[mark.bold]
        face.set_size(mark.height / CAP_EM * _POINT)
        x, y = text_start(mark)
        context = renderer.new_gc()
        context.set_foreground(_BLACK, isRGBA=False)
        dot = _dot(renderer)
        down = renderer.get_canvas_width_height()[1] - y * dot if renderer.flipy() else y * dot
        renderer.draw_text(
            context, x * dot, down, mark.words, face, mark.turn, mtext=self._plain
        )
        context.restore()


def _face(file: str) -> FontProperties:
    """A face that matplotlib carries, by its file, so that no other one can stand in for it."""
    return FontProperties(fname=FilePath(mpl.get_data_path(), "fonts", "ttf", file))


def _outline(mark: Path) -> Outline:
    """A path for the renderer, all its points kept."""
    if not mark.closed:
        return _kept(mark.points)
    codes = np.full(len(mark.points) + 1, Outline.LINETO, dtype=np.int64)
    codes[0], codes[-1] = Outline.MOVETO, Outline.CLOSEPOLY
    return _kept(np.concatenate((mark.points, mark.points[:1])), codes)


def _strokes(strokes: Floats) -> Outline:
    """Separate strokes (k, 2, 2), mm, as one path for the renderer."""
    codes = np.tile(np.array((Outline.MOVETO, Outline.LINETO), dtype=np.int64), len(strokes))
    return _kept(strokes.reshape(-1, 2), codes)


def _kept(points: Floats, codes: Whole | None = None) -> Outline:
    """A path through points (n, 2), mm, in points of the file, set to leave none of them out.

    Leaving out, the default, may move a line by 0.04 mm.
    """
    outline = Outline(np.round(points * _POINT, _DECIMALS), codes)
    outline.should_simplify = False
    return outline


def _draw_line(renderer: RendererBase, pen: Pen, outline: Outline, fill: bool) -> None:
    """Draw one path with a pen."""
    context: GraphicsContextBase = renderer.new_gc()
    context.set_foreground(_BLACK, isRGBA=False)
    context.set_linewidth(pen.width * _POINT)
    context.set_joinstyle("round")
    context.set_capstyle("butt")
    if pen.dash:
        context.set_dashes(0, [length * _POINT for length in pen.dash])
    renderer.draw_path(context, outline, Affine2D().scale(_dot(renderer) / _POINT),
                       _BLACK if fill else None)
    context.restore()


def _dot(renderer: RendererBase) -> float:
    """What the renderer counts in, to a mm: points for a PDF, dots for a picture."""
    return float(np.real(renderer.points_to_pixels(_POINT)))


def _asking_true_scale(document: bytes) -> bytes:
    """The document, with a catalogue that asks for no scaling.

    matplotlib has no way to say it, so a new version of the catalogue is added at the end, as an
    incremental update (ISO 32000-1, 7.5.6). ``PrintScaling`` is of PDF 1.6 (table 150), and
    ``Version`` in the catalogue lifts the document to it (table 28).
    """
    trailer = document[document.rindex(b"trailer"):]
    root = _found(rb"/Root (\d+) 0 R", trailer)
    before = _found(rb"startxref\s+(\d+)", trailer)
    catalogue = _found(rb"\n%b 0 obj\s*<<(.*?)>>\s*endobj" % root, document)
    start = len(document)
    new = (
        b"%b 0 obj\n<<%b /Version /1.6 /ViewerPreferences << /PrintScaling /None >> >>\nendobj\n"
        % (root, catalogue)
    )
    entries = _found(rb"<<(.*)>>", trailer)
    return b"".join((
        document, new,
        b"xref\n%b 1\n%010d 00000 n \n" % (root, start),
        b"trailer\n<<%b /Prev %b >>\n" % (entries, before),
        b"startxref\n%d\n%%%%EOF\n" % (start + len(new)),
    ))


def _found(pattern: bytes, document: bytes) -> bytes:
    """What stands in a part of the document that every PDF file has."""
    match = re.search(pattern, document, re.DOTALL)
    if match is None:
        raise RuntimeError(f"the PDF writer gave no {pattern!r}")
    return match[1]
