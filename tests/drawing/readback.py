"""What stands in a written file, measured: lengths in mm, y up, from the page's lower left."""

from __future__ import annotations

import ctypes
import re
from collections.abc import Iterator
from xml.etree import ElementTree

import numpy as np
import pypdfium2
import pypdfium2.raw as pdfium
from numpy.typing import NDArray

from coper.arrays import Floats

TextBox = tuple[float, float, float, float]

MM_PER_POINT = 25.4 / 72  # ISO 32000-1, 8.3.2.3
_SVG = "{http://www.w3.org/2000/svg}"


def pdf_size(document: bytes, page: int = 0) -> tuple[float, float]:
    """Width and height of a page in mm."""
    with pypdfium2.PdfDocument(document) as opened:
        width, height = opened[page].get_size()
    return width * MM_PER_POINT, height * MM_PER_POINT


def pdf_paths(document: bytes, page: int = 0) -> list[Floats]:
    """All lines (n, 2) of a page in mm; a closed one ends with its first point."""
    with pypdfium2.PdfDocument(document) as opened:
        return [
            line
            for thing in _things(opened[page], pdfium.FPDF_PAGEOBJ_PATH)
            for line in _lines(thing)
        ]


def pdf_texts(document: bytes, page: int = 0) -> list[tuple[str, TextBox]]:
    """The words of a page, run by run, each with its box of ink: left, bottom, right, top, mm."""
    with pypdfium2.PdfDocument(document) as opened:
        sheet = opened[page]
        text_page = sheet.get_textpage()
        return [
            (_words(thing, text_page), _box(thing))
            for thing in _things(sheet, pdfium.FPDF_PAGEOBJ_TEXT)
        ]


def pdf_starts(document: bytes, page: int = 0) -> list[tuple[str, Floats]]:
    """The words of a page, run by run, each with the start (2,) of its baseline in mm."""
    with pypdfium2.PdfDocument(document) as opened:
        sheet = opened[page]
        text_page = sheet.get_textpage()
        return [
            (_words(thing, text_page), _matrix(thing)[4:] * MM_PER_POINT)
            for thing in _things(sheet, pdfium.FPDF_PAGEOBJ_TEXT)
        ]


def pdf_dark(document: bytes, page: int = 0, dpi: float = 300.0) -> NDArray[np.bool_]:
    """Which pixels (rows from the top, columns) of the page, drawn at ``dpi``, are dark."""
    with pypdfium2.PdfDocument(document) as opened:
        picture = opened[page].render(scale=dpi / 72, grayscale=True).to_numpy()
    return np.asarray(picture).reshape(picture.shape[:2]) < 128


def svg_paths(text: str) -> dict[str, Floats]:
    """The named lines of an SVG page in mm, y up; a closed one ends with its first point.

    A line that leaves gaps at lettering is in pieces: ``name``, ``name-2``, …
    """
    root = ElementTree.fromstring(text.encode())
    per_unit, height = _svg_scale(root)
    return {
        path.attrib["id"]: (
            _svg_points(path.attrib["d"]) * (1, -1) + (0, height)
        ) * per_unit
        for path in root.iter(f"{_SVG}path")
        if "id" in path.attrib
    }


def svg_texts(text: str) -> list[tuple[str, ElementTree.Element]]:
    """The words of an SVG page, each with its element."""
    root = ElementTree.fromstring(text.encode())
    return [(thing.text or "", thing) for thing in root.iter(f"{_SVG}text")]


def svg_size(text: str) -> tuple[float, float]:
    """Width and height of an SVG page in mm, as its root says them."""
    root = ElementTree.fromstring(text.encode())
    width, height = (root.attrib[side].removesuffix("mm") for side in ("width", "height"))
    return float(width), float(height)


def _svg_scale(root: ElementTree.Element) -> tuple[float, float]:
    """Millimetres to a unit of the view box, and the view box's height in units."""
    left, top, width, height = map(float, root.attrib["viewBox"].split())
    assert (left, top) == (0.0, 0.0)
    across = float(root.attrib["width"].removesuffix("mm")) / width
    along = float(root.attrib["height"].removesuffix("mm")) / height
    assert abs(across - along) < 1e-12
    return across, height


def _svg_points(line: str) -> Floats:
    """The points of a path of straight lines that is drawn in one go."""
    pairs = re.findall(r"[^MLZ ]+", line)
    points = np.array([tuple(map(float, pair.split(","))) for pair in pairs])
    return np.concatenate((points, points[:1])) if line.endswith("Z") else points


def _things(page: pypdfium2.PdfPage, kind: int) -> Iterator[ctypes.c_void_p]:
    """The objects of one kind on a page."""
    for index in range(pdfium.FPDFPage_CountObjects(page)):
        thing = pdfium.FPDFPage_GetObject(page, index)
        if pdfium.FPDFPageObj_GetType(thing) == kind:
            yield thing


def _matrix(thing: ctypes.c_void_p) -> Floats:
    """The six numbers of an object's transform."""
    matrix = pdfium.FS_MATRIX()
    assert pdfium.FPDFPageObj_GetMatrix(thing, matrix)
    return np.array((matrix.a, matrix.b, matrix.c, matrix.d, matrix.e, matrix.f))


def _lines(thing: ctypes.c_void_p) -> Iterator[Floats]:
    """The lines of a path object in mm."""
    a, b, c, d, e, f = _matrix(thing)
    x, y = ctypes.c_float(), ctypes.c_float()
    line: list[tuple[float, float]] = []
    for index in range(pdfium.FPDFPath_CountSegments(thing)):
        segment = pdfium.FPDFPath_GetPathSegment(thing, index)
        pdfium.FPDFPathSegment_GetPoint(segment, x, y)
        if pdfium.FPDFPathSegment_GetType(segment) == pdfium.FPDF_SEGMENT_MOVETO and line:
            yield np.array(line) * MM_PER_POINT
            line = []
        line.append((a * x.value + c * y.value + e, b * x.value + d * y.value + f))
        if pdfium.FPDFPathSegment_GetClose(segment) and line[0] != line[-1]:
            line.append(line[0])
    if line:
        yield np.array(line) * MM_PER_POINT


def _words(thing: ctypes.c_void_p, text_page: pypdfium2.PdfTextPage) -> str:
    """What a text object says, without blanks at its ends."""
    size = pdfium.FPDFTextObj_GetText(thing, text_page, None, 0)
    buffer = ctypes.create_string_buffer(size)
    pdfium.FPDFTextObj_GetText(
        thing, text_page, ctypes.cast(buffer, ctypes.POINTER(ctypes.c_ushort)), size
    )
    return buffer.raw.decode("utf-16-le").strip("\0 ")


def _box(thing: ctypes.c_void_p) -> TextBox:
    """Left, bottom, right, top of an object in mm."""
    sides = [ctypes.c_float() for _ in range(4)]
    assert pdfium.FPDFPageObj_GetBounds(thing, *sides)
    left, bottom, right, top = (side.value * MM_PER_POINT for side in sides)
    return left, bottom, right, top
